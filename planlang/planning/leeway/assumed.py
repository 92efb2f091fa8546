"""What chances rest on: the plan's own `expect` line, else the published rates of its condition, else nothing."""

from __future__ import annotations

from fractions import Fraction

from planlang.model.plan import Plan
from planlang.model.records import ConditionData
from planlang.planning.leeway.data import Assumption
from planlang.planning.wording import unread


def assumption(plan: Plan) -> Assumption | str:
    """The rate of flares to reckon with, or why there is none."""
    rest = plan.rest
    if rest is not None and rest.expect is not None:
        said = rest.expect
        return Assumption(said.flares, said.weeks, said.lasting, said.varies)
    if rest is not None and "expect" in rest.places:
        return "The `expect` line can't be reckoned with."
    if unread(plan, "expect"):
        return "A line that can't be read may say how many flares to expect."
    return _published(plan)


def _published(plan: Plan) -> Assumption | str:
    """The rate of the plan's condition. One that flares and has no published rate leaves the whole plan without."""
    if not plan.about:
        return "The plan names no condition, and says nothing of how many flares to expect."
    known: list[ConditionData] = []
    for about in plan.about:
        found = plan.catalogue.condition(about.name)
        if found is None:
            return f'Nothing is known of flares in "{about.name}"; an `expect` line in `rest` would say.'
        known.append(found)
    flaring = [one for one in known if one.has_flares or one.rate]
    without = next((one for one in flaring if one.rate is None), None)
    if without is not None:
        return f"No rate of flares is published for {without.name}; an `expect` line in `rest` would say one."
    if not flaring:
        return "What the plan is about is not known to flare; an `expect` line in `rest` would say otherwise."
    first = flaring[0]
    rate = first.rate
    assert rate is not None
    return Assumption(
        flares=Fraction(rate.flares),
        weeks=rate.weeks,
        lasting=rate.lasting,
        varies=rate.varies,
        default=True,
        note=rate.note,
        sources=tuple(ground.source for ground in rate.grounds),
        condition=first.name,
    )
