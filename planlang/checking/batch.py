"""A batch of files checked: one function that any engine can map, from names to a small summary and a shard.

What it keeps between calls is a function of what the files hold, and it writes nothing but the shard, beside and then
renamed: a batch that is done twice, or half and then again elsewhere, leaves what it would have left.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from datetime import date
from pathlib import Path

from attrs import evolve, field

from planlang.checking.beside import Folders
from planlang.checking.check import Checked
from planlang.checking.fault import RuleFault
from planlang.checking.file import SETTINGS, Run, check_file, is_person
from planlang.checking.shard import line_of
from planlang.text.data import define, frozen
from planlang.text.finding import Finding, Level, unreadable
from planlang.text.source import Source


@frozen
class Batch:
    """Files to check, and where their findings go.

    `names`: paths as findings are to call them; `shard`: the file that is written. `clinic`: the clinic's file to use
    instead of the nearest; `packs`: further packs; `given`: the folder that was named. `codes`: by folder, the files
    that share a code with another, where somebody has looked already. `within`: the folder that names are seen from.
    """

    names: tuple[str, ...]
    shard: str
    today: date | None = None
    clinic: str | None = None
    packs: tuple[str, ...] = ()
    given: str | None = None
    codes: Mapping[str, Mapping[str, tuple[str, ...]]] = field(factory=dict)
    within: str = ""


@frozen
class Summary:
    """What a batch came to, small enough to send by the million.

    `found`: findings that no waiver takes, by level; `waived`: those that one does; `unreadable`: those that always
    count. `rules`: names of those that ran; `not_judged`; `off`: switched off, each with its reason. `failed`: files
    on which planlang itself failed; their shard says so too. `fault`: what is wrong with a clinic's file or a rule;
    then nothing was checked.
    """

    shard: str
    files: int = 0
    found: Mapping[str, int] = field(factory=dict)
    waived: int = 0
    unreadable: int = 0
    rules: frozenset[str] = frozenset()
    not_judged: frozenset[str] = frozenset()
    off: Mapping[str, str] = field(factory=dict)
    failed: tuple[str, ...] = ()
    fault: str = ""

    def fails(self, failing: frozenset[Level]) -> bool:
        """Whether something was found at these levels, or can't be read."""
        return bool(self.unreadable) or any(self.found.get(level.value) for level in failing)

    def of(self, shard: str) -> Summary:
        """The same, of what lies in a shard."""
        return evolve(self, shard=shard)

    def plus(self, other: Summary) -> Summary:
        """Both together; the shard is the first one's."""
        return Summary(
            self.shard,
            self.files + other.files,
            dict(Counter(self.found) + Counter(other.found)),
            self.waived + other.waived,
            self.unreadable + other.unreadable,
            self.rules | other.rules,
            self.not_judged | other.not_judged,
            {**self.off, **other.off},
            self.failed + other.failed,
            self.fault or other.fault,
        )


def run_of(batch: Batch) -> Run:
    """The run that a batch belongs to, with what has been looked up already."""
    return Run(
        batch.today,
        Path(batch.clinic) if batch.clinic else None,
        tuple(map(Path, batch.packs)),
        Path(batch.given) if batch.given else None,
        Folders.knowing(batch.codes),
    )


def check_batch(batch: Batch) -> Summary:
    """Checks every file of a batch, writes their shard and sums up. Pure but for that file, and picklable.

    A file that can't be read, and even one on which planlang itself fails, is a finding in the shard and stops nothing.
    A fault of the clinic's file or of a rule stops the batch: nothing is checked past it.
    """
    if not batch.within:
        return check_names(batch.names, batch.shard, run_of(batch))
    base = str(Path(batch.within)) + os.sep
    names = [os.path.normpath(os.path.join(base, name)) for name in batch.names]  # noqa: PTH118
    return check_names(names, batch.shard, run_of(batch), called=lambda name: name.removeprefix(base))


def check_names(
    names: Iterable[str],
    shard: str,
    run: Run,
    seen: Callable[[], object] = lambda: None,
    called: Callable[[str], str] = str,
) -> Summary:
    """The same for names as they come, with a run that may go on.

    `seen` is called after each file; `called` gives what a file at a path is called.
    """
    try:
        with written(Path(shard)) as write:
            return check_lines(names, write, run, seen, called).of(shard)
    except RuleFault as fault:
        return Summary(shard, fault=str(fault))


def check_lines(
    names: Iterable[str],
    write: Callable[[str], object],
    run: Run,
    seen: Callable[[], object] = lambda: None,
    called: Callable[[str], str] = str,
) -> Summary:
    """The same, each line of the shard given to `write`. Raises RuleFault where the rules are wrong."""
    total = _Total(called)
    for name in names:
        line = total.add(name, run)
        if line:
            write(line)
        seen()
    return total.summary("")


@define
class _Total:
    """What a batch comes to, file by file."""

    called: Callable[[str], str]
    files: int = 0
    found: Counter[str] = field(factory=Counter)
    waived: int = 0
    unreadable: int = 0
    rules: set[str] = field(factory=set)
    not_judged: set[str] = field(factory=set)
    off: dict[str, str] = field(factory=dict)
    failed: list[str] = field(factory=list)
    last: object = None

    def add(self, name: str, run: Run) -> str:
        """Checks one more file; its line of the shard, empty for settings in which nothing was found."""
        path = Path(name)
        checked = self._checked(path, run)
        book = run.book(path)[0]
        if book is not self.last:
            self.last = book
            self.off |= book.off()
        if path.suffix in SETTINGS and not checked.findings:
            return ""
        self.files += 1
        self.rules.update(checked.rules)
        self.not_judged.update(checked.not_judged)
        for finding in checked.findings:
            if finding.waived:
                self.waived += 1
            else:
                self.found[finding.level.value] += 1
                self.unreadable += finding.rule == "unreadable"
        return line_of(name, is_person(checked), checked.source, checked.findings, self.called)

    def _checked(self, path: Path, run: Run) -> Checked:
        try:
            return check_file(path, run)
        except RuleFault:
            raise
        except Exception as e:
            if os.environ.get("PLANLANG_DEBUG"):
                raise
            self.failed.append(self.called(str(path)))
            return _failed(path, e)

    def summary(self, shard: str) -> Summary:
        return Summary(
            shard,
            self.files,
            dict(self.found),
            self.waived,
            self.unreadable,
            frozenset(self.rules),
            frozenset(self.not_judged),
            self.off,
            tuple(self.failed),
        )


def _failed(path: Path, e: Exception) -> Checked:
    source = Source(str(path), "")
    said = str(e).strip().splitlines()
    what = f"{type(e).__name__}: {said[0][:200]}" if said else type(e).__name__
    finding: Finding = unreadable(
        f"planlang itself failed on this file ({what}), so it was not checked",
        None,
        source,
        "This is a fault of the program, not of the file: run planlang --debug lint on it and report what it prints.",
    )
    return Checked(source, None, None, (finding,))


class written:  # noqa: N801 - read as a verb: with written(path) as write
    """Writes lines beside a file and puts them in its place at the end; after a fault the file is as it was."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def __enter__(self) -> Callable[[str], object]:
        import tempfile  # not needed where no shard is written, which is most often

        number, self.beside = tempfile.mkstemp(dir=self.path.parent, prefix=f".{self.path.name}.")
        self.file = os.fdopen(number, "w", encoding="utf-8", newline="\n")
        return self.file.write

    def __exit__(self, kind: object, *_: object) -> None:
        self.file.close()
        if kind is None:
            Path(self.beside).replace(self.path)
            return
        with suppress(OSError):
            Path(self.beside).unlink()
