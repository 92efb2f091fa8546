"""Doses in a person's words."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.model.say import day_text, dose_words, exercise_text, minutes_text, name_text
from planlang.text.source import Source


def plan_with(dose: str) -> Plan:
    plan, findings = read_plan(
        Source("made.plan", f'plan "Trial"\nexercise leg-press\n  kind strength\n  begin {dose}\n')
    )
    assert plan
    assert not [f for f in findings if f.rule == "unreadable"]
    return plan


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("2x8", "2 x 8"),
        ("3x8-12", "3 x 8 to 12"),
        ("2-3x2-5", "2 to 3 x 2 to 5"),
        ("2x10 each side", "2 x 10 each side"),
        ("3x30 s each side", "3 x 30 s each side"),
        ("3x10 holding 5 s", "3 x 10, holding 5 s"),
        ("30, 15, 15, 15 reps", "30, then 15, then 15, then 15"),
        ("10, 5, 5 min", "10, then 5, then 5 min"),
        ("20 min", "20 min"),
        ("1.5 km with 100 m of climb", "1.5 km, with 100 m of climb"),
        ("4x3 min resting 2 min", "4 x 3 min, resting 2 min between sets"),
        ("3x8 at 4 kg", "3 x 8, with 4 kg"),
        ("left 3x8 at 4 kg right 2x8 at 2 kg", "left 3 x 8, with 4 kg; right 2 x 8, with 2 kg"),
        ("3x8 at 60-80 %1RM", "3 x 8, with 60 to 80 % of the most you can lift once"),
        ("3x8 at 12RM", "3 x 8, with a weight that you can lift just 12 times"),
        ("3x8 at 10 % of body-weight", "3 x 8, with the weight on your sheet"),
        ("3x8 at effort 6/10", "3 x 8, effort 6 out of 10"),
        ("3x8 at effort 13/20", "3 x 8, effort 13 on the scale from 6 to 20"),
        ("3x8 at 3 reps in reserve", "3 x 8, stopping while you could still do 3 more"),
        ("3x8 step 15 cm", "3 x 8, step 15 cm"),
        ("3x8 chair 45 cm", "3 x 8, chair 45 cm"),
        ('3x8 with "firm band"', "3 x 8, with firm band"),
        ("3x8 tempo 2-1-4", "3 x 8, 2 s up, 1 s held, 4 s down"),
        ("3x8 resting as long as a set", "3 x 8, resting as long as a set takes"),
        ("2x10 twice a day", "2 x 10, twice a day"),
        ("2x10 2 to 3 times a day", "2 x 10, 2 to 3 times a day"),
        ("3x to fatigue, at most 15", "3 x until the muscle tires, at most 15"),
        ("to be set at week 2", "how much is set with you in week 2"),
    ],
)
def test_a_dose_is_said_in_words_that_a_person_reads(written: str, said: str) -> None:
    assert dose_words(plan_with(written).exercises[0].steps[0].dose) == said


def test_an_exercise_is_said_with_how_it_is_done() -> None:
    exercise = plan_with('2x6 "dining chair, hands on thighs"').exercises[0]
    assert exercise_text(exercise, "sit-to-stand", exercise.steps[0].dose) == (
        "Sit to stand, dining chair, hands on thighs: 2 x 6"
    )


@pytest.mark.parametrize(
    ("name", "said"), [("sit-to-stand", "Sit to stand"), ("TUG", "TUG"), ("öffnen-links", "Öffnen links")]
)
def test_a_name_is_said_as_words(name: str, said: str) -> None:
    assert name_text(name) == said


def test_a_date_names_its_month() -> None:
    assert day_text(date(2027, 2, 2)) == "2 Feb 2027"


@pytest.mark.parametrize(("minutes", "said"), [(35, "35 min"), (120, "120 min"), (150, "2 h 30 min"), (180, "3 h")])
def test_long_times_are_said_in_hours(minutes: int, said: str) -> None:
    assert minutes_text(Fraction(minutes)) == said
