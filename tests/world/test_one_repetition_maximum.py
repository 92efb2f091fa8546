"""One repetition maximum against the tables in print."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planlang.model import plan as model
from planlang.model.quantity import Quantity
from planlang.model.show import dose_text, one_repetition_maximum
from tests.world.programmes import plan_of, plan_text

# Epley 1985, 1RM = w (1 + reps/30), table of k = 0.0333: per cent of the maximum for so many repetitions
EPLEY = {2: 94, 3: 91, 4: 88, 5: 86, 6: 83, 7: 81, 8: 79, 9: 77, 10: 75}
# NSCA training load chart (read in secondary copies)
NSCA = {1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75, 11: 73, 12: 70}


def share(reps: int) -> Fraction:
    """Per cent of the maximum at which so many repetitions are possible, by the product."""
    return 100 * 100 / one_repetition_maximum(model.Tested("leg-press", Quantity(Fraction(100), "kg"), reps)).value


@pytest.mark.parametrize("reps", EPLEY)
def test_epley_s_table_to_the_whole_per_cent(reps: int):
    assert round(share(reps)) == EPLEY[reps]


def test_one_repetition_is_the_maximum_itself():
    assert share(1) == 100


def test_brzycki_and_epley_meet_at_ten_repetitions():
    # Brzycki 1993: 1RM = w x 36 / (37 - reps); both give 75 % at 10
    assert share(10) == Fraction(100 * (37 - 10), 36) == 75


@pytest.mark.parametrize("reps", NSCA)
def test_the_nsca_chart_is_never_more_than_two_and_a_half_points_away(reps: int):
    assert abs(share(reps) - NSCA[reps]) <= Fraction(5, 2)


def test_eight_repetitions_from_a_test_of_twelve_as_the_chart_converts():
    # the chart's own example in pounds: 135 lb for 12, x 0.80 / 0.70 = 154.3 lb for 8; Epley gives 149.2
    tested = model.Tested("bench", Quantity(Fraction(135), "lb"), 12)
    eight = one_repetition_maximum(tested).value * share(8) / 100
    assert round(float(eight), 1) == 149.2
    assert abs(float(eight) - 154.286) < 0.04 * 154.286


def test_kilograms_in_a_plan_are_rounded_down_to_the_weights_at_hand():
    text = plan_text(
        "today",
        "tested leg-press 40 kg for 8 reps",
        "weights 10, 20, 30, 40 kg",
        "exercise leg-press",
        "begin 3x8 at 70 %1RM",
    )
    plan = plan_of(text)
    # 40 x (1 + 8/30) = 50.67 kg; 70 % is 35.47 kg; the heaviest at hand that is no more is 30 kg
    assert dose_text(plan.exercise("leg-press").steps[0].dose, plan.today, "leg-press") == "3x8 at 70 %1RM (30 kg)"
