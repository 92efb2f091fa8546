"""Calendar weeks: their dates, which days are away, and which kind each is for a placement of rest."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from functools import cached_property

from attrs import field

from planlang.model.plan import Away, Plan, When
from planlang.planning.week import WeekKind
from planlang.text.data import define

LONGEST_PLAN = 1040  # weeks; twenty years: more is a slip of the finger
DAY = timedelta(days=1)


def week_start(plan: Plan, number: int) -> date | None:
    """The first day of a calendar week (from 1); None where the plan has no start or the date is past the year 9999."""
    if plan.starts is None:
        return None
    try:
        return plan.starts + timedelta(weeks=number - 1)
    except OverflowError:
        return None


def day_of(plan: Plan, when: When | None) -> date | None:
    """The date that `by 2027-07-04` or `by week 8` (the last day of that week) means; None where it can't be told."""
    if when is None or when.day is not None:
        return when.day if when else None
    first = week_start(plan, when.week or 0)
    if first is None or when.week is None:
        return None
    try:
        return first + 6 * DAY
    except OverflowError:
        return None


def review_days(plan: Plan) -> tuple[date, ...]:
    """The dates of the reviews within the plan's weeks and after, in order, each once."""
    days: set[date] = set()
    for review in plan.reviews:
        if review.every_weeks and review.every_weeks > 0:
            weeks = range(review.every_weeks, (plan.weeks or 0) + 1, review.every_weeks)
            days.update(d for d in (day_of(plan, When(week=w)) for w in weeks) if d)
        days.update(d for d in (day_of(plan, when) for when in review.at) if d)
    return tuple(sorted(days))


@define(frozen=True, slots=False, eq=False)
class Calendar:
    """The calendar weeks of a plan that has a start and a length. Needs `plan.starts` and `plan.weeks`."""

    plan: Plan
    starts: date = field(init=False)
    length: int = field(init=False)

    def __attrs_post_init__(self) -> None:
        if self.plan.starts is None or self.plan.weeks is None:
            raise ValueError("a plan without a start or a length has no calendar")
        object.__setattr__(self, "starts", self.plan.starts)
        object.__setattr__(self, "length", self.plan.weeks)

    @cached_property
    def away_days(self) -> dict[int, frozenset[int]]:
        """For each calendar week that is partly or wholly away, the offsets (0 to 6) of its days away."""
        found: dict[int, set[int]] = {}
        for away in self.plan.away:
            first = max((away.first - self.starts).days, 0)
            last = min((away.last - self.starts).days, 7 * self.length - 1)
            for day in range(first, last + 1):
                found.setdefault(day // 7 + 1, set()).add(day % 7)
        return {week: frozenset(days) for week, days in found.items()}

    @cached_property
    def away_weeks(self) -> frozenset[int]:
        """The calendar weeks all of whose days are away."""
        return frozenset(week for week, days in self.away_days.items() if len(days) == 7)

    @property
    def room(self) -> int:
        """A: calendar weeks of rest that there is room for."""
        return max(self.plan.room, 0)

    @cached_property
    def training_weeks(self) -> int:
        """T = N - A - W, never below 0."""
        return max(self.length - self.room - len(self.away_weeks), 0)

    def days_here(self, week: int) -> int:
        """How many days of a calendar week are not away."""
        return 7 - len(self.away_days.get(week, ()))

    def lines_of(self, week: int) -> tuple[Away, ...]:
        """The away lines that touch a calendar week."""
        first = self.start_of(week)
        return tuple(a for a in self.plan.away if a.first <= first + 6 * DAY and a.last >= first)

    def start_of(self, week: int) -> date:
        """The first day of a calendar week (from 1)."""
        return self.starts + timedelta(weeks=week - 1)

    def kinds(self, rest: Iterable[int] = ()) -> list[tuple[WeekKind, int | None]]:
        """Each calendar week's kind and training week, for one placement of rest.

        Training weeks come as soon as they can; what is left at the end is spare.
        """
        resting, trained = frozenset(rest), 0
        found: list[tuple[WeekKind, int | None]] = []
        for week in range(1, self.length + 1):
            if week in self.away_weeks:
                found.append((WeekKind.AWAY, None))
            elif week in resting:
                found.append((WeekKind.REST, None))
            elif trained < self.training_weeks:
                trained += 1
                found.append((WeekKind.TRAINING, trained))
            else:
                found.append((WeekKind.SPARE, None))
        return found

    def may_be(self, week: int) -> range:
        """The training weeks that a calendar week holds under some placement of at most A rest weeks.

        In a spare week the sessions of the last training week go on, so it stands for that one.
        """
        if week in self.away_weeks:
            return range(0)
        place = sum(1 for w in range(1, week + 1) if w not in self.away_weeks)
        last = self.training_weeks
        return range(min(max(1, place - self.room), last), min(place, last) + 1) if last else range(0)
