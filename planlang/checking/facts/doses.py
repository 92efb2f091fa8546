"""Facts of single doses: how much in all, how long, how heavy."""

from __future__ import annotations

from fractions import Fraction

from planlang.checking.expression.types import COUNT, TRUTH, number
from planlang.checking.facts.registry import Facts
from planlang.checking.facts.training import dose, steps_a_day
from planlang.model.dose import Dose, SizeKind
from planlang.model.quantity import UNITS, in_base

ASKED = "begin then easier still_do reach at_least at_most instead rise exercise activity"


def sides(it: Dose) -> tuple[Dose, ...]:
    """Left and right where they are written apart, else the dose itself."""
    if it.left is None and it.right is None:
        return (it,)
    return tuple(side for side in (it.left, it.right) if side)


def hold_seconds(it: Dose) -> Fraction | None:
    """The longest hold of a repetition, in seconds."""
    held = it.hold_to or it.hold
    return held.base if held else None


dose.fact("hold", number("s"), "how long a repetition is held; of a range the upper end", ASKED)(
    lambda _, it: max((h for side in sides(it) if (h := hold_seconds(side)) is not None), default=None)
)
dose.fact("steps-a-day", number("steps/day"), "the steps a day", ASKED)(lambda _, it: steps_a_day(it))


@dose.fact("load", number("kg"), "the weight that is lifted, where it is a weight", ASKED)
def _load(_: Facts, it: Dose) -> Fraction | None:
    if it.left is None and it.right is None and it.load is None:
        return None
    loads = [
        in_base(side.load.amount.low, side.load.unit)
        for side in sides(it)
        if side.load is not None and side.load.basis == "mass"
    ]
    return max(loads, default=None)


@dose.fact("loaded", TRUTH, "it has a weight, a share of the most that can be lifted, or a band", ASKED)
def _loaded(_: Facts, it: Dose) -> bool:
    return any(side.load is not None or side.band is not None for side in sides(it))


@dose.fact(
    "reserve", COUNT, "repetitions that could still be done at the end of a set; of a range the lower end", ASKED
)
def _reserve(_: Facts, it: Dose) -> Fraction | None:
    return min((side.reserve.low for side in sides(it) if side.reserve), default=None)


@dose.fact("all-reps", COUNT, "repetitions of all sets, one side; of a range the lower end", ASKED)
def _all_reps(_: Facts, it: Dose) -> Fraction | None:
    return _all_sets(it, SizeKind.REPS)


@dose.fact("all-seconds", number("s"), "the time of all timed sets, one side, without rests", ASKED)
def _all_seconds(_: Facts, it: Dose) -> Fraction | None:
    return _all_sets(it, SizeKind.TIMED_SETS)


def _all_sets(it: Dose, kind: SizeKind) -> Fraction | None:
    found = [
        sum((amount.low for amount in side.size.by_set()), Fraction(0)) * UNITS[side.size.unit].factor
        for side in sides(it)
        if side.size is not None and side.size.kind is kind
    ]
    return max(found, default=None)


@dose.fact("longest-time", number("s"), "its longest set or one time", ASKED)
def _longest_time(_: Facts, it: Dose) -> Fraction | None:
    found = [
        in_base(max(amount.high for amount in side.size.amounts), side.size.unit)
        for side in sides(it)
        if side.size is not None and side.size.kind in (SizeKind.TIME, SizeKind.TIMED_SETS) and side.size.amounts
    ]
    return max(found, default=None)


@dose.fact("whole-time", number("s"), "the time of all its sets, or its one time, one side, without rests", ASKED)
def _whole_time(_: Facts, it: Dose) -> Fraction | None:
    found = [
        in_base(sum((amount.high for amount in side.size.by_set()), Fraction(0)), side.size.unit)
        for side in sides(it)
        if side.size is not None and side.size.kind in (SizeKind.TIME, SizeKind.TIMED_SETS) and side.size.amounts
    ]
    return max(found, default=None)


@dose.fact("step-height", number("m"), "how high the step is that is climbed", ASKED)
def _step_height(_: Facts, it: Dose) -> Fraction | None:
    return max((side.step_height.base for side in sides(it) if side.step_height), default=None)


@dose.fact("distance", number("m"), "its distance", ASKED)
def _distance(_: Facts, it: Dose) -> Fraction | None:
    size = it.size
    if size is None or size.kind is not SizeKind.DISTANCE or not size.amounts:
        return None
    return in_base(size.amounts[0].high, size.unit)
