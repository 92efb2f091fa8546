"""Between the best and the worst placement of rest: how far each ladder has come by the end of each week."""

from __future__ import annotations

from collections.abc import Hashable

from planlang.model.plan import Plan
from planlang.planning.leeway.machine import Machine, Running
from planlang.planning.leeway.sweep import Sweep, sweep
from planlang.planning.leeway.verdicts import verdicts
from planlang.text.data import frozen

NOT_BEGUN = -1


@frozen
class Band:
    """One ladder. best, worst: for each calendar week the highest step (index) done at its own level by its end.

    -1 stands for not begun. steps: how many the ladder has.
    """

    exercise: str
    steps: int
    best: tuple[int, ...]
    worst: tuple[int, ...]


def bands(plan: Plan) -> tuple[Band, ...]:
    """The band of every exercise and activity with more than one step; none for a plan that can't be reckoned."""
    known = verdicts(plan)
    if known.frame is None:
        return ()
    courses = known.frame.courses.values()
    ladders = [course.exercise for course in courses if len(course.exercise.steps) > 1]
    return tuple(_band(known.machine(exercise, None)) for exercise in ladders)


def _band(machine: Machine) -> Band:
    found = sweep(machine, machine.frame.room, 0)
    ended: list[int] = []  # where the ladders stand whose training weeks are over
    best: list[int] = []
    worst: list[int] = []
    for week in range(1, machine.frame.calendar.length + 1):
        ended += _levels(machine, found, week, dict(found.spent).get(week, 0))
        levels = [*ended, *_levels(machine, found, week + 1, -1)]
        best.append(max(levels))
        worst.append(min(levels))
    return Band(machine.exercise.name, len(machine.exercise.steps), tuple(best), tuple(worst))


def _levels(machine: Machine, found: Sweep, week: int, numbers: int) -> set[int]:
    """The steps last done before a week in any state that stands there with one of these numbers of rest weeks."""
    standing = found.standing[week - 1].items()
    return {_level(machine, machine.states[state], week - 1) for state, here in standing if here & numbers}


def _level(machine: Machine, state: Hashable, week: int) -> int:
    if not isinstance(state, Running):
        return NOT_BEGUN
    if state.state.c:
        return machine.ladder.last_done(state.state)
    # Kept on the first step until a training week: under way, though nothing counts yet.
    start = machine.exercise.start
    first = (start.training_week if start else None) or 1
    return 0 if machine.ladder.keep_until > 1 and week >= first else NOT_BEGUN
