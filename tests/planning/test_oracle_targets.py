"""The slow reading's verdicts, on placements small enough to check by hand."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from attrs import evolve

from planlang.model.dose import Dose, Load
from planlang.model.plan import Today
from planlang.model.quantity import Quantity, Range
from tests.made import make_exercise, make_plan, reach, rungs, sets, steps_a_day
from tests.oracle.atleast import at_least
from tests.oracle.targets import Reached, oracle_leeway


def test_one_to_three_sets_in_four_weeks_with_one_flexible_week_and_no_easing_is_always_reached():
    """Common practice, no source: one set to three sets, one step a week."""
    plan, target = one_to_three_sets([(0, 0, 1)])
    assert oracle_leeway(plan, target) == Reached("always", date(2027, 3, 15), date(2027, 3, 22), (1,), 1)


def test_with_one_easing_week_it_depends_on_where_the_rest_falls():
    """Common practice, no source. Rest in week 2 or 3 costs the easing week too: `1 2 R 1`."""
    plan, target = one_to_three_sets([(1, 1, 1)])
    assert oracle_leeway(plan, target) == Reached("depends", date(2027, 3, 15), None, (2,), 0)


def one_to_three_sets(returns):
    doses = [sets(1, 8), sets(2, 8), sets(3, 8)]
    plan = make_plan(make_exercise(steps=rungs(doses)), weeks=4, room=1, returns=returns)
    return plan, reach(sets(3, 8), "sit-to-stand", week=4)


def test_a_dose_that_no_step_reaches_is_never_reached():
    plan = make_plan()
    assert oracle_leeway(plan, reach(sets(5, 20), "sit-to-stand", week=8)) == Reached("never", None, None, None, None)


def test_a_date_that_comes_too_soon_is_never_and_still_gives_the_dates():
    plan = make_plan(make_exercise(steps=3), weeks=8, room=0)
    found = oracle_leeway(plan, reach(sets(2, 7), "sit-to-stand", week=2))
    assert found == Reached("never", date(2027, 3, 15), date(2027, 3, 15), None, None)


def test_the_margin_may_be_more_than_the_room():
    plan = make_plan(make_exercise(steps=2), weeks=8, room=1, returns=[(0, 0, 1)])
    found = oracle_leeway(plan, reach(sets(2, 6), "sit-to-stand", week=8))
    assert (found.verdict, found.margin) == ("always", 6)


@pytest.mark.parametrize(
    ("x", "d", "expected"),
    [
        (sets(3, 8), sets(3, 8), True),
        (sets(3, 8), sets(2, 8), True),
        (sets(2, 12), sets(3, 8), False),
        (sets(3, 8, kg=2), sets(3, 8), True),
        (sets(3, 8), sets(3, 8, kg=2), False),
        (steps_a_day(5000), steps_a_day(4999), True),
        (steps_a_day(5000), sets(1, 1), False),
    ],
)
def test_at_least(x, d, expected):
    assert at_least(x, d, Today()) is expected


def test_sets_of_unequal_size_are_compared_largest_with_largest():
    unequal = sets(1, 1)
    size = evolve(unequal.size, amounts=tuple(Range.of(n) for n in (10, 30, 15)), sets=Range.of(3))
    assert at_least(evolve(unequal, size=size), sets(2, 15), Today())
    assert not at_least(evolve(unequal, size=size), sets(3, 15), Today())


def test_pounds_and_kilograms_are_compared_exactly():
    """1 lb is 0.45359237 kg (international pound, 1959)."""
    ten_pounds = evolve(sets(3, 8), load=Load("mass", Range.of(10), "lb"))
    assert at_least(ten_pounds, sets(3, 8, kg=4), Today())
    assert not at_least(ten_pounds, sets(3, 8, kg=5), Today())


def test_a_minute_is_at_least_sixty_seconds_held():
    minute = evolve(sets(3, 8), hold=Quantity(Fraction(1), "min"))
    assert at_least(minute, evolve(sets(3, 8), hold=Quantity(Fraction(60), "s")), Today())


def test_a_lower_chair_and_a_higher_step_are_more():
    low = evolve(sets(3, 8), chair_height=Quantity(Fraction(40), "cm"), step_height=Quantity(Fraction(20), "cm"))
    high = evolve(sets(3, 8), chair_height=Quantity(Fraction(45), "cm"), step_height=Quantity(Fraction(20), "cm"))
    assert at_least(low, high, Today())
    assert not at_least(high, low, Today())


def test_fewer_repetitions_maximum_are_more():
    eight, twelve = (evolve(sets(3, 8), load=Load("RM", Range.of(n), "RM")) for n in (8, 12))
    assert at_least(eight, twelve, Today())
    assert not at_least(twelve, eight, Today())


def test_sides_are_compared_with_sides_only():
    each = evolve(sets(3, 8), each_side=True)
    left = Dose(left=sets(3, 8))
    assert at_least(each, left, Today())
    assert not at_least(left, each, Today())
    assert not at_least(sets(3, 8), each, Today())
