"""What a plan comes to, week by week: the data that calendar, checks, tables and pages all read."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from enum import StrEnum
from fractions import Fraction

from attrs import field

from planlang.model.dose import Dose
from planlang.model.plan import Plan
from planlang.text.data import frozen
from planlang.text.finding import Finding


class WeekKind(StrEnum):
    """The four kinds of calendar week."""

    TRAINING = "training"
    REST = "rest"
    AWAY = "away"
    SPARE = "spare"


@frozen
class Done:
    """An exercise or activity as it is done in one week.

    `step`: index into the exercise's steps, -1 the easier step, None for what `still do` names. What
    an `away` line names stands at the step last done at its own level, or at the one it is eased to.
    `own`: True where it is done at its own level in a training week (c grows or the first step is
    kept). `first`: True in the first week in which this step is done at own level.
    """

    name: str
    step: int | None
    dose: Dose
    easing: bool = False
    lighter: bool = False
    gentle: bool = False
    own: bool = False
    first: bool = False
    at_most: Fraction | None = None  # an activity's ceiling that week, in the unit of its dose


@frozen
class Sitting:
    """One session on one day (`you choose`: no time, `day` the week's first; `count` of them in one entry).

    `order` is its place in the week among the sittings of the same session, from 1. `starts` and
    `ends` carry the plan's zone. `moved_from`: the day it was due on, where a diary says that it was moved.
    """

    name: str
    day: date
    order: int
    starts: datetime | None
    over: datetime | Callable[[], datetime] | None
    minutes: int | None
    exercises: tuple[str, ...]
    visit: bool = False
    count: int = 1
    any_day: bool = False  # `you choose`: the person picks the days of the week
    moved_from: date | None = None

    @property
    def ends(self) -> datetime | None:
        """When it is over; worked out when it is asked for, where its minutes are no plain number."""
        return self.over() if callable(self.over) else self.over


@frozen
class Week:
    """One calendar week. `load`: session load (effort x minutes), None where no effort is given."""

    number: int
    starts: date
    kind: WeekKind
    training_week: int | None
    exercises: dict[str, Done] = field(factory=dict)
    activities: dict[str, Done] = field(factory=dict)
    sittings: tuple[Sitting, ...] = ()
    minutes: Fraction = Fraction(0)
    sets: dict[str, int] = field(factory=dict)
    load: Fraction | None = None


@frozen
class Weeks:
    """A reckoned plan: its calendar weeks, how many training weeks were dropped, and what was found.

    `begins` gives each exercise's first training week (None: it never begins).
    """

    plan: Plan
    weeks: tuple[Week, ...]
    dropped: int
    findings: tuple[Finding, ...]
    begins: dict[str, int | None] = field(factory=dict)
