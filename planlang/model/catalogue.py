"""What is known of conditions, signs, measures, muscles and kinds: data, read from `rules/*.yaml`."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Protocol, TypeVar

from planlang.model.records import (
    Activity,
    Cadence,
    CarriedFor,
    ConditionData,
    Cost,
    Equation,
    Figure,
    FlareRate,
    Ground,
    Kind,
    Measure,
    Muscle,
    NormRow,
    Norms,
    Pattern,
    Phrases,
    Practice,
    Sign,
    Tag,
    Worse,
)
from planlang.text.finding import Finding
from planlang.text.ready import digest, read_table, write_table
from planlang.text.resources import folder
from planlang.text.source import Source
from planlang.text.strict_yaml import Document, read_yaml
from planlang.text.structure import structure


class _Named(Protocol):
    @property
    def name(self) -> str:
        """What an entry is called."""


N = TypeVar("N", bound=_Named)

FILES: dict[str, type] = {
    "signs.yaml": Sign,
    "conditions.yaml": ConditionData,
    "measures.yaml": Measure,
    "muscles.yaml": Muscle,
    "kinds.yaml": Kind,
    "patterns.yaml": Pattern,
    "tags.yaml": Tag,
    "activities.yaml": Activity,
    "cadences.yaml": Cadence,
    "practices.yaml": Practice,
}
CLASSES: dict[str, type] = {
    c.__name__: c
    for c in (*FILES.values(), CarriedFor, Cost, Equation, Figure, FlareRate, Ground, NormRow, Norms, Phrases, Worse)
}


def read_catalogue(
    cls: type[N], source: Source, judge: Callable[[Document, int, N], Iterable[Finding]] | None = None
) -> tuple[tuple[N, ...], tuple[Finding, ...]]:
    """A list of `cls` from YAML, the built-in data or a clinic's own; what is wrong is a finding each.

    `judge`: what else is wrong with an entry, which stands at that number of the document's list.
    """
    from planlang.text.finding import unreadable

    document = read_yaml(source)
    if isinstance(document, Finding):
        return (), (document,)
    if not isinstance(document.value, list):
        return (), (unreadable("this file should be a list, each entry beginning with a dash", None, source),)
    found: dict[str, N] = {}
    findings: list[Finding] = []
    for i, value in enumerate(document.value):
        entry, faults = structure(cls, document, value, (i,))
        findings += faults
        if entry is None:
            continue
        if entry.name in found:
            findings.append(unreadable(f'"{entry.name}" is described twice', document.place((i, "name")), source))
        elif judge is not None:
            findings += judge(document, i, entry)
        found[entry.name] = entry
    return tuple(found.values()), tuple(findings)


def _load(cls: type[N], name: str) -> Mapping[str, N]:
    path = folder("rules") / name
    text = path.read_text("utf-8")
    ready = read_table(path.with_suffix(".table"), digest(text, CLASSES.values()), CLASSES)
    return MappingProxyType({entry.name: entry for entry in ready or _entries(cls, path.name, text)})


def _entries(cls: type[N], name: str, text: str) -> tuple[N, ...]:
    entries, findings = read_catalogue(cls, Source(name, text))
    if findings:
        raise ValueError(f"{name}: {findings[0].message}")
    return entries


def write_tables(root: Path) -> None:
    """Makes the ready table of each built-in data file anew. Raises ValueError where one can't be read."""
    for name, cls in FILES.items():
        text = (root / name).read_text("utf-8")
        table = (root / name).with_suffix(".table")
        write_table(table, digest(text, CLASSES.values()), _entries(cls, name, text))


@cache
def signs() -> Mapping[str, Sign]:
    """The signs that stop the day, by name, the most urgent first."""
    return _load(Sign, "signs.yaml")


@cache
def conditions() -> Mapping[str, ConditionData]:
    """Conditions and replacements, by name."""
    return _load(ConditionData, "conditions.yaml")


@cache
def measures() -> Mapping[str, Measure]:
    """Measures, by name."""
    return _load(Measure, "measures.yaml")


@cache
def muscles() -> Mapping[str, Muscle]:
    """Muscle groups, by name."""
    return _load(Muscle, "muscles.yaml")


@cache
def kinds() -> Mapping[str, Kind]:
    """Kinds of exercise, by name."""
    return _load(Kind, "kinds.yaml")


@cache
def patterns() -> Mapping[str, Pattern]:
    """Shapes in free text, by name."""
    return _load(Pattern, "patterns.yaml")


@cache
def activities() -> Mapping[str, Activity]:
    """Activities with their energy cost, by name."""
    return _load(Activity, "activities.yaml")


@cache
def cadences() -> Mapping[str, Cadence]:
    """Steps a minute for a cost and an age, by name."""
    return _load(Cadence, "cadences.yaml")


@cache
def tags() -> Mapping[str, Tag]:
    """Tags of exercises, by name."""
    return _load(Tag, "tags.yaml")


@cache
def practices() -> Mapping[str, Practice]:
    """What an exercise's own words tell, by name."""
    return _load(Practice, "practices.yaml")


@cache
def _muscles() -> dict[str, Muscle]:
    return {word: m for m in muscles().values() for word in (m.name, *m.aliases)}


def muscle(name: str) -> Muscle | None:
    """The muscle group of that name, or None."""
    return _muscles().get(name)
