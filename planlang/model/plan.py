"""A plan and the parts of it that are about the person, the goal and the paperwork."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from attrs import field

from planlang.model.dose import Dose
from planlang.model.exercise import Exercise, Joint
from planlang.model.known import BUILT_IN, Catalogue
from planlang.model.quantity import Quantity
from planlang.model.rest import Pain, Rest, Sign, SignLeftOut
from planlang.model.session import Session
from planlang.model.writing import Writing
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Source, Span


@frozen
class When:
    """A date, or the last day of a calendar week of the plan (one of the two)."""

    day: date | None = None
    week: int | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Measuring:
    """`measured by MEASURE from A to B`; quantities keep the unit written, or none."""

    measure: str
    start: Quantity
    to: Quantity
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Goal:
    """The goal. `score`: goal-attainment levels by name (much-less .. much-more)."""

    title: str
    by: When | None = None
    because: str | None = None
    confidence: int | None = None
    last_done: int | None = None  # year
    changed: tuple[str, ...] = ()
    measured: Measuring | None = None
    score: tuple[tuple[str, Fraction], ...] = ()
    last_day: date | None = None  # of `last_done`, where the line says the day
    span: Span = field(default=NOWHERE, eq=False, repr=False)
    places: dict[str, Span] = field(factory=dict, eq=False, repr=False)


@frozen
class Target:
    """A dated target: trained (`reach`), a habit (`keep`), a one-off (`do`) or measured."""

    title: str
    by: When | None = None
    because: str | None = None
    reach: Dose | None = None
    reach_in: str | None = None
    keep: str | None = None
    keep_days: int | None = None
    do: str | None = None
    measured: Measuring | None = None
    score: tuple[tuple[str, Fraction], ...] = ()
    span: Span = field(default=NOWHERE, eq=False, repr=False)
    places: dict[str, Span] = field(factory=dict, eq=False, repr=False)


@frozen
class Condition:
    """`knee osteoarthritis, right`: the condition's words and its side."""

    name: str
    side: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Limit:
    """A surgeon's limit: `limits "no low chairs" until 2027-02-03 from "surgeon"`."""

    text: str
    until: date | None = None
    source: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Operation:
    """An operation with what goes with it."""

    day: date
    text: str
    side: str | None = None
    weight_bearing: str | None = None
    limits: tuple[Limit, ...] = ()
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class JointState:
    """`joint knee, right hot|swollen|being checked`."""

    joint: Joint
    state: str
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Screening:
    """What was asked before the plan. Answers are `yes`, `no` or None where not written."""

    day: date
    by: str | None = None
    clear: str | None = None  # "yes for moderate", "yes for vigorous", "no", "waiting"
    asked: dict[str, str] = field(factory=dict)  # heart, diabetes, kidney, symptoms ...
    falls: int | None = None
    falls_months: int | None = None
    unsteady: str | None = None
    floor: str | None = None  # "gets up alone", "gets up with help", "cannot"
    blood_pressure: tuple[int, int] | None = None  # mmHg
    bones: str | None = None  # "no known fragility", "fragile", "fracture"
    takes: tuple[str, ...] = ()
    good_until: date | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)
    places: dict[str, Span] = field(factory=dict, eq=False, repr=False)


@frozen
class Agreed:
    """`agreed DATE calendar full|discreet|none, diary yes|no`."""

    day: date
    calendar: str | None = None
    diary: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Baseline:
    """One line of `today`: a measure and its value."""

    measure: str
    value: Quantity
    rating_of: int | None = None  # 10 for `3/10`
    over_days: int | None = None
    private: bool = False
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Tested:
    """`tested leg-press 40 kg for 8 reps`."""

    exercise: str
    load: Quantity
    reps: int
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Today:
    """Where the person is now."""

    measures: tuple[Baseline, ...] = ()
    has: tuple[str, ...] = ()
    base: tuple[tuple[str, int], ...] = ()  # (kind, weeks) of work done before the plan
    tested: tuple[Tested, ...] = ()
    weights: tuple[Quantity, ...] = ()
    span: Span = field(default=NOWHERE, eq=False, repr=False)
    places: dict[str, Span] = field(factory=dict, eq=False, repr=False)

    def measure(self, name: str) -> Baseline | None:
        """The baseline of a measure, if one was written."""
        return next((m for m in self.measures if m.measure == name), None)


@frozen
class Away:
    """`away A to B "why" [do session "X"]`."""

    first: date
    last: date
    why: str | None = None
    session: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Prepare:
    """`prepare "..." by week 6`."""

    text: str
    by: When | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Review:
    """`review every 4 weeks` or `review at week 4, 2028-01-10`."""

    every_weeks: int | None = None
    at: tuple[When, ...] = ()
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Pause:
    """`pause all from DATE because "..."`."""

    start: date
    because: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Waiver:
    """`waive RULE by T-03 because "..." until DATE`."""

    rule: str
    by: str | None = None
    because: str | None = None
    until: date | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Plan:
    """A whole plan. Absent parts are None or empty; what is absent or wrong is a finding elsewhere.

    `starts` is None where it could not be read; then nothing is reckoned. `starts_after` keeps the
    event where the plan says `starts 1 week after DATE "operation"`; `starts` is then worked out.
    `unread`: names of statements or blocks that an unreadable line could have been (rules that ask
    for them are not judged); holds "?" where it could have been anything. `writings`: the file's quoted
    texts and comments. `catalogue`: the conditions and measures that were known when it was read.
    """

    title: str
    source: Source = field(eq=False, repr=False)
    code: str | None = None
    aged: int | None = None
    about: tuple[Condition, ...] = ()
    starts: date | None = None
    starts_after: tuple[int, date, str | None] | None = None
    weeks: int | None = None
    zone: str | None = None
    written: date | None = None
    revision: int | None = None
    language: str = "en"
    draft: bool = False
    operations: tuple[Operation, ...] = ()
    joints: tuple[JointState, ...] = ()
    away: tuple[Away, ...] = ()
    screening: Screening | None = None
    agreed: Agreed | None = None
    today: Today = Today()
    tells: tuple[str, ...] = ()
    goal: Goal | None = None
    targets: tuple[Target, ...] = ()
    rest: Rest | None = None
    pain: Pain | None = None
    signs: tuple[Sign, ...] = ()
    signs_left_out: tuple[SignLeftOut, ...] = ()
    exercises: tuple[Exercise, ...] = ()
    sessions: tuple[Session, ...] = ()
    prepares: tuple[Prepare, ...] = ()
    reviews: tuple[Review, ...] = ()
    after: tuple[str, ...] = ()
    pause: Pause | None = None
    waivers: tuple[Waiver, ...] = ()
    continues: str | None = None
    unread: frozenset[str] = field(default=frozenset(), eq=False)
    writings: tuple[Writing, ...] = field(default=(), eq=False, repr=False)
    catalogue: Catalogue = field(default=BUILT_IN, eq=False, repr=False)
    span: Span = field(default=NOWHERE, eq=False, repr=False)
    places: dict[str, Span] = field(factory=dict, eq=False, repr=False)

    def exercise(self, name: str) -> Exercise | None:
        """The exercise or activity with this name."""
        return next((e for e in self.exercises if e.name == name), None)

    def session(self, name: str) -> Session | None:
        """The session with this name."""
        return next((s for s in self.sessions if s.name == name), None)

    @property
    def room(self) -> int:
        """A: the calendar weeks of rest that there is room for."""
        return self.rest.room or 0 if self.rest else 0
