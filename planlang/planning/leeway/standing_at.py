"""Where a plan stands before a calendar week, by walking through the weeks before it."""

from __future__ import annotations

from collections.abc import Callable, Collection
from datetime import date

from planlang.model.plan import Plan
from planlang.planning.doing import Doing
from planlang.planning.leeway.origin import BEGINNING, Origin, Stand
from planlang.planning.past import Looking, Past
from planlang.planning.reach import day_in
from planlang.planning.reckon import reckon
from planlang.planning.slots import timetable_of
from planlang.planning.week import Done, Week, WeekKind, Weeks

Days = Callable[[str], tuple[date, ...]]
_COUNTS = (WeekKind.TRAINING, WeekKind.SPARE)


def origin_at(plan: Plan, week: int, rest: Collection[int]) -> Origin:
    """Before calendar week `week` (from 1), after rest in these weeks and all else done as planned."""
    weeks = reckon(plan, frozenset(rest))
    return _walked(plan, week, rest, Looking(), lambda name: _days(weeks, name, week))


def origin_of(past: Past) -> Origin:
    """Where a plan stands by its diary: before the week of the review, or after it where that is settled."""
    return _walked(past.plan, past.first_open_week, past.rest, past.looking, lambda name: days_done(past, name))


def _walked(plan: Plan, week: int, rest: Collection[int], looking: Looking, days: Days) -> Origin:
    timetable = timetable_of(plan)
    kinds = timetable.calendar.kinds(rest)
    week = min(max(week, 1), len(kinds) + 1)
    if week == 1:
        return BEGINNING
    doing = Doing(plan, timetable, looking)
    for number, (kind, training_week) in enumerate(kinds[: week - 1], 1):
        doing.week(number, kind, training_week)
    return Origin(
        week=week,
        rest=sum(kind is WeekKind.REST for kind, _ in kinds[: week - 1]),
        stands={
            course.name: Stand(course.state, course.began is not None, course.highest, days(course.name))
            for course in doing.courses
        },
        turns=doing.turns,
        counts=dict(doing.starts.weeks),
        in_flare=kinds[week - 2][0] is WeekKind.REST,
    )


def _days(weeks: Weeks, name: str, before: int) -> tuple[date, ...]:
    """The day on which each step from the first up, or a higher one, was first done before a calendar week."""
    exercise = weeks.plan.exercise(name)
    found: list[date] = []
    for week in weeks.weeks[: before - 1]:
        done = _done(week, name)
        if exercise is not None and done and (day := day_in(weeks.plan, week, exercise)):
            _come_to(found, done, day)
    return tuple(found)


def days_done(past: Past, name: str) -> tuple[date, ...]:
    """The same by a diary: sessions count on the day on which they were done; other days as they were planned."""
    plan, found = past.plan, list[date]()
    exercise = plan.exercise(name)
    if exercise is None:
        return ()
    in_sessions = any(name in session.do for session in plan.sessions)
    for week in past.weeks.weeks[: past.week]:
        done = _done(week, name)
        if done is None:
            continue
        if in_sessions:
            days = [h.on for h in past.held if h.week == week.number and name in h.done and h.on]
        else:
            day = day_in(plan, week, exercise)
            uncounted = week.number in past.looking.uncounted.get(name, ())
            days = [day] if day and day <= past.as_of and not uncounted else []
        if days:
            _come_to(found, done, min(days))
    return tuple(found)


def _done(week: Week, name: str) -> Done | None:
    done = week.exercises.get(name) or week.activities.get(name)
    return done if done and done.step is not None and week.kind in _COUNTS else None


def _come_to(found: list[date], done: Done, day: date) -> None:
    step = done.step if done.step is not None else -1
    found += [day] * (step + 1 - len(found))
