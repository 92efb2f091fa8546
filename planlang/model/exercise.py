"""Exercises and activities: what is done, its ladder of steps, and when it begins."""

from __future__ import annotations

from fractions import Fraction

from attrs import field

from planlang.model.dose import Dose
from planlang.model.quantity import Quantity, Range
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span


@frozen
class Step:
    """One step of a ladder with its whole dose (carried parts included).

    `written` is the dose as the line says it; `weeks` is set where the step keeps its own length.
    """

    dose: Dose
    written: Dose
    weeks: int | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Pace:
    """When a ladder goes up.

    `weeks`: whole training weeks on a step, the pace that the plan reckons with; None when none
    was given. `by`: `time`, `deed` (after sessions done clean) or `date` (whatever the day feels like).
    `from_week`: the training week until which the first step is kept, c not growing.
    """

    weeks: int | None
    by: str = "time"
    sessions: int | None = None
    condition: str | None = None
    down_if: str | None = None
    from_week: int | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Rise:
    """`rise A every SPAN to B`, as written; the steps it makes stand in the ladder."""

    amount: Quantity  # unit "%" for a share of the step before
    weeks: int
    to: Quantity
    rounded_to: Fraction | None = None
    by_date: bool = False
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Window:
    """Training weeks, as ranges with both ends; an open range ends with None."""

    ranges: tuple[tuple[int, int | None], ...]
    span: Span = field(default=NOWHERE, eq=False, repr=False)

    def __contains__(self, week: int) -> bool:
        return any(a <= week and (b is None or week <= b) for a, b in self.ranges)


@frozen
class Start:
    """When an exercise begins, if not in training week 1.

    One of: `weeks` training weeks of `of` (a kind or an exercise); a training week; a dose reached in `of`.
    """

    weeks: int | None = None
    of: str | None = None
    training_week: int | None = None
    reach: Dose | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Ceiling:
    """`at most 4500 steps/day` (amount) or `at most 25 % above the aim` (percent)."""

    amount: Dose | None = None
    percent_above: Fraction | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Instead:
    """`if "wet" do indoor-bike 15 min` or `if "wet" do session "Indoors"`."""

    when: str
    exercise: str | None = None
    dose: Dose | None = None
    session: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Kit:
    """A thing needed, from a step (from 1) on: of the exercise that needs it, or of the session's first exercise."""

    text: str
    from_step: int | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Joint:
    """A joint (or condition's place) with a side: `left`, `right`, `both` or None."""

    name: str
    side: str | None = None


@frozen
class Exercise:
    """An exercise of sessions, or (`activity`) something done on days or as a weekly quota."""

    name: str
    activity: bool = False
    kind: str | None = None
    works: tuple[str, ...] = ()
    joints: tuple[Joint, ...] = ()
    tags: tuple[str, ...] = ()
    how: str | None = None
    careful: str | None = None
    kit: tuple[Kit, ...] = ()
    hold_on_to: str | None = None
    companions: tuple[str, ...] = ()
    easier: Step | None = None
    steps: tuple[Step, ...] = ()
    pace: Pace | None = None
    rise: Rise | None = None
    stay_because: str | None = None
    start: Start | None = None
    window: Window | None = None
    at_least: Dose | None = None
    at_most: Ceiling | None = None
    pause_while: tuple[str, ...] = ()
    tested_anew_weeks: int | None = None
    instead: tuple[Instead, ...] = ()
    because: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)  # the header line
    places: dict[str, Span] = field(factory=dict, eq=False, repr=False)  # first line of each statement name

    @property
    def daily(self) -> bool:
        """True for an activity reckoned by the day (`steps/day`, `min/day`), not by the week or session."""
        return self.activity and bool(self.steps) and _kind(self.steps[0].dose) == "a count a day"

    @property
    def weekly(self) -> bool:
        """True for an activity with a weekly quota of minutes."""
        return self.activity and bool(self.steps) and _kind(self.steps[0].dose) == "minutes a week"


def _kind(dose: Dose) -> str | None:
    return dose.size.kind if dose.size else None


@frozen
class WarmUp:
    """Minutes before or after a session, with effort and words."""

    minutes: Fraction
    effort: Range | None = None
    scale: int | None = None
    text: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)
