"""Verdicts equal what listing every placement of rest gives: verdict, dates, worst placement, margin."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings

from planlang.planning.leeway.verdicts import verdict
from tests.oracle.targets import Reached, oracle_leeway
from tests.strategies import examples, plans_with_target

QUIET = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]


def as_reckoned(plan, target, most=None):
    """What the product says of a target; the margin at most `most` where it is not listed further."""
    found = verdict(plan, target)
    margin = found.margin
    if most is not None and margin is not None:
        margin = min(margin, most)
    return Reached(str(found.verdict), found.earliest, found.latest, found.worst_rest, margin)


@settings(max_examples=examples(300), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(plans_with_target(weeks=(3, 8), room=2))
def test_the_verdict_on_a_target_is_that_of_all_placements(drawn):
    plan, target = drawn
    assert oracle_leeway(plan, target) == as_reckoned(plan, target), f"{target} in {plan}"


@settings(max_examples=examples(15), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(plans_with_target(weeks=(9, 14), room=4))
def test_the_verdict_on_a_target_of_a_longer_plan_is_that_of_all_placements(drawn):
    plan, target = drawn
    most = plan.room + 1
    assert oracle_leeway(plan, target, most) == as_reckoned(plan, target, most), f"{target} in {plan}"
