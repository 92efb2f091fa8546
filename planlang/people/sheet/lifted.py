"""Loads as they stand on the sheet: in kilograms, never as a share of the person's weight or of their most."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from attrs import evolve

from planlang.model.dose import Dose, Load
from planlang.model.exercise import Exercise
from planlang.model.plan import Today
from planlang.model.quantity import Quantity, Range
from planlang.model.show import at_hand, one_repetition_maximum, tested_for
from planlang.planning.week import Done, Week, Weeks

SHARES = ("body weight", "1RM")
AGREED = Load("as set with you", Range.of(0), "")


def in_weights(weeks: Weeks) -> Weeks:
    """The same weeks with every share of a weight turned into what is lifted, where that can be told."""
    plan = weeks.plan
    if not any(_shared(step.dose) for e in plan.exercises for step in (*e.steps, *([e.easier] if e.easier else []))):
        return weeks

    def told(name: str) -> Callable[[Dose], Dose]:
        return lambda dose: _lifted(dose, plan.today, name)

    exercises = tuple(_exercise(e, told(e.name)) for e in plan.exercises)
    return evolve(weeks, plan=evolve(plan, exercises=exercises), weeks=tuple(_week(w, told) for w in weeks.weeks))


def _shared(dose: Dose) -> bool:
    sides = any(side is not None and _shared(side) for side in (dose.left, dose.right))
    return sides or (dose.load is not None and dose.load.basis in SHARES)


def _exercise(exercise: Exercise, lifted: Callable[[Dose], Dose]) -> Exercise:
    steps = tuple(evolve(step, dose=lifted(step.dose)) for step in exercise.steps)
    easier = evolve(exercise.easier, dose=lifted(exercise.easier.dose)) if exercise.easier else None
    return evolve(exercise, steps=steps, easier=easier)


def _week(week: Week, told: Callable[[str], Callable[[Dose], Dose]]) -> Week:
    def all_of(done: dict[str, Done]) -> dict[str, Done]:
        return {name: evolve(one, dose=told(name)(one.dose)) for name, one in done.items()}

    return evolve(week, exercises=all_of(week.exercises), activities=all_of(week.activities))


def _lifted(dose: Dose, today: Today, name: str) -> Dose:
    if dose.left or dose.right:
        left, right = (side and _lifted(side, today, name) for side in (dose.left, dose.right))
        return evolve(dose, left=left, right=right)
    load = dose.load
    if load is None or load.basis not in SHARES:
        return dose
    whole = _whole(load, today, name)
    if whole is None:
        return evolve(dose, load=AGREED) if load.basis == "body weight" else dose
    low, high = (
        at_hand(Quantity(whole.value * Fraction(share) / 100, whole.unit), today)
        for share in (load.amount.low, load.amount.high)
    )
    if high is None:
        return evolve(dose, load=AGREED)
    low = low if low is not None and low.unit == high.unit else high
    return evolve(dose, load=Load("mass", Range(low.value, high.value), high.unit))


def _whole(load: Load, today: Today, name: str) -> Quantity | None:
    """What the load is a share of."""
    if load.basis == "1RM":
        tested = tested_for(load, today, name)
        return one_repetition_maximum(tested) if tested else None
    weight = today.measure("body-weight")
    return weight.value if weight else None
