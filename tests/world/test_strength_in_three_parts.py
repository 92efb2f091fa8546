"""Strength for older adults in three parts: US Centers for Disease Control and Prevention, Tufts University, 2002."""

from __future__ import annotations

import itertools
from fractions import Fraction

from planlang.planning.week import WeekKind
from tests.world.programmes import changed, plan_of, text_of, training, weeks_of

NAME = "strength-in-three-parts"


def test_two_weeks_of_part_one_then_four_of_part_two_then_part_three():
    weeks = training(weeks_of(text_of(NAME)))
    assert [{s.name for s in w.sittings} for w in weeks] == [{"Part one"}] * 2 + [{"Part two"}] * 4 + [
        {"Part three"}
    ] * 6


def test_an_easier_week_makes_part_one_longer_and_later_parts_wait():
    # "at least two weeks" of part one, "at least four" of part two: the calendar moves, the order stays
    weeks = weeks_of(text_of(NAME), frozenset({2}))
    first_of = {s.name: w.number for w in reversed(weeks.weeks) if w.training_week for s in w.sittings}
    assert first_of == {"Part one": 1, "Part two": 4, "Part three": 8}
    assert weeks.dropped == 0


def test_no_two_days_touch():
    for week in weeks_of(text_of(NAME)).weeks:
        days = sorted(s.day for s in week.sittings)
        assert all((b - a).days >= 2 for a, b in itertools.pairwise(days))


def test_two_sets_of_ten_each_side_up_for_two_a_pause_down_for_four():
    dose = plan_of(text_of(NAME)).exercise("knee-straightening").steps[0].dose
    assert (dose.size.sets.low, dose.size.amounts[0].low, dose.each_side) == (2, 10, True)
    assert dose.tempo == (2, 1, 4)
    assert (dose.rest.amount.low, dose.rest.amount.high, dose.rest.unit) == (1, 2, "min")


def test_first_weights_for_women_are_two_three_and_five_pounds():
    plan = plan_of(text_of(NAME))
    loads = [s.dose.load for s in plan.exercise("arm-curl").steps]
    assert [(load.amount.low, load.unit) for load in loads] == [(2, "lb"), (3, "lb"), (5, "lb")]
    # the international pound of 1959 is 0.45359237 kg exactly
    assert [w.base for w in plan.today.weights] == [n * Fraction("0.45359237") for n in (2, 3, 5)]


def test_unwell_or_away_do_part_one_instead():
    plan = plan_of(text_of(NAME))
    assert {(i.when, i.session) for s in plan.sessions for i in s.instead} == {("unwell", "Part one")}
    away = next(w for w in weeks_of(text_of(NAME)).weeks if w.kind is WeekKind.AWAY)
    assert {s.name for s in away.sittings} == {"Part one"}
    assert away.training_week is None


def test_reach_has_to_say_each_side_as_the_ladder_does():
    text = changed(text_of(NAME), "reach      2x10 each side at 5 lb", "reach 2x10 at 5 lb")
    found = [f for f in weeks_of(text).findings if "can't be compared" in f.message]
    assert len(found) == 1
    assert "each side at 5 lb" in found[0].advice
