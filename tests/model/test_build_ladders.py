"""`rise`, `progress` and the pace that they come to."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planlang.model.exercise import Exercise, Pace, Window
from tests.model.reading_help import clean, exercise, messages, read


def activity(lines: str) -> Exercise:
    made = clean(f"activity walking\n{lines}\n").exercise("walking")
    assert made is not None
    return made


def amounts(made: Exercise) -> list[Fraction]:
    return [s.dose.size.amounts[0].low for s in made.steps if s.dose.size]


def test_a_rise_by_a_number_ends_at_its_aim() -> None:
    made = activity("begin 3200 steps/day\nrise 300 steps/day every week to 5000 steps/day")
    assert amounts(made) == [3200, 3500, 3800, 4100, 4400, 4700, 5000]
    assert made.pace is not None
    assert made.pace.weeks == 1


def test_the_step_that_would_pass_the_aim_is_the_aim() -> None:
    assert amounts(activity("begin 3200 steps/day\nrise 500 steps/day every 2 weeks to 4000 steps/day")) == [
        3200,
        3700,
        4000,
    ]


def test_a_percentage_is_cut_down_to_a_multiple_of_the_rounding() -> None:
    made = activity("begin 3309 steps/day\nrise 10 % every 14 days to 4500 steps/day rounded to 100")
    assert amounts(made) == [3309, 3600, 3900, 4200, 4500]
    assert made.pace is not None
    assert made.pace.weeks == 2


def test_without_rounding_the_last_digit_place_of_begin_is_kept() -> None:
    made = activity("begin 2.5 km\nrise 10 % every week to 3.3 km")
    assert amounts(made) == [Fraction("2.5"), Fraction("2.7"), Fraction("2.9"), Fraction("3.1"), Fraction("3.3")]


def test_a_rise_in_another_unit_of_the_same_kind() -> None:
    assert amounts(activity("begin 20 min\nrise 120 s every week to 25 min")) == [20, 22, 24, 25]


def test_a_rise_of_load_leaves_the_size() -> None:
    made = exercise("begin 4x5 at 30 kg\nrise 5 kg every week to 45 kg", "leg-press")
    assert [s.dose.load.amount.low for s in made.steps if s.dose.load] == [30, 35, 40, 45]
    assert {s.dose.size for s in made.steps} == {made.steps[0].dose.size}


def test_a_rise_that_stands_still_names_what_moves() -> None:
    _, findings = read("activity walking\nbegin 3200 steps/day\nrise 2 % every week to 5000 steps/day rounded to 100\n")
    assert [f.rule for f in findings] == ["contradiction"]
    # 3200 + 2 % = 3264: cut down to 50 it is 3250, to 100 it is 3200 again
    assert "rounded to 50" in findings[0].advice


def test_a_rise_too_small_for_any_rounding_names_the_percentage() -> None:
    _, findings = read("activity walking\nbegin 10 min\nrise 5 % every week to 20 min\n")
    assert "10 %" in findings[0].advice


@pytest.mark.parametrize(
    ("lines", "pace"),
    [
        ("progress every 2 weeks", Pace(2)),
        ('progress every 2 weeks if "clean"', Pace(2, condition="clean")),
        ("progress every week from training week 3", Pace(1, from_week=3)),
        ("progress after 2 sessions clean, about every week", Pace(1, "deed", 2)),
        (
            'progress every 3 weeks by date, one step down if "above 6/10 on 3 days of 5"',
            Pace(3, "date", down_if="above 6/10 on 3 days of 5"),
        ),
    ],
)
def test_paces(lines: str, pace: Pace) -> None:
    assert exercise(f"begin 2x8\nthen 3x8\n{lines}").pace == pace


def test_a_pace_that_is_not_whole_weeks_is_found() -> None:
    assert messages("exercise squat\nbegin 2x8\nthen 3x8\nprogress every 10 days\n") == [
        ("unreckonable", "progress every 10 days")
    ]


def test_rise_and_progress_contradict_and_show_both_places() -> None:
    _, findings = read("activity walking\nbegin 20 min\nrise 2 min every week to 30 min\nprogress every 2 weeks\n")
    assert [f.rule for f in findings] == ["contradiction"]
    assert findings[0].related[0].span is not None


def test_a_step_can_keep_its_own_length() -> None:
    assert [s.weeks for s in exercise("begin 2x8\nthen 3x8 for 3 weeks\nprogress every week").steps] == [None, 3]


@pytest.mark.parametrize(
    ("text", "ranges"),
    [
        ("training weeks 5 to 10", ((5, 10),)),
        ("training weeks 1 to 3, 5, 7", ((1, 3), (5, 5), (7, 7))),
        ("training week 5", ((5, 5),)),
        ("training week 5 on", ((5, None),)),
        ("training weeks 5-10", ((5, 10),)),
    ],
)
def test_training_weeks(text: str, ranges: tuple[tuple[int, int | None], ...]) -> None:
    assert exercise(f"begin 2x8\n{text}").window == Window(ranges)
