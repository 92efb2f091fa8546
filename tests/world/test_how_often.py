"""Frequencies as published, counted in whole plans."""

from __future__ import annotations

import pytest

from tests.world.programmes import changed, found_in, plan_text, sessions_a_week, training, weeks_of

SQUATS = ("exercise squat", "begin 2x8", 'session "Squats"', "do squat")


def test_every_second_day_for_seven_weeks_is_25_from_the_first_day():
    # OxSport leaflet, seven weeks every other day: 24 or 25, by the day on which it starts (our own count)
    assert sum(sessions_a_week(weeks_of(plan_text(*SQUATS, "days every second day", weeks=7)))) == 25


def test_every_second_day_for_seven_weeks_is_24_from_the_second_day():
    weeks = weeks_of(plan_text(*SQUATS, "days every second day", "training weeks 2 to 8", weeks=8))
    assert sessions_a_week(weeks) == [0, 3, 4, 3, 4, 3, 4, 3]


@pytest.mark.parametrize("starts", ["2027-03-01", "2027-03-04", "2027-03-07"])
def test_every_second_day_does_not_depend_on_the_weekday_of_the_start(starts: str):
    assert sessions_a_week(weeks_of(plan_text(*SQUATS, "days every second day", weeks=7, starts=starts))) == [
        4, 3, 4, 3, 4, 3, 4,
    ]  # fmt: skip


def test_48_sessions_three_a_week_in_four_months_of_four_weeks():
    # "48 sessions, 3 a week, four months" works only with months of four weeks
    assert sum(sessions_a_week(weeks_of(plan_text(*SQUATS, "days 3 a week", weeks=16)))) == 48


def test_months_are_refused_and_four_weeks_or_a_date_offered():
    found = found_in(changed(plan_text(*SQUATS, "days 3 a week"), "lasts 12 weeks", "lasts 4 months"))
    assert found[0].rule == "unreadable"
    assert "weeks" in found[0].message + found[0].advice


def test_a_plan_that_starts_on_a_thursday_has_no_partial_first_week():
    # "3 a week", first day a Thursday: each of its weeks runs Thursday to Wednesday and holds three
    weeks = weeks_of(plan_text(*SQUATS, "days 3 a week with 1 day between", weeks=4, starts="2027-03-04"))
    assert sessions_a_week(weeks) == [3, 3, 3, 3]
    assert weeks.weeks[0].sittings[0].day.isoformat() == "2027-03-04"


def test_four_a_week_with_a_day_between_needs_eight_days():
    found = found_in(plan_text(*SQUATS, "days 4 a week with 1 day between"))
    assert [f.rule for f in found] == ["contradiction"]


def test_three_days_that_do_not_touch_are_every_other_day():
    weeks = weeks_of(plan_text(*SQUATS, "days 3 a week with 1 day between"))
    assert [s.day.weekday() for s in weeks.weeks[0].sittings] == [0, 2, 4]


def test_phases_of_two_two_and_one_a_week():
    # "3 weeks x 2, 3 weeks x 2, 6 weeks x 1"
    lines = ("days 2 a week training weeks 1 to 6", "days once a week training weeks 7 to 12")
    assert sessions_a_week(weeks_of(plan_text(*SQUATS, *lines))) == [2] * 6 + [1] * 6


def test_once_in_four_weeks_is_three_times_in_twelve():
    assert sessions_a_week(weeks_of(plan_text(*SQUATS, "days once every 4 weeks"))) == [1, 0, 0, 0] * 3


def test_seventy_minutes_a_week_in_bouts_of_ten_has_no_sessions():
    weeks = weeks_of(plan_text("activity walking", "kind aerobic", "begin 70 min/week in bouts of 10 min"))
    assert sessions_a_week(weeks) == [0] * 12
    assert {w.minutes for w in training(weeks)} == {70}


def test_session_load_of_an_hour_at_seven_is_420_units():
    # Foster et al 2001, J Strength Cond Res 15:109: effort (0-10) x minutes
    lines = (
        "exercise cycling",
        "kind aerobic",
        "begin 60 min at effort 7/10",
        'session "Cycle"',
        "do cycling",
        "days Mon",
    )
    assert {w.load for w in weeks_of(plan_text(*lines)).weeks} == {420}
