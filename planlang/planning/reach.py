"""Reaching a dose: the first step of a ladder that is at least it, and the date on which it is done."""

from __future__ import annotations

from datetime import date, timedelta

from planlang.model.compare import at_least
from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.plan import Plan, Today
from planlang.planning.week import Week, WeekKind, Weeks
from planlang.text.data import frozen


@frozen
class Aim:
    """Where a dose stands on a ladder (steps as indexes from 0).

    step: the first that is at least it, None where none is; comparable: False where no step could
    even be compared with it; nearest: where no step is at least it, the last comparable one.
    """

    step: int | None
    comparable: bool
    nearest: int | None = None


def aim(exercise: Exercise, dose: Dose, today: Today | None = None) -> Aim:
    """The first step of the exercise's ladder whose dose is at least this one."""
    verdicts = [at_least(step.dose, dose, today, exercise.name) for step in exercise.steps]
    comparable = [i for i, verdict in enumerate(verdicts) if verdict is not None]
    first = next((i for i, verdict in enumerate(verdicts) if verdict), None)
    if first is not None:
        return Aim(first, True)
    return Aim(None, bool(comparable), comparable[-1] if comparable else None)


def reached_on(weeks: Weeks, exercise: str, step: int) -> date | None:
    """The date of the first session at the step or higher (daily activity: first day; weekly quota: last day).

    None where the placement of rest that was reckoned has none within the plan's weeks.
    """
    found = weeks.plan.exercise(exercise)
    if found is None:
        return None
    for week in weeks.weeks:
        if week.kind not in (WeekKind.TRAINING, WeekKind.SPARE):
            continue
        done = week.exercises.get(exercise) or week.activities.get(exercise)
        if done is None or done.step is None or done.step < step:
            continue
        day = day_in(weeks.plan, week, found)
        if day is not None:
            return day
    return None


def day_in(plan: Plan, week: Week, exercise: Exercise) -> date | None:
    """The day of a week on which an exercise that is done in it counts as done.

    Where the person picks the days, as with a weekly quota, that is the last day of the week.
    """
    last = week.starts + timedelta(days=6)
    if exercise.weekly:
        return last
    days = [last if s.any_day else s.day for s in week.sittings if exercise.name in s.exercises]
    if days or not exercise.activity:
        return min(days, default=None)
    week_days = (week.starts + timedelta(days=n) for n in range(7))
    return next((d for d in week_days if not any(a.first <= d <= a.last for a in plan.away)), None)
