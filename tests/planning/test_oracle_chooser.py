"""The slow day chooser, on weeks small enough to see."""

from __future__ import annotations

import pytest

from planlang.model.session import Days
from tests.made import MONDAY, WEEKDAYS, make_exercise, make_plan, make_session
from tests.oracle.chooser import chosen_days

LEGS = make_exercise("sit-to-stand", works=("quadriceps",))
ARMS = make_exercise("wall-press", works=("chest",))


def words(plan):
    return {
        name: None if days is None else [WEEKDAYS[day] for day in days] for name, days in chosen_days(plan, 1).items()
    }


def free(name, low, **parts):
    return make_session("sit-to-stand", name=name, day_lines=(Days(low=low, **parts),))


def test_three_a_week_stand_as_far_apart_as_a_week_allows():
    plan = make_plan(LEGS, sessions=[free("A", 3)])
    assert words(plan) == {"A": ["Mon", "Wed", "Fri"]}


def test_days_are_counted_in_the_plans_own_week():
    plan = make_plan(LEGS, sessions=[free("A", 2)], starts=MONDAY.replace(day=4))
    assert words(plan) == {"A": ["Thu", "Sun"]}


def test_a_session_keeps_clear_of_one_that_trains_the_same_muscle():
    plan = make_plan(LEGS, sessions=[free("A", 2), make_session("sit-to-stand", days="Mon", name="B")])
    assert words(plan) == {"B": ["Mon"], "A": ["Thu", "Fri"]}


def test_a_session_of_other_muscles_does_not_matter():
    plan = make_plan(LEGS, ARMS, sessions=[free("A", 2), make_session("wall-press", days="Mon", name="B")])
    assert words(plan) == {"B": ["Mon"], "A": ["Mon", "Thu"]}


@pytest.mark.parametrize(("low", "between", "expected"), [(4, 1, None), (3, 1, ["Mon", "Wed", "Fri"])])
def test_days_between_hold_round_the_week(low, between, expected):
    assert words(make_plan(LEGS, sessions=[free("A", low, between=between)])) == {"A": expected}


def test_only_the_days_named_are_taken():
    plan = make_plan(LEGS, sessions=[free("A", 3, among=(0, 1, 3, 5))])
    assert words(plan) == {"A": ["Mon", "Thu", "Sat"]}


def test_the_first_days_win_among_equals():
    plan = make_plan(LEGS, sessions=[free("A", 1)])
    assert words(plan) == {"A": ["Mon"]}
