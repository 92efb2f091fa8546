"""The reckoned weeks equal the slow reading of the page, for every placement of rest in small plans."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings

from planlang.planning.reach import aim, reached_on
from planlang.planning.reckon import reckon
from tests.made import make_exercise, make_plan, sets
from tests.oracle.kinds import dropped
from tests.oracle.replay import replay
from tests.oracle.targets import date_of
from tests.strategies import (
    RETURNS,
    examples,
    free_weeks,
    plans_with_rest,
    plans_with_runs_of_rest,
    plans_with_target,
    small_plans,
)

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


@settings(max_examples=examples(150), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(plans_with_rest())
def test_a_placement_of_rest_reckons_as_the_page_reads(drawn):
    plan, rest = drawn
    assert as_read(plan, rest) == as_reckoned(plan, rest), told(plan, rest)


@settings(max_examples=examples(200), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(plans_with_runs_of_rest())
def test_runs_of_rest_reckon_as_the_page_reads(drawn):
    plan, rest = drawn
    assert as_read(plan, rest) == as_reckoned(plan, rest), told(plan, rest)


@pytest.mark.parametrize("returns", RETURNS, ids=str)
def test_one_run_of_rest_under_each_return_line_reckons_as_the_page_reads(returns):
    plan = make_plan(make_exercise(steps=9, easier=sets(1, 4)), weeks=14, room=5, returns=returns)
    for first in (2, 5, 7):
        for length in range(1, 6):
            rest = frozenset(range(first, first + length))
            assert as_read(plan, rest) == as_reckoned(plan, rest), told(plan, rest)


@settings(max_examples=examples(25), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(small_plans(weeks=(3, 8), room=2))
def test_every_placement_of_rest_reckons_as_the_page_reads(plan):
    free = free_weeks(plan)
    for many in range(plan.room + 2):
        for rest in map(frozenset, combinations(free, many)):
            assert as_read(plan, rest) == as_reckoned(plan, rest), told(plan, rest)


@settings(max_examples=examples(80), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(plans_with_target(weeks=(3, 10), room=2, moving=True))
def test_the_date_of_a_target_is_that_of_the_first_session_at_its_step(drawn):
    plan, target = drawn
    exercise = plan.exercise(target.reach_in)
    step = aim(exercise, target.reach, plan.today).step
    for rest in (frozenset(), *map(frozenset, combinations(free_weeks(plan)[:4], 1))):
        found = None if step is None else reached_on(reckon(plan, rest), exercise.name, step)
        assert date_of(plan, target, rest) == found, told(plan, rest)


@settings(max_examples=examples(60), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(plans_with_rest())
def test_the_first_training_week_of_each_exercise_is_the_one_in_which_it_is_first_done(drawn):
    plan, rest = drawn
    begins: dict[str, int | None] = {exercise.name: None for exercise in plan.exercises}
    for past in replay(plan, rest):
        for name, seen in past.seen.items():
            if seen.own and begins[name] is None:
                begins[name] = past.week.training_week
    assert begins == dict(reckon(plan, rest).begins), told(plan, rest)
