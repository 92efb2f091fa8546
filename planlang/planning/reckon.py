"""The one reckoning: from a plan and a placement of rest to its calendar weeks."""

from __future__ import annotations

from datetime import date, timedelta

from planlang.model.plan import Plan
from planlang.planning.dating import Dating
from planlang.planning.doing import Doing
from planlang.planning.faults import plan_faults, too_long
from planlang.planning.past import Looking
from planlang.planning.placement_faults import placement_faults
from planlang.planning.slots import timetable_of
from planlang.planning.week import WeekKind, Weeks
from planlang.planning.weeks import LONGEST_PLAN, Calendar

LAST_START = date(9999, 1, 1) - timedelta(weeks=LONGEST_PLAN)


def reckon(plan: Plan, rest: frozenset[int] = frozenset(), looking: Looking | None = None) -> Weeks:
    """The calendar weeks of a plan, with rest in the given calendar weeks, and what was found.

    `looking`: what a diary says of the weeks so far, `rest` being all that was taken. A plan without a start or a
    length has no weeks. Raises ValueError where `rest` names a week outside the plan or one that is away: that is the
    caller's error, not the writer's.
    """
    if plan.starts is None or plan.weeks is None or plan.weeks < 1:
        return Weeks(plan, (), 0, ())
    if plan.weeks > LONGEST_PLAN or plan.starts > LAST_START:
        return Weeks(plan, (), 0, (too_long(plan),))
    timetable = timetable_of(plan)
    calendar = timetable.calendar
    check_rest(calendar, rest)
    doing, dating = Doing(plan, timetable, looking or Looking()), Dating(plan, calendar)
    kinds = calendar.kinds(rest)
    weeks = tuple(
        dating.week(number, kind, training, doing.week(number, kind, training))
        for number, (kind, training) in enumerate(kinds, 1)
    )
    dropped = calendar.training_weeks - sum(kind is WeekKind.TRAINING for kind, _ in kinds)
    begins = {course.name: course.began for course in doing.courses}
    found = plan_faults(plan, timetable) + placement_faults(plan, calendar, weeks, dropped, begins)
    return Weeks(plan, weeks, dropped, found, begins)


def check_rest(calendar: Calendar, rest: frozenset[int]) -> None:
    """Raises ValueError, with a sentence for people, where a rest week can't stand."""
    for week in sorted(rest):
        if not 1 <= week <= calendar.length:
            raise ValueError(f"week {week} is not one of the plan's {calendar.length} weeks")
        if week in calendar.away_weeks:
            raise ValueError(f"week {week} is away; an easier week is never placed on it")
