"""What is known of conditions, signs, measures, muscles and kinds: data, read from `rules/*.yaml`."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Literal, Protocol, TypeVar

from planlang.text.data import frozen
from planlang.text.finding import Finding
from planlang.text.ready import digest, read_table, write_table
from planlang.text.resources import folder
from planlang.text.source import Source
from planlang.text.strict_yaml import Document, read_yaml
from planlang.text.structure import structure

Known = Literal["seen", "part", "memory", "practice"]
Action = Literal["emergency", "today", "tell us"]


@frozen
class Ground:
    """What a figure or a sentence rests on. `practice`: common practice, no source."""

    source: str
    known: Known = "seen"


@frozen
class Worse:
    """What turns a sign into a more urgent one."""

    words: str
    do: Action


@frozen
class CarriedFor:
    """Whose plans carry a sign: everyone's, or those of a condition, operation, medicine class or bone state.

    `lower_limb`: any condition of hip, knee or foot. `any_operation`: after any operation at all. `weeks`: only
    so long after the operation.
    """

    everyone: bool = False
    lower_limb: bool = False
    conditions: tuple[str, ...] = ()
    operations: tuple[str, ...] = ()
    any_operation: bool = False
    weeks: int | None = None
    takes: tuple[str, ...] = ()
    bones: tuple[str, ...] = ()


@frozen
class Sign:
    """A sign that stops the day. `short` is how an entry's one line names it; None: on the handout only."""

    name: str
    words: str
    do: Action
    carried_for: CarriedFor
    grounds: tuple[Ground, ...]
    short: str | None = None
    worse: Worse | None = None
    removable: bool = True
    first_after_operation: bool = False
    replaced_joint: str | None = None


@frozen
class FlareRate:
    """`expect FLARES flares in WEEKS weeks lasting LASTING weeks`; `varies`: the gamma shape."""

    flares: int
    weeks: int
    lasting: Fraction
    varies: int
    note: str | None = None
    grounds: tuple[Ground, ...] = ()


@frozen
class ConditionData:
    """A condition or replacement. `flare` is the sentence that the person reads about a flare of it.

    `signs`: signs that its plans carry beside those that name it; for a clinic's own, where a sign can't.
    `replaces`: a clinic's own that stands in the place of the built-in one of its name.
    """

    name: str
    joints: tuple[str, ...]
    lower_limb: bool
    has_flares: bool
    flare: str
    aliases: tuple[str, ...] = ()
    operation: bool = False
    inflammatory: bool = False
    rate: FlareRate | None = None
    signs: tuple[str, ...] | None = None
    replaces: bool = False


@frozen
class Figure:
    """A published figure in the measure's own unit; `high` where a range was published."""

    low: Fraction
    ground: Ground
    high: Fraction | None = None
    note: str | None = None


@frozen
class NormRow:
    """One row of a norm table: ages from-to inclusive, one sex or both; what is known of it."""

    ages: tuple[int, ...]
    sex: Literal["men", "women", "both"]
    low: Fraction | None = None
    mean: Fraction | None = None
    high: Fraction | None = None


@frozen
class Norms:
    """A norm table: what low, mean and high are, and its rows."""

    table: str
    ground: Ground
    rows: tuple[NormRow, ...]


@frozen
class Equation:
    """A published prediction: constant + height (cm), age (years), weight (kg), BMI, each times its factor."""

    author: str
    sex: Literal["men", "women"]
    constant: Fraction
    ground: Ground
    height: Fraction = Fraction(0)
    age: Fraction = Fraction(0)
    weight: Fraction = Fraction(0)
    bmi: Fraction = Fraction(0)

    def predict(self, height: Fraction, age: int, weight: Fraction) -> Fraction:
        """The predicted value, from cm, years and kg."""
        bmi = weight / (height / 100) ** 2
        return self.constant + self.height * height + self.age * age + self.weight * weight + self.bmi * bmi


@frozen
class Measure:
    """A measure: its unit (`/10` a rating), the better direction, what values are possible, its error.

    `error`: the smallest change of one person that is beyond measuring error. `important`: a change
    that people notice. `numbered`: `named-activity-2` is one of the same kind. `lagging`: it follows
    what is done, and is no goal by itself. `units`: further units in which it may be written.
    `replaces`: a clinic's own that stands in the place of the built-in one of its name.
    """

    name: str
    title: str
    unit: str
    better: Literal["up", "down", "neither"]
    lowest: Fraction
    highest: Fraction
    how: str
    aliases: tuple[str, ...] = ()
    units: tuple[str, ...] = ()
    numbered: bool = False
    lagging: bool = False
    error: Figure | None = None
    important: Figure | None = None
    norms: tuple[Norms, ...] = ()
    equations: tuple[Equation, ...] = ()
    grounds: tuple[Ground, ...] = ()
    replaces: bool = False


@frozen
class Muscle:
    """A muscle group that sets are counted for."""

    name: str
    leg: bool
    joints: tuple[str, ...]
    aliases: tuple[str, ...] = ()


@frozen
class Kind:
    """A kind of exercise. `base`: sessions a week that make a week count as a week of it."""

    name: str
    base: int
    means: str


@frozen
class Pattern:
    """A shape in free text: regular expressions of which one is found, and texts in which it is and isn't.

    `first`: a quick expression that stands in every text in which one of them is found; empty: none is known.
    """

    name: str
    means: str
    matches: tuple[str, ...]
    found: tuple[str, ...]
    not_found: tuple[str, ...]
    first: str = ""


@frozen
class Phrases:
    """Phrases of one language."""

    language: str
    said: tuple[str, ...]


@frozen
class Tag:
    """What an exercise can be marked with, and the words by which a surgeon's limit means it."""

    name: str
    means: str
    words: tuple[Phrases, ...] = ()


@frozen
class Practice:
    """Something done, or done with, that an exercise's own words tell: walking, on the floor, a hand on a rail.

    `not_meant`: phrases that hold such a word and mean something else. `deniable`: a phrase shortly after a
    denial doesn't count.
    """

    name: str
    means: str
    words: tuple[Phrases, ...]
    not_meant: tuple[Phrases, ...] = ()
    deniable: bool = False


@frozen
class Cost:
    """The energy cost of an activity in METs, in one edition of the compendium (the year)."""

    edition: int
    met: Fraction
    known: Known = "seen"


@frozen
class Activity:
    """An activity of the Compendium of Physical Activities, by its code of five digits."""

    name: str
    code: str
    costs: tuple[Cost, ...]

    def met(self, edition: int) -> Fraction | None:
        """Its cost in an edition, None where that has none."""
        return next((cost.met for cost in self.costs if cost.edition == edition), None)


@frozen
class Cadence:
    """Steps a minute at which walking costs so many METs, for ages from-to."""

    name: str
    ages: tuple[int, ...]
    mets: int
    regression: Fraction
    rounded: int
    ground: Ground
    roc: Fraction | None = None


class _Named(Protocol):
    @property
    def name(self) -> str: ...


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
