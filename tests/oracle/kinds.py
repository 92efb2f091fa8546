"""Which calendar week is a training, rest, away or spare week."""

from __future__ import annotations

from datetime import date, timedelta

from attrs import frozen

from planlang.model.plan import Plan
from planlang.planning.week import WeekKind

WEEK = timedelta(days=7)
DAY = timedelta(days=1)


@frozen
class Kind:
    """One calendar week: its number, first day, kind, and its number among the training weeks."""

    number: int
    starts: date
    kind: WeekKind
    training_week: int | None

    @property
    def days(self) -> tuple[date, ...]:
        return tuple(self.starts + n * DAY for n in range(7))


def first_day(plan: Plan, number: int) -> date:
    """ "week k is S+7(k-1) to S+7k-1, whatever weekday S is"."""
    return plan.starts + (number - 1) * WEEK


def is_away(plan: Plan, day: date) -> bool:
    """Whether a day lies inside one of the plan's `away A to B` lines."""
    return any(line.first <= day <= line.last for line in plan.away)


def away_weeks(plan: Plan) -> frozenset[int]:
    """ "A calendar week wholly inside `away A to B` is an away week"; lines that adjoin are one absence."""
    found = set()
    for number in range(1, plan.weeks + 1):
        first = first_day(plan, number)
        if all(is_away(plan, first + n * DAY) for n in range(7)):
            found.add(number)
    return frozenset(found)


def training_weeks_held(plan: Plan) -> int:
    """ "With `room for A weeks` and W away weeks a plan holds T = N - A - W training weeks"."""
    return plan.weeks - plan.room - len(away_weeks(plan))


def kinds(plan: Plan, rest: frozenset[int] = frozenset()) -> list[Kind]:
    """The kinds of all calendar weeks, with rest on the calendar weeks given.

    "training weeks come first, the A weeks stand at the end as spare weeks. A rest week pushes
    every later training week on by one. Rest beyond the allowance pushes the last training weeks
    out of the plan". "A rest week among them [the spare weeks] is shown as rest".
    """
    away = away_weeks(plan)
    assert not rest & away, "Rest is never placed on it"
    held = training_weeks_held(plan)
    result: list[Kind] = []
    so_far = 0
    for number in range(1, plan.weeks + 1):
        training_week = None
        if number in away:
            kind = WeekKind.AWAY
        elif number in rest:
            kind = WeekKind.REST
        elif so_far < held:
            kind = WeekKind.TRAINING
            so_far += 1
            training_week = so_far
        else:
            kind = WeekKind.SPARE
        result.append(Kind(number, first_day(plan, number), kind, training_week))
    return result


def dropped(plan: Plan, rest: frozenset[int]) -> int:
    """How many training weeks the plan no longer holds with this rest ("listed as dropped")."""
    held = sum(week.kind is WeekKind.TRAINING for week in kinds(plan, rest))
    return training_weeks_held(plan) - held
