"""Facts of what a goal or a target is measured by: the change asked for, its error, and what it means for the body."""

from __future__ import annotations

from fractions import Fraction

from planlang.checking.expression.types import COUNT, TEXT, TRUTH, number, one_of
from planlang.checking.facts.goals import goal, target
from planlang.checking.facts.people import today
from planlang.checking.facts.registry import Facts
from planlang.checking.rule import source_line
from planlang.model.known import Catalogue
from planlang.model.plan import Goal, Measuring, Plan, Target
from planlang.model.plan import Today as PersonToday
from planlang.model.quantity import UNITS, Quantity
from planlang.model.records import Measure

MEASURED = "measured_by"
BODY = "today baseline"


def _known(facts: Facts, it: Goal | Target) -> Measure | None:
    return facts.plan.catalogue.measure(it.measured.measure) if it.measured else None


def change(measured: Measuring | None) -> Fraction | None:
    """The change asked for, in the unit of its beginning; None where the two can't be set against each other."""
    if measured is None:
        return None
    start, to = measured.start, measured.to
    if start.dimension != to.dimension:
        return None
    return (to.base - start.base) / UNITS[start.unit].factor


def error_of(measured: Measuring | None, catalogue: Catalogue) -> Fraction | None:
    """The measure's error in the unit of the change; None where none is known."""
    known = catalogue.measure(measured.measure) if measured else None
    if measured is None or known is None or known.error is None:
        return None
    unit = measured.start.unit
    if not unit or unit == known.unit:
        return known.error.low
    own = UNITS.get(known.unit)
    if own is None or own.dimension != UNITS[unit].dimension:
        return None
    return known.error.low * own.factor / UNITS[unit].factor


def mass_index(weight: Quantity | None, plan: Plan) -> Fraction | None:
    """Body mass index of a weight with the height under `today`, in kg/m2."""
    height = plan.today.measure("body-height")
    if weight is None or height is None or weight.dimension != "mass" or height.value.dimension != "length":
        return None
    metres = height.value.base
    return weight.base / metres**2 if metres else None


def unit_of(facts: Facts, it: Goal | Target) -> str | None:
    """The unit of a change as people read it, of one its singular; `points` of a rating."""
    if it.measured is None:
        return None
    known = _known(facts, it)
    unit = it.measured.start.unit or (known.unit if known else "")
    unit = "points" if unit.startswith("/") else unit
    return unit.removesuffix("s") if unit in ("points", "reps") and abs(change(it.measured) or 0) == 1 else unit


for _aim in (goal, target):
    _aim.fact("dated", TRUTH, "it says by when", "by_when", "by_when")(lambda _, it: it.by is not None)
    _aim.fact("measure-unit", TEXT, "the unit of its change", MEASURED, MEASURED)(unit_of)
    _aim.fact(
        "better",
        one_of("up", "down", "neither"),
        "which way its measure is better, as the data say",
        MEASURED,
        MEASURED,
    )(lambda f, it: known.better if (known := _known(f, it)) else None)
    _aim.fact("asks-for-less", TRUTH, "its measure is to come down", MEASURED, MEASURED)(
        lambda _, it: None if (by := change(it.measured)) is None else by < 0
    )
    _aim.fact("change-size", COUNT, "how much its measure is to change, up or down", MEASURED, MEASURED)(
        lambda _, it: None if (by := change(it.measured)) is None else abs(by)
    )
    _aim.fact(
        "measuring-error",
        COUNT,
        "the smallest change of one person beyond its measure's error, in the unit of the change",
        MEASURED,
        MEASURED,
    )(lambda f, it: error_of(it.measured, f.plan.catalogue))
    _aim.fact("measuring-error-source", TEXT, "where that error comes from", MEASURED, MEASURED)(
        lambda f, it: source_line(known.error.ground) if (known := _known(f, it)) and known.error else None
    )
    _aim.fact(
        "body-mass-index",
        number("kg/m2"),
        "body mass index at the weight aimed at, with the height under `today`",
        f"{MEASURED} {BODY}",
        MEASURED,
    )(lambda f, it: mass_index(it.measured.to, f.plan) if (k := _known(f, it)) and k.name == "body-weight" else None)


for _aim in (goal, target):
    _aim.fact(
        "steps-aimed-at", number("steps/day"), "the steps a day that its measure is to come to", MEASURED, MEASURED
    )(lambda f, it: it.measured.to.value if (k := _known(f, it)) and k.name == "daily-steps" else None)


@today.fact("body-mass-index", number("kg/m2"), "body mass index now, from weight and height", BODY)
def _mass_index(facts: Facts, it: PersonToday) -> Fraction | None:
    weight = it.measure("body-weight")
    return mass_index(weight.value if weight else None, facts.plan)
