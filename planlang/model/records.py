"""One entry of each data file in `rules/`: what is known of signs, conditions, measures and the rest."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from planlang.text.data import frozen

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
