"""Two published ways back to running."""

from __future__ import annotations

import itertools
from fractions import Fraction

from tests.world.programmes import plan_of, sessions_a_week, text_of, training, weeks_of

PHASES = "return-to-run-phases"  # Trials 2023 (doi 10.1186/s13063-023-07502-x), Table 1
EVERY_OTHER_DAY = "return-to-run-every-other-day"  # Oxford University Hospitals, OxSport leaflet


def test_six_phases_have_their_distance_and_effort():
    steps = [s.dose for s in plan_of(text_of(PHASES)).exercise("walk-and-run").steps]
    miles = [s.size.amounts[0].low for s in steps]
    assert miles == [1, Fraction(3, 2), Fraction(3, 2), 2, 2, 2]
    assert [(s.effort.rating.low, s.effort.scale) for s in steps] == [(e, 10) for e in (3, 3, 4, 4, 5, 5)]


def test_minutes_until_a_distance_are_kept_as_words():
    # "walk 2 / run 3 until 1.0 mile": how often is not known beforehand; the intervals are words, the distance the dose
    steps = [s.dose for s in plan_of(text_of(PHASES)).exercise("walk-and-run").steps]
    assert [s.variant for s in steps] == [
        "walk 2 min, run 3 min, in turn",
        "walk 2 min, run 3 min, in turn",
        "walk 2 min, run 4 min, in turn",
        "walk 2 min, run 4 min, in turn",
        "walk 1 min, run 4 min, in turn",
        "run all the way",
    ]


def test_each_phase_at_least_twice_is_a_deed_and_the_calendar_assumes_a_week():
    pace = plan_of(text_of(PHASES)).exercise("walk-and-run").pace
    assert (pace.by, pace.sessions, pace.weeks) == ("deed", 2, 1)
    weeks = training(weeks_of(text_of(PHASES)))
    assert [w.exercises["walk-and-run"].step for w in weeks] == [0, 1, 2, 3, 4, 5]


def test_at_least_one_day_between_two_runs():
    days = sorted(s.day for w in weeks_of(text_of(PHASES)).weeks for s in w.sittings)
    assert min((b - a).days for a, b in itertools.pairwise(days)) >= 2


def test_jogging_minutes_of_the_seven_weeks():
    # jog 1/walk 1, 2/1, 4/1, 9/1 for 30 min, 15/1 twice, 30, then not more than 10 % longer
    weeks = training(weeks_of(text_of(EVERY_OTHER_DAY)))
    jogged = [sum(a.low for a in w.exercises["jog"].dose.size.by_set()) for w in weeks]
    assert jogged == [15, 20, 24, 27, 30, 30, 33]
    assert jogged[-1] <= jogged[-2] * Fraction(110, 100)


def test_walk_and_jog_in_turn_last_half_an_hour_in_the_first_four_weeks():
    weeks = training(weeks_of(text_of(EVERY_OTHER_DAY)))
    assert [{s.minutes for s in w.sittings} for w in weeks[:4]] == [{30}] * 4
    assert {s.minutes for s in weeks[4].sittings} == {32}  # 15 jog, 1 walk, twice


def test_every_other_day_alternates_four_and_three():
    held = sessions_a_week(weeks_of(text_of(EVERY_OTHER_DAY)))
    assert held == [4, 3, 4, 3, 4, 3, 4]


def test_up_after_a_week_free_of_pain_and_down_with_pain():
    pace = plan_of(text_of(EVERY_OTHER_DAY)).exercise("jog").pace
    assert (pace.weeks, pace.condition, pace.down_if) == (1, "a week free of pain", "pain")
