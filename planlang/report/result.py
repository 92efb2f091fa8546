"""What a run of the checks came to, as every report format takes it."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from pathlib import Path, PurePath

from attrs import field

from planlang.text.data import frozen
from planlang.text.finding import ORDER, Finding, Level
from planlang.text.source import Place, Source

FAILING = frozenset({Level.UNSAFE, Level.UNREALISTIC})

ENGINE_TITLES = {
    "unreadable": "A line, or the file, can't be read",
    "contradiction": "Two things are said that can't both hold",
    "unreckonable": "Something is said that can't be reckoned",
}


@frozen
class Result:
    """One file's findings. `person`: it is a person's file (it says `for`), so its text stays here."""

    name: str
    source: Source | None
    findings: tuple[Finding, ...]
    person: bool = False


@frozen
class RuleInfo:
    """What a report says of a rule itself: nothing in it comes from a plan."""

    title: str
    why: str = ""
    level: Level = Level.ADVICE
    sources: tuple[str, ...] = ()


@frozen
class Options:
    """How to report.

    `rules`: how many rules ran. `not_judged`: rules kept from being judged by an unreadable line or a
    file not found. `off`: rules switched off, each with its reason. `infos`: what is known of each rule.
    `failing`: levels that make the run fail. `quote`: formats that leave the house may quote a person's file.
    `root`: file names are shown relative to it. `width`: columns of the text format; None: no limit.
    """

    version: str
    rules: int = 0
    not_judged: tuple[str, ...] = ()
    off: Mapping[str, str] = field(factory=dict)
    infos: Mapping[str, RuleInfo] = field(factory=dict)
    failing: frozenset[Level] = FAILING
    quote: bool = False
    colour: bool = False
    width: int | None = 80
    root: str | None = None

    def title(self, rule: str) -> str:
        """The rule's own title, or its name where it has none."""
        info = self.infos.get(rule)
        return info.title if info else ENGINE_TITLES.get(rule, rule.replace("-", " "))


@frozen
class Shown:
    """A finding with the file and the place at which it is shown."""

    finding: Finding
    result: Result
    file: str
    place: Place | None

    @property
    def source(self) -> Source | None:
        """Where the finding's words stand."""
        return self.finding.source or self.result.source


def fails(finding: Finding, failing: frozenset[Level]) -> bool:
    """Whether a finding makes the run fail: not when waived, and always when something can't be read."""
    if finding.waived is not None:
        return False
    return finding.rule == "unreadable" or finding.level in failing


def shown(results: Iterable[Result]) -> Iterator[Shown]:
    """All findings, file by file in the order given, each file's by place; those without a place come first."""
    for result in results:
        found = []
        for finding in result.findings:
            source = finding.source or result.source
            place = source.place(finding.span) if source and finding.span else None
            found.append(Shown(finding, result, source.name if source else result.name, place))
        found.sort(key=_by_place)
        yield from found


def _by_place(one: Shown) -> tuple[bool, int, int, int, str]:
    place = one.place
    own = one.file == one.result.name
    return not own, place.line if place else 0, place.column if place else 0, ORDER[one.finding.level], one.finding.rule


def counts(results: Iterable[Result]) -> Counter[str]:
    """How many findings of each level, and how many `waived`."""
    found: Counter[str] = Counter()
    for result in results:
        for finding in result.findings:
            found["waived" if finding.waived else finding.level.value] += 1
    return found


NOT_UNDERSTOOD = "Free text is not understood."
CAUTION = f"No finding does not mean safe. {NOT_UNDERSTOOD}"


def closing(results: Collection[Result], options: Options) -> str:
    """What ran, was switched off and was waived, by number, and no more than that."""
    found = counts(results)
    ran = f"{_many(options.rules, 'rule')} ran on {_many(len(results), 'file')}"
    levels = [f"{found[level.value]} {level.value}" for level in Level if found[level.value]]
    if levels:
        said = [f"{ran}: {', '.join(levels)}."]
    else:
        none = "none flagged beside what is waived" if found["waived"] else "none flagged"
        which = "the" if len(results) == 1 else "any"
        said = [f"{ran}, {none}; that is not a statement that {which} plan is safe."]
    off = f"{len(options.off)} switched off ({', '.join(sorted(options.off))})" if options.off else "None switched off"
    said.append(f"{off}, {found['waived'] or 'none'} waived.")
    if options.not_judged:
        said.append(
            f"Not judged, because a line can't be read or a file wasn't found: {', '.join(options.not_judged)}."
        )
    return " ".join([*said, CAUTION if levels else NOT_UNDERSTOOD])


def _many(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"


def relative(name: str, root: str | None) -> str:
    """A file's name with slashes, relative to `root` where it can be."""
    if root is not None and Path(name).is_absolute():
        try:
            name = os.path.relpath(name, root)
        except ValueError:  # another drive
            return PurePath(name).as_posix()
    return PurePath(name).as_posix()
