"""When one dose is at least another, clause by clause."""

from __future__ import annotations

from fractions import Fraction

from planlang.model.dose import Dose, Load, Size
from planlang.model.exercise import Exercise
from planlang.model.plan import Plan, Today
from planlang.model.quantity import UNITS, Quantity


def first_at_least(plan: Plan, exercise: Exercise, wanted: Dose) -> int | None:
    """ "step j, the first of E's ladder whose dose is at least D"; None if none is."""
    for step, one in enumerate(exercise.steps):
        if at_least(one.dose, wanted, plan.today):
            return step
    return None


def at_least(x: Dose, d: Dose, today: Today) -> bool:
    """ "both have sides or neither has, and each side is at least"; a dose each side is whole on each."""
    of_x, of_d = sides(x), sides(d)
    if of_x is None and of_d is None:
        return whole(x, d, today)
    if of_x is None or of_d is None:
        return False
    return all(side in of_x and whole(of_x[side], one, today) for side, one in of_d.items())


def sides(dose: Dose) -> dict[str, Dose] | None:
    """The doses of the sides, or None where the dose has none."""
    if dose.each_side:
        return {"left": dose, "right": dose}
    named = {"left": dose.left, "right": dose.right}
    return {side: one for side, one in named.items() if one is not None} or None


def whole(x: Dose, d: Dose, today: Today) -> bool:
    """Every clause of the page, sides apart."""
    if x.size is None or d.size is None:
        return False
    return all(
        (
            size(x.size, d.size),
            load(x.load, d.load, today),
            upwards(x.hold, d.hold),
            upwards(x.climb, d.climb),
            # "`step` height upwards, `chair` height downwards"
            upwards(x.step_height, d.step_height),
            downwards(x.chair_height, d.chair_height),
            # "variant and band the same words"
            d.variant is None or x.variant == d.variant,
            d.band is None or x.band == d.band,
        )
    )


def size(x: Size, d: Size) -> bool:
    """ "both are of one kind ..., units of one dimension compared exactly"; "X has as many sets or more
    and, both sorted downwards, its n-th set is at least D's n-th (a range counts with its lower end)".
    """
    if x.open_ended or d.open_ended or x.kind is not d.kind:
        return False
    if UNITS[x.unit].dimension != UNITS[d.unit].dimension:
        return False
    sets_of_x = sorted((Quantity(one.low, x.unit).base for one in x.by_set()), reverse=True)
    sets_of_d = sorted((Quantity(one.low, d.unit).base for one in d.by_set()), reverse=True)
    if len(sets_of_x) < len(sets_of_d):
        return False
    return all(mine >= wanted for mine, wanted in zip(sets_of_x, sets_of_d, strict=False))


def upwards(x: Quantity | None, d: Quantity | None) -> bool:
    """What D does not name may be anything in X; what it names X has at least."""
    if d is None:
        return True
    return x is not None and x.dimension == d.dimension and x.base >= d.base


def downwards(x: Quantity | None, d: Quantity | None) -> bool:
    """As upwards, lower being more."""
    if d is None:
        return True
    return x is not None and x.dimension == d.dimension and x.base <= d.base


def load(x: Load | None, d: Load | None, today: Today) -> bool:
    """ "load within one basis (kg; %1RM; body weight; nRM, fewer being more) unless a baseline turns
    both into kg".
    """
    if d is None:
        return True
    if x is None:
        return False
    if x.basis == d.basis and x.of == d.of:
        if x.basis == "RM":
            return x.amount.low <= d.amount.low
        return Quantity(x.amount.low, x.unit).base >= Quantity(d.amount.low, d.unit).base
    of_x, of_d = kilograms(x, today), kilograms(d, today)
    return of_x is not None and of_d is not None and of_x >= of_d


def kilograms(one: Load, today: Today) -> Fraction | None:
    """A load in kg, where it is one or a baseline turns it into one (1RM: Epley 1985, load x (1 + reps / 30))."""
    if one.basis == "mass":
        return Quantity(one.amount.low, one.unit).base
    if one.basis == "body weight":
        baseline = today.measure("body-weight")
        return None if baseline is None else baseline.value.base * one.amount.low / 100
    if one.basis == "1RM":
        tested = [test for test in today.tested if test.exercise == one.of]
        if tested:
            return tested[0].load.base * (1 + Fraction(tested[0].reps, 30)) * one.amount.low / 100
    return None
