"""Slips that are read and make no sense: named when the model is built."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.model.reading_help import clean, messages, read


@pytest.mark.parametrize(
    "lines",
    [
        "today\ndaily-steps 10.684 steps/day\n",
        "activity walking\nkind aerobic\nbegin 10.684 steps/day\n",
        "exercise squat\nkind strength\nbegin 7.5 reps\n",
    ],
)
def test_what_is_counted_whole_has_no_point(lines: str) -> None:
    number = next(word for word in lines.split() if "." in word)
    assert ("unreadable", number) in messages(lines)


def test_a_point_for_thousands_is_offered_away() -> None:
    _, findings = read("today\ndaily-steps 10.684 steps/day\n")
    assert any("Write 10684" in f.advice for f in findings)


@pytest.mark.parametrize("name", ["plan", "goal", "rest", "session"])
def test_no_exercise_is_named_like_a_block(name: str) -> None:
    assert ("unreadable", name) in [
        (rule, place.split()[-1]) for rule, place in messages(f"exercise {name}\nbegin 2x8\n")
    ]


def test_degrees_and_millimetres_are_units() -> None:
    plan, _ = read("today\nknee-bend 95 degrees\npain-line 35 mm\n")
    assert [(m.value.value, m.value.unit) for m in plan.today.measures] == [(95, "degree"), (35, "mm")]
    assert plan.today.measures[1].value.base == Fraction(35, 1000)


def test_a_pain_limit_may_be_points_above_usual() -> None:
    plan = clean("today\nusual-pain 3/10\npain\naccept up to 2 points above usual during\nsettle within 24 hours\n")
    assert plan.pain is not None
    assert plan.pain.accept_above_usual == 2
