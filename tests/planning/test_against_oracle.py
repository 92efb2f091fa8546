"""The reckoned weeks equal the slow reading of the page, for every placement of rest in small plans."""

from __future__ import annotations

from itertools import combinations

from hypothesis import HealthCheck, given, settings
from planlang.planning.reckon import reckon

from tests.oracle.kinds import dropped
from tests.oracle.replay import replay
from tests.strategies import free_weeks, plans_with_rest, small_plans

QUIET = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]


def as_reckoned(plan, rest):
    """What the product says of each week, in the words of the slow reading."""
    found = reckon(plan, rest)
    rows = [
        (
            week.number,
            week.starts,
            week.kind,
            week.training_week,
            {
                name: (done.step, done.easing, done.lighter, done.gentle, done.own)
                for name, done in {**week.exercises, **week.activities}.items()
            },
        )
        for week in found.weeks
    ]
    return found.dropped, rows


def as_read(plan, rest):
    """The same from the slow reading."""
    rows = [
        (
            past.week.number,
            past.week.starts,
            past.week.kind,
            past.week.training_week,
            {name: (seen.step, seen.easing, seen.lighter, seen.gentle, seen.own) for name, seen in past.seen.items()},
        )
        for past in replay(plan, rest)
    ]
    return dropped(plan, rest), rows


def told(plan, rest):
    """What to look at when the two differ."""
    return f"rest {sorted(rest)} in {plan.weeks} weeks with room for {plan.room}: {plan}"


@settings(max_examples=250, derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(plans_with_rest())
def test_a_placement_of_rest_reckons_as_the_page_reads(drawn):
    plan, rest = drawn
    assert as_read(plan, rest) == as_reckoned(plan, rest), told(plan, rest)


@settings(max_examples=25, derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(small_plans(weeks=(3, 8), room=2))
def test_every_placement_of_rest_reckons_as_the_page_reads(plan):
    free = free_weeks(plan)
    for many in range(plan.room + 2):
        for rest in map(frozenset, combinations(free, many)):
            assert as_read(plan, rest) == as_reckoned(plan, rest), told(plan, rest)
