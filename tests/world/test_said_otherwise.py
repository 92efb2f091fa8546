"""What the published programmes say and the language does not: the finding says what to write instead."""

from __future__ import annotations

import pytest

from tests.world.programmes import found_in, plan_text

EXERCISE = ("exercise leg-press", "begin 2x8-12")
SESSION = (*EXERCISE, 'session "A"', "do leg-press")

SAID = [
    # Trials 2017;18, Table 1: "60-80" without its per cent sign, and an empty cell
    ((*EXERCISE, "then 2-3x2-5 at 60-80 1RM"), "%1RM"),
    ((*EXERCISE, "then"), "dose"),
    # Cochrane PMC4324332: "2 a month", "1 a month", a year in months
    ((*SESSION, "days 2 a month"), "once every 4 weeks"),
    (("lasts 12 months",), "week"),
    # Trials 2023: "walk 2 min, run 3 min" until a distance is reached
    (("exercise run", "begin walk 2 min, run 3 min until 1 mile"), "a dose like"),
    # CDC with Tufts 2002: other first weights for women and for men, in pounds
    (("exercise curl", "begin 2x10 at 2 pounds"), "lb"),
    # OxSport leaflet: "every other day"
    ((*SESSION, "days every other day"), "every second"),
    # a cycling trial's "57-67 HRmax" without its sign
    (("exercise cycling", "begin 20 min at 57-67 HRmax"), "%HRmax"),
    # high-speed leg training: some of squat, stair climbing and lunge, by choice
    ((*EXERCISE, 'session "A"', "do 2 of squat, lunge"), "two sessions"),
    # a pace that comes to no whole weeks: "+ 2 min each day"
    ((*EXERCISE, "then 3x12", "progress every 10 days"), "multiple of 7 days"),
]


@pytest.mark.parametrize(("lines", "said"), SAID, ids=[lines[-1] for lines, _ in SAID])
def test_the_finding_says_what_to_write_instead(lines: tuple[str, ...], said: str):
    found = [f for f in found_in(plan_text(*lines)) if f.rule in ("unreadable", "unreckonable", "contradiction")]
    assert len([f for f in found if said in f.message + f.advice]) == 1, [(f.message, f.advice) for f in found]


def test_a_part_three_from_week_seven_on_ends_with_the_plan():
    # CDC with Tufts 2002, "week 7 on": a calendar stops somewhere, so a plan has to say how long it lasts
    lines = (*EXERCISE, "training weeks 7 on")
    text = "\n".join(line for line in plan_text(*lines).splitlines() if not line.startswith("lasts"))
    assert any("how long" in f.message for f in found_in(text))


def test_a_phase_that_lies_past_the_plan_is_found():
    found = found_in(plan_text(*EXERCISE, "training weeks 13 on"))
    assert any("never come" in f.message and "12 training weeks" in f.message for f in found)
