"""Doses as one string: the order of parts, back to the same dose, and kilograms beside a share of the most."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.model.dose import Dose, Effort, Load, Rest, Size, SizeKind
from planlang.model.plan import Tested as Lift
from planlang.model.plan import Today
from planlang.model.quantity import Quantity, Range
from planlang.model.reading import read_plan
from planlang.model.show import dose_text, one_repetition_maximum
from planlang.text.source import Source


def read_dose(text: str) -> Dose:
    source = Source("dose.plan", f'plan "A"\nstarts 2027-03-01\nlasts 4 weeks\nexercise squat\nbegin {text}\n')
    plan, findings = read_plan(source)
    assert plan is not None
    assert [f.message for f in findings] == []
    return plan.exercises[0].steps[0].dose


@pytest.mark.parametrize(
    "text",
    [
        "3x8",
        "3x8-12",
        "2-3x2-5",
        "1x6",
        "3x30 s",
        "30, 15, 15, 15 reps",
        "10, 5, 5 min",
        "20 min",
        "1 h",
        "1.5 km with 100 m of climb",
        "1 mile",
        "2 miles",
        "3200 steps/day",
        "70 min/week in bouts of 10 min",
        "3x to fatigue, at most 15",
        "3x to fatigue",
        "as tolerated",
        "2x10 each side",
        "left 3x8 at 4 kg right 2x8 at 2 kg",
        "left 3x8",
        "3x8 at 4 kg",
        "3x8 at 2.5 lb",
        "3x8 at 60-80 %1RM of leg-press",
        "3x8 at 70 %1RM",
        "3x8 at 12RM",
        "3x8 at 8-12RM",
        "3x8 at 10 % of body-weight",
        "3x8 at effort 3-5/10",
        "3x8 at effort 13/20",
        "3x8 at 3 reps in reserve",
        "8x2 min at 80 %HRmax easy 2 min at 60 %HRmax",
        "8x2 min easy 2 min",
        "3x10 holding 5 s",
        "3x10 holding 5-10 s",
        "2x10 step 15 cm",
        "2x10 chair 45 cm",
        'with "firm band"',
        "3x8 tempo 2-1-4",
        "3x8 resting 60 s",
        "3x8 resting 30-60 s",
        "4x3 min resting as long as a set",
        "2x10 once a day",
        "2x10 twice a day",
        "2x10 3 times a day",
        "2x10 2 to 3 times a day",
        "to be set at week 2",
        "80 % of measured walking in week 1",
    ],
)
def test_the_words_of_a_dose_come_back(text):
    text = f"3x8 {text}" if text.startswith("with") else text
    assert dose_text(read_dose(text)) == text


def test_the_parts_stand_in_the_fixed_order_whatever_order_they_were_written_in():
    timing = "twice a day resting 60 s tempo 2-1-4"
    things = 'with "firm band" chair 45 cm step 15 cm'
    assert dose_text(read_dose(f"3x8 {timing} {things} holding 5 s at effort 6/10 at 4 kg each side")) == (
        '3x8 each side at 4 kg at effort 6/10 holding 5 s step 15 cm chair 45 cm with "firm band" '
        "tempo 2-1-4 resting 60 s twice a day"
    )


def test_the_variant_is_not_in_it_and_carried_parts_are():
    body = 'exercise squat\nbegin 2x6 "high chair" at 2 kg resting 60 s\nthen 2x8\nprogress every week\n'
    plan, _ = read_plan(Source("a.plan", f'plan "A"\nstarts 2027-03-01\nlasts 4 weeks\n{body}'))
    assert [dose_text(s.dose) for s in plan.exercises[0].steps] == [
        "2x6 at 2 kg resting 60 s",
        "2x8 at 2 kg resting 60 s",
    ]


ranges = st.tuples(st.integers(1, 30), st.integers(0, 10)).map(lambda t: Range.of(t[0], t[0] + t[1]))
tenths = st.integers(1, 400).map(lambda n: Fraction(n, 10))
sizes = st.one_of(
    st.builds(lambda a, s: Size(SizeKind.REPS, (a,), "reps", s), ranges, ranges),
    st.builds(lambda a, s: Size(SizeKind.TIMED_SETS, (a,), "s", s), ranges, ranges),
    st.lists(st.integers(1, 40).map(Range.of), min_size=2, max_size=4).map(
        lambda a: Size(SizeKind.REPS, tuple(a), "reps", Range.of(len(a)))
    ),
    st.builds(lambda a: Size(SizeKind.TIME, (a,), "min"), ranges),
    tenths.map(lambda n: Size(SizeKind.DISTANCE, (Range(n, n),), "km")),
)
loads = st.one_of(
    tenths.map(lambda n: Load("mass", Range(n, n), "kg")),
    ranges.map(lambda r: Load("1RM", r, "%", "leg-press")),
    ranges.map(lambda r: Load("RM", r, "RM")),
    ranges.map(lambda r: Load("body weight", r, "%")),
)
doses = st.builds(
    Dose,
    size=sizes,
    each_side=st.booleans(),
    load=st.none() | loads,
    effort=st.none() | st.integers(1, 10).map(lambda n: Effort(Range.of(n), 10)),
    reserve=st.none() | st.integers(1, 5).map(Range.of),
    hold=st.none() | st.integers(1, 60).map(lambda n: Quantity(Fraction(n), "s")),
    step_height=st.none() | st.integers(5, 40).map(lambda n: Quantity(Fraction(n), "cm")),
    band=st.none() | st.sampled_from(["firm band", "long, light band"]),
    tempo=st.none() | st.tuples(*[st.integers(0, 9)] * 3),
    rest=st.none() | ranges.map(lambda r: Rest(r, "s")) | st.just(Rest()),
    times_a_day=st.none() | ranges,
)


@settings(max_examples=150, derandomize=True, deadline=None)
@given(doses)
def test_any_dose_reads_back_as_itself(dose):
    assert read_dose(dose_text(dose)) == dose


def kg(value: str, unit: str = "kg") -> Quantity:
    return Quantity(Fraction(value), unit)


@pytest.mark.parametrize(
    ("reps", "percent"), [(2, 94), (3, 91), (4, 88), (5, 86), (6, 83), (7, 81), (8, 79), (9, 77), (10, 75)]
)
def test_the_most_that_can_be_lifted_once_is_epleys(reps, percent):
    # Epley 1985, table for 2 to 10 repetitions, in whole per cent of the most that can be lifted once.
    most = one_repetition_maximum(Lift("leg-press", kg("100"), reps)).value
    assert abs(100 / most * 100 - percent) <= Fraction(1)


def test_a_test_of_one_repetition_is_the_most_itself():
    assert one_repetition_maximum(Lift("leg-press", kg("40"), 1)) == kg("40")


PRESS = Lift("leg-press", kg("40"), 8)


@pytest.mark.parametrize(
    ("load", "weights", "expected"),
    [
        # 40 kg for 8 repetitions: 40 x (1 + 8 / 30) = 50.67 kg; 70 % of it 35.47 kg.
        ("70 %1RM", "", "35.4 kg"),
        ("70 %1RM", "20 25 30 35 40", "35 kg"),
        ("60-80 %1RM", "20 25 30 35 40", "30-40 kg"),
        ("60-80 %1RM", "30 50", "30 kg"),
        ("70 %1RM", "40 50", None),
        ("60-80 %1RM", "40 50", "40 kg"),
    ],
)
def test_kilograms_are_rounded_down_to_what_the_person_has(load, weights, expected):
    today = Today(tested=(PRESS,), weights=tuple(kg(w) for w in weights.split()))
    text = dose_text(read_dose(f"3x8 at {load} of leg-press"), today)
    assert text == f"3x8 at {load} of leg-press" + (f" ({expected})" if expected else "")


def test_a_bare_share_is_of_the_exercise_itself():
    dose = read_dose("3x8 at 70 %1RM")
    assert dose_text(dose, Today(tested=(PRESS,)), "leg-press") == "3x8 at 70 %1RM (35.4 kg)"
    assert dose_text(dose, Today(tested=(PRESS,)), "squat") == "3x8 at 70 %1RM"


def test_pounds_stay_pounds():
    # 135 lb for 12 repetitions, by Epley 1985: 135 x 1.4 = 189 lb; 80 % of it is 151.2 lb.
    today = Today(tested=(Lift("leg-press", kg("135", "lb"), 12),))
    assert dose_text(read_dose("3x8 at 80 %1RM of leg-press"), today) == "3x8 at 80 %1RM of leg-press (151.2 lb)"


def test_each_side_has_its_own_kilograms():
    dose = read_dose("left 3x8 at 70 %1RM of leg-press right 2x8 at 50 %1RM of leg-press")
    assert dose_text(dose, Today(tested=(PRESS,))).endswith("(left 35.4 kg, right 25.3 kg)")
