"""Units by their exact definitions, and what stands in a plan is printed as it was written."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planlang.model.compare import at_least
from planlang.model.quantity import Quantity
from planlang.model.show import dose_text
from tests.world.programmes import plan_of, plan_text


def dose(text: str):
    return plan_of(plan_text("exercise lifting", f"begin {text}")).exercise("lifting").steps[0].dose


@pytest.mark.parametrize(
    ("unit", "base"),
    [
        ("lb", "0.45359237"),  # kg: international yard and pound agreement, 1959
        ("inch", "0.0254"),  # m: the same
        ("mile", "1609.344"),  # m: 5280 feet of 0.3048 m
        ("km", "1000"),
        ("cm", "0.01"),
        ("min", "60"),  # s: BIPM, SI Brochure, 9th edition, table 8
        ("h", "3600"),
        ("week", "7"),  # days: ISO 8601
    ],
)
def test_one_unit_is_exactly_so_many_of_the_base_unit(unit: str, base: str):
    assert Quantity(Fraction(1), unit).base == Fraction(base)


def test_a_mile_is_5280_feet_of_twelve_inches():
    assert Quantity(Fraction(1), "mile").base == 5280 * 12 * Quantity(Fraction(1), "inch").base


@pytest.mark.parametrize(
    ("more", "less"),
    [
        ("3x8 at 5 kg", "3x8 at 11 lb"),  # 4.98951607 kg
        ("1 mile", "1.6 km"),
        ("1610 m", "1 mile"),
        ("3x8 step 8 inch", "3x8 step 20 cm"),  # 20.32 cm
        ("1 h", "59 min"),
        ("2x60 s", "2x1 min"),
    ],
)
def test_doses_in_two_units_are_compared_exactly(more: str, less: str):
    assert at_least(dose(more), dose(less)) is True


@pytest.mark.parametrize(
    ("less", "more"), [("3x8 at 11 lb", "3x8 at 5 kg"), ("1.609 km", "1 mile"), ("3x8 step 7.8 inch", "3x8 step 20 cm")]
)
def test_a_hair_less_is_not_enough(less: str, more: str):
    assert at_least(dose(less), dose(more)) is False


def test_one_mile_is_both_ways_at_least_1609_344_metres():
    assert at_least(dose("1 mile"), dose("1.609344 km")) is True
    assert at_least(dose("1.609344 km"), dose("1 mile")) is True


@pytest.mark.parametrize("text", ["3x8 at 5 lb", "1.5 miles", "3x8 step 8 inch", "20 min", "2-3x2-5 at 60-80 %1RM"])
def test_nothing_is_converted_in_what_is_printed(text: str):
    assert dose_text(dose(text)) == text
