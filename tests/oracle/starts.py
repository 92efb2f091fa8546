"""When an exercise begins."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.planning.week import WeekKind
from tests.oracle.atleast import first_at_least
from tests.oracle.sittings import exercise_days, session_days, sessions_of

if TYPE_CHECKING:
    from tests.oracle.replay import Past


def may_begin(plan: Plan, exercise: Exercise, past: list[Past], training_week: int, anything_eased: bool) -> bool:
    """Whether an exercise not yet begun, with a session in this training week, begins in it.

    "begins in training week f (1 unless said: `training week W on`, `start after`)".
    """
    start = exercise.start
    if start is None:
        return True
    if start.training_week is not None:
        return training_week >= start.training_week
    if start.reach is not None:
        return not anything_eased and reached(plan, start.of, start.reach, past)
    # "it begins in the first training week before which n training weeks, not necessarily in a row,
    # easing and lighter ones included, each held at least two sessions of K (strength) or one (any
    # other), `base` weeks counted in; never in a week in which any exercise is eased: then in the next"
    base = sum(weeks for kind, weeks in plan.today.base if kind == start.of)
    return not anything_eased and base + weeks_of(plan, start.of, past) >= start.weeks


def weeks_of(plan: Plan, kind_or_name: str, past: list[Past]) -> int:
    """How many training weeks so far held enough sessions of a kind or an exercise."""
    return sum(one.week.kind is WeekKind.TRAINING and enough(plan, kind_or_name, one) for one in past)


def enough(plan: Plan, kind_or_name: str, one: Past) -> bool:
    """ "at least two sessions of K (strength) or one (any other)"; an exercise's name is not strength."""
    named = plan.exercise(kind_or_name)
    counted = [
        exercise
        for exercise in plan.exercises
        if exercise.name in one.seen and (exercise is named if named is not None else exercise.kind == kind_or_name)
    ]
    sessions = {session.name: session for exercise in counted for session in sessions_of(plan, exercise.name)}
    held = sum(len(session_days(plan, session, one.week, one.week.training_week)) for session in sessions.values())
    for exercise in counted:
        if exercise.activity and not sessions_of(plan, exercise.name):
            held += len(exercise_days(plan, exercise, one.week, one.week.training_week))
    return held >= (2 if kind_or_name == "strength" else 1)


def reached(plan: Plan, name: str, dose: object, past: list[Past]) -> bool:
    """Whether an exercise was done at a step of at least the dose in a training week so far."""
    exercise = plan.exercise(name)
    step = first_at_least(plan, exercise, dose) if exercise is not None else None
    if step is None:
        return False
    steps = [one.seen[name].step for one in past if one.week.kind is WeekKind.TRAINING and name in one.seen]
    return any(done is not None and done >= step for done in steps)
