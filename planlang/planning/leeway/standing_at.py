"""Where a plan stands before a calendar week, by walking through the weeks before it."""

from __future__ import annotations

from collections.abc import Callable, Collection
from datetime import date

from attrs import evolve

from planlang.model.plan import Plan
from planlang.planning.doing import Doing
from planlang.planning.leeway.frame import LAST_DAY
from planlang.planning.leeway.origin import BEGINNING, Origin, Stand, UnderWay
from planlang.planning.past import Held, Looking, Outcome, Past
from planlang.planning.reach import day_in
from planlang.planning.reckon import reckon
from planlang.planning.slots import timetable_of
from planlang.planning.week import Done, Week, WeekKind, Weeks
from planlang.planning.weeks import DAY

Days = Callable[[str], tuple[date, ...]]
_COUNTS = (WeekKind.TRAINING, WeekKind.SPARE)


def origin_at(plan: Plan, week: int, rest: Collection[int]) -> Origin:
    """Before calendar week `week` (from 1), after rest in these weeks and all else done as planned."""
    weeks = reckon(plan, frozenset(rest))
    return _walked(plan, week, rest, Looking(), lambda name: _days(weeks, name, week))


def origin_of(past: Past) -> Origin:
    """Where a plan stands by its diary: before the week of the review, or after it where that is settled."""
    known = _under_way(past)
    return _walked(past.plan, past.first_open_week, past.rest, past.looking, lambda name: days_done(past, name), known)


def _under_way(past: Past) -> UnderWay | None:
    """What is known of the week under way, where it is a training week that is not over."""
    number, looking = past.week, past.looking
    week = past.weeks.weeks[number - 1] if number <= len(past.weeks.weeks) else None
    if week is None or past.first_open_week != number or week.starts > past.as_of:
        return None
    if week.kind is not WeekKind.TRAINING:
        return None
    held = [h for h in past.held if h.week == number]
    days: dict[str, int | None] = {}
    for name in {name for one in held for name in one.exercises}:
        first = min((day for one in held if (day := _held_on(one, name, week))), default=None)
        days[name] = None if first is None else min(max((first - week.starts).days, 0), LAST_DAY)
    return UnderWay(
        days=days,
        uncounted=frozenset(name for name, weeks in looking.uncounted.items() if number in weeks),
        halted=frozenset(name for name, weeks in looking.halted.items() if number in weeks),
        held=looking.held.get(number, ()),
    )


def _held_on(held: Held, name: str, week: Week) -> date | None:
    """The day on which an exercise was done in a session, or is still to be; None where it was not."""
    if name in held.done:
        return held.on
    if held.outcome is Outcome.AHEAD and name in held.exercises:
        return held.day or week.starts + LAST_DAY * DAY
    return None


def _walked(
    plan: Plan, week: int, rest: Collection[int], looking: Looking, days: Days, known: UnderWay | None = None
) -> Origin:
    timetable = timetable_of(plan)
    kinds = timetable.calendar.kinds(rest)
    week = min(max(week, 1), len(kinds) + 1)
    if week == 1 and known is None:
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
        turns=tuple(doing.turns),
        counts=dict(doing.starts.weeks),
        in_flare=week > 1 and kinds[week - 2][0] is WeekKind.REST,
        under_way=known and _after(known, doing, week, kinds[week - 1][1]),
    )


def _after(known: UnderWay, doing: Doing, week: int, training_week: int | None) -> UnderWay:
    """The same with what is left of the week's sessions, and whose turn it is after it."""
    slots = doing.week(week, WeekKind.TRAINING, training_week).slots
    left = frozenset(name for s in slots if not (s.contact or s.gone) for name in s.session.do)
    return evolve(known, left=left, turns=doing.turns)


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
