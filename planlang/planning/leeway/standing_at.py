"""Where a plan stands before a calendar week, by walking through the weeks before it."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from planlang.model.plan import Plan
from planlang.planning.doing import Doing
from planlang.planning.leeway.origin import BEGINNING, Origin, Stand
from planlang.planning.reach import day_in
from planlang.planning.reckon import reckon
from planlang.planning.slots import timetable_of
from planlang.planning.week import WeekKind, Weeks


def origin_at(plan: Plan, week: int, rest: Collection[int]) -> Origin:
    """Before calendar week `week` (from 1), after rest in these weeks and all else done as planned."""
    timetable = timetable_of(plan)
    kinds = timetable.calendar.kinds(rest)
    week = min(max(week, 1), len(kinds) + 1)
    if week == 1:
        return BEGINNING
    doing = Doing(plan, timetable)
    for number, (kind, training_week) in enumerate(kinds[: week - 1], 1):
        doing.week(number, kind, training_week)
    weeks = reckon(plan, frozenset(rest))
    return Origin(
        week=week,
        rest=sum(kind is WeekKind.REST for kind, _ in kinds[: week - 1]),
        stands={
            course.name: Stand(course.state, course.began is not None, course.highest, days(weeks, course.name, week))
            for course in doing.courses
        },
        turns=doing.turns,
        counts=dict(doing.starts.weeks),
        in_flare=kinds[week - 2][0] is WeekKind.REST,
    )


def days(weeks: Weeks, name: str, before: int) -> tuple[date, ...]:
    """The day on which each step from the first up, or a higher one, was first done before a calendar week."""
    exercise = weeks.plan.exercise(name)
    found: list[date] = []
    for week in weeks.weeks[: before - 1]:
        done = week.exercises.get(name) or week.activities.get(name)
        if exercise is None or done is None or done.step is None or week.kind not in _COUNTS:
            continue
        if done.step >= len(found) and (day := day_in(weeks.plan, week, exercise)):
            found += [day] * (done.step + 1 - len(found))
    return tuple(found)


_COUNTS = (WeekKind.TRAINING, WeekKind.SPARE)
