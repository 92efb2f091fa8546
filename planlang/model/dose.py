"""How much of an exercise: one dose, everything it may say."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction

from attrs import field

from planlang.model.quantity import Quantity, Range
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span


class SizeKind(StrEnum):
    """The kinds of size; doses of different kinds are never comparable."""

    REPS = "reps in sets"
    TIMED_SETS = "time in sets"
    TIME = "one time"
    DISTANCE = "one distance"
    PER_DAY = "a count a day"
    PER_WEEK = "minutes a week"
    OPEN = "open"


@frozen
class Size:
    """Sets and repetitions, or a time, a distance, a count a day, minutes a week.

    `amounts` has one range a set where the sets differ, else one range that holds for each of the
    `sets` sets. `unit` is a word of UNITS: reps, s, min, h, km, m, mile, steps/day, min/week.
    A size `to fatigue` or `as tolerated` has `open_ended` set, and `at_most` where it was bounded.
    """

    kind: SizeKind
    amounts: tuple[Range, ...]
    unit: str
    sets: Range = Range.of(1)
    bout: Quantity | None = None
    open_ended: str | None = None
    at_most: int | None = None

    def by_set(self) -> tuple[Range, ...]:
        """One range a set; of a range of sets the lower end."""
        if len(self.amounts) > 1:
            return self.amounts
        return self.amounts * int(self.sets.low)


@frozen
class Load:
    """What is lifted: a mass (`kg`, `lb`), a share of one repetition maximum, of body weight, or an nRM."""

    basis: str  # "mass", "1RM", "body weight", "RM"
    amount: Range
    unit: str  # "kg", "lb", "%", "RM"
    of: str | None = None


@frozen
class Effort:
    """A rating with its scale: `6/10`, `3-5/10`, `13/20`."""

    rating: Range
    scale: int


@frozen
class Rest:
    """Rest between sets: a time or a range of it, or as long as a set."""

    amount: Range | None = None
    unit: str = "s"

    @property
    def as_a_set(self) -> bool:
        """True for `resting as long as a set`."""
        return self.amount is None


@frozen
class Measured:
    """A dose as a share of what is measured: `80 % of measured walking in week 1`."""

    percent: Fraction
    of: str = ""
    week: int = 1


@frozen
class Dose:
    """One dose with everything it says. Absent parts are None.

    `each_side`: the size holds for left and right each. `left`/`right` hold a whole dose each
    where the sides differ or where one side alone is trained; then `size` is None.
    """

    size: Size | None = None
    each_side: bool = False
    left: Dose | None = None
    right: Dose | None = None
    load: Load | None = None
    effort: Effort | None = None
    heart_rate: Range | None = None  # % of HRmax
    easy: Quantity | None = None  # easy time between hard bouts
    easy_heart_rate: Range | None = None
    reserve: Range | None = None  # reps in reserve
    hold: Quantity | None = None
    hold_to: Quantity | None = None  # upper end of a range of holds
    step_height: Quantity | None = None
    chair_height: Quantity | None = None
    band: str | None = None
    tempo: tuple[int, int, int] | None = None
    rest: Rest | None = None
    climb: Quantity | None = None
    times_a_day: Range | None = None
    variant: str | None = None
    set_at: int | None = None  # calendar week in which it is set
    measured: Measured | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)

    @property
    def to_be_set(self) -> bool:
        """True while the dose is not known: `to be set at week 2`, `80 % of measured ...`."""
        return self.set_at is not None or self.measured is not None

    @property
    def sides(self) -> int:
        """How many sides the written size counts for: 2 with `each side`, else 1."""
        return 2 if self.each_side else 1
