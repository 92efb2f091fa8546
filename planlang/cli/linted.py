"""Files checked, by this process, by several at once, or by a cluster; the findings of all lie on disk meanwhile."""

from __future__ import annotations

import sys
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path

from attrs import field

from planlang.checking.batch import Batch, Summary, check_batch, check_lines, check_names
from planlang.checking.beside import shared_codes
from planlang.checking.check import Checked
from planlang.checking.clinic import Clinic
from planlang.checking.file import Run, check_file, check_text, is_person
from planlang.checking.own import OWN
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook
from planlang.checking.shard import Judged, read_lines, read_shard
from planlang.cli.files import Group
from planlang.report.result import Result, RuleInfo
from planlang.text.data import define, frozen
from planlang.text.finding import Finding
from planlang.text.load import load_standard_input
from planlang.text.source import Source

BATCH = 200
"""Files a process is given at once, at most."""
ROUNDS = 16
"""Batches a process is given in all, at least, where there are files enough: so that both end at about one time."""


@frozen
class Call:
    """What a run was asked for. `clinic`: the file to use instead of the nearest one; `packs`: further packs."""

    today: date | None = None
    clinic: Path | None = None
    packs: tuple[Path, ...] = ()
    stdin_name: str = "-"

    def run(self, given: str | None = None) -> Run:
        """A run of it over the files of a folder that was named."""
        return Run(self.today, self.clinic, self.packs, Path(given) if given else None)

    def batch(self, names: Sequence[str], shard: Path, given: str | None) -> Batch:
        """Some of them, to be checked by whom it may be."""
        clinic = str(self.clinic) if self.clinic else None
        return Batch(tuple(names), str(shard), self.today, clinic, tuple(map(str, self.packs)), given)


@frozen
class Linted:
    """One file: its findings; the rules that ran (none where it holds no plan), weren't judged, or are off and why."""

    result: Result
    rules: tuple[str, ...] = ()
    not_judged: tuple[str, ...] = ()
    off: dict[str, str] = field(factory=dict)


def book_for(name: str, call: Call) -> tuple[Rulebook, Clinic | None]:
    """The rules for a file: of the clinic's file named in the call, else of the nearest one above. Raises RuleFault."""
    return call.run().book(Path(name))


def lint_file(name: str, call: Call) -> Linted:
    """One file checked; `-` is standard input. Raises RuleFault where its rules are wrong."""
    run = call.run()
    if name != "-":
        return _linted(name, check_file(Path(name), run), run)
    source = load_standard_input(call.stdin_name)
    if isinstance(source, Finding):
        nothing = Checked(source.source or Source(call.stdin_name, ""), None, None, (source,))
        return _linted(call.stdin_name, nothing, run)
    return _linted(call.stdin_name, check_text(source, run), run)


def _linted(name: str, checked: Checked, run: Run) -> Linted:
    result = Result(name, checked.source, checked.findings, is_person(checked))
    return Linted(result, checked.rules, checked.not_judged, run.book(Path(name))[0].off())


@define(eq=False)
class Shards(Collection[Result]):
    """The findings of a run, read from its shards each time that somebody goes over them."""

    shards: list[str]
    files: int
    read: Callable[[str], Iterable[Judged]] = lambda shard: read_shard(Path(shard))

    def __len__(self) -> int:
        return self.files

    def __iter__(self) -> Iterator[Result]:
        for shard in self.shards:
            for one in self.read(shard):
                yield Result(one.name, Source(one.name, ""), one.findings, one.person)

    def __contains__(self, one: object) -> bool:
        return any(one == other for other in self)


def lint_here(groups: Iterable[Group], call: Call, seen: Callable[[], object]) -> tuple[Summary, Shards]:
    """A few files, by this process and without a file of findings. Raises RuleFault where their rules are wrong."""
    lines: list[str] = []
    total = Summary("")
    for group in groups:
        total = total.plus(check_lines(group.names, lines.append, call.run(group.given), seen))
    return total, Shards([""], total.files, lambda _: read_lines(lines))


def lint_all(
    groups: Iterable[Group], call: Call, folder: Path, jobs: int = 1, seen: Callable[..., object] = lambda done=1: None
) -> Iterator[Summary]:
    """Every file, in the order given, by so many processes; shards are written into a folder."""
    groups = list(groups)
    if jobs <= 1 or sum(len(group.names) for group in groups) < 2:
        for number, group in enumerate(groups):
            yield check_names(group.names, str(folder / f"{number:08}.jsonl"), call.run(group.given), seen)
        return
    yield from _by_processes(batches(groups, call, folder, jobs), jobs, seen)


def _by_processes(made: list[Batch], jobs: int, seen: Callable[..., object]) -> Iterator[Summary]:
    import multiprocessing
    import threading
    from concurrent.futures import ProcessPoolExecutor

    # What this process has read and built is there in a process that is forked from it, which a thread may forbid.
    forks = sys.platform == "linux" and threading.active_count() == 1
    context = multiprocessing.get_context("fork" if forks else None)
    pool = ProcessPoolExecutor(min(jobs, len(made)), mp_context=context)
    try:
        for batch, summary in zip(made, pool.map(check_batch, made), strict=True):
            seen(len(batch.names))
            yield summary
    finally:
        pool.shutdown(cancel_futures=True)


def batches(groups: Iterable[Group], call: Call, folder: Path, workers: int, most: int = BATCH) -> list[Batch]:
    """The files in batches of about one size, each of one folder's library; shards are written into `folder`."""
    groups = list(groups)
    count = sum(len(group.names) for group in groups)
    size = max(1, min(most, count // (workers * ROUNDS)))
    made: list[Batch] = []
    for group in groups:
        for start in range(0, len(group.names), size):
            shard = folder / f"{len(made):08}.jsonl"
            made.append(call.batch(group.names[start : start + size], shard, group.given))
    return _knowing(made)


def _knowing(made: list[Batch]) -> list[Batch]:
    """The same batches, told what is shared in the folders that several of them have files of."""
    from attrs import evolve

    of = [{str(Path(name).parent) for name in batch.names} for batch in made]
    often: dict[str, int] = {}
    for folders in of:
        for folder in folders:
            often[folder] = often.get(folder, 0) + 1
    shared: dict[str, dict[str, tuple[str, ...]]] = {}
    for folder, times in often.items():
        if times > 1:
            try:
                shared[folder] = shared_codes(Path(folder))
            except OSError:
                continue
    return [
        evolve(batch, codes={folder: shared[folder] for folder in sorted(folders) if folder in shared})
        for batch, folders in zip(made, of, strict=True)
    ]


def books(groups: Iterable[Group], call: Call) -> list[Rulebook]:
    """The rulebooks of a run, each once. Raises RuleFault where one is wrong: nothing is checked past that."""
    found: dict[int, Rulebook] = {}
    for group in groups:
        run = call.run(group.given)
        for parent in dict.fromkeys(str(Path(name).parent) for name in group.names):
            book = run.book(Path(parent, "any.plan"))[0]
            found[id(book)] = book
    return list(found.values())


def infos(rules: Iterable[Rule]) -> dict[str, RuleInfo]:
    """What a report says of each rule, and of the engine's own findings."""
    own = {o.name: RuleInfo(o.title, o.why, o.level) for o in OWN.values()}
    return own | {r.name: RuleInfo(r.title, r.why, r.level, r.source_lines()) for r in rules}
