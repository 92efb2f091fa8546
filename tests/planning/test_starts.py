"""When an exercise begins, and gaps that come from phases."""

from __future__ import annotations

import pytest

from tests.planning.plans import messages, on_mondays, plan_of, reckoned, row


def waiting(
    weeks: int = 10,
    room: int = 0,
    days: str = "Mon, Thu",
    start: str = "start after 3 weeks of strength",
    head: str = "",
    rest: str = "",
):
    body = f"""
        exercise squat
        kind strength
        begin 2x6
        then 2x8
        then 2x10
        progress every 2 weeks
        activity walking
        kind aerobic
        begin 3000 steps/day
        rise 300 steps/day every week to 4500 steps/day
        {start}
        session "A"
        days {days}
        do squat
    """
    return plan_of(body, weeks, room, rest, head)


def test_it_begins_after_so_many_training_weeks_of_a_kind():
    found = reckoned(waiting())
    assert row(found, "walking") == ". . . 1 2 3 4 5 6 6"
    assert found.begins == {"squat": 1, "walking": 4}


def test_a_rest_week_does_not_count_and_an_easing_one_does():
    # Training weeks 1, 2 | rest | 3 (eased) : the third is held in week 4, so walking may begin in week 5.
    assert row(reckoned(waiting(room=1), 3), "walking") == ". . R . 1 2 3 4 5 6"


def test_it_never_begins_in_a_week_in_which_anything_is_eased():
    # Weeks 1 to 3 hold the work; week 5 is eased, so it begins in the next.
    assert row(reckoned(waiting(room=1), 4), "walking") == ". . . R . 1 2 3 4 5"


def test_a_strength_week_needs_two_sessions():
    found = reckoned(waiting(days="Mon"))
    assert row(found, "walking") == " ".join("." * 10)
    assert any("`walking` never begins" in m for m in messages(found))


def test_an_exercises_name_needs_one_session():
    assert row(reckoned(waiting(days="Mon", start="start after 3 weeks of squat")), "walking").startswith(". . . 1")


def test_work_before_the_plan_counts_in():
    assert row(reckoned(waiting(head="today\nbase strength 2 weeks")), "walking").startswith(". 1 2 3")


def test_sessions_left_out_for_days_away_do_not_count():
    plan = waiting(head="away 2027-03-11 to 2027-03-11")
    assert row(reckoned(plan), "walking").startswith(". . . . 1")


def test_a_start_after_a_dose_waits_for_the_week_after_it():
    found = reckoned(waiting(start="start after reach 2x8 in squat"))
    assert row(found, "walking") == ". . . 1 2 3 4 5 6 6"


def test_a_start_after_a_dose_that_no_step_is_never_comes():
    found = reckoned(waiting(start="start after reach 3x20 in squat"))
    assert found.begins["walking"] is None
    assert any("never begins" in m for m in messages(found))


def test_two_that_wait_for_each_other_never_begin():
    body = """
        exercise squat
        kind strength
        begin 2x6
        start after 1 week of bridge
        exercise bridge
        kind strength
        begin 2x6
        start after 1 week of squat
        session "A"
        days Mon, Thu
        do squat, bridge
    """
    found = reckoned(plan_of(body))
    assert found.begins == {"squat": None, "bridge": None}
    assert len([m for m in messages(found) if "never begins" in m]) == 2


def test_nothing_of_the_kind_is_said_once():
    found = reckoned(waiting(start="start after 3 weeks of balance"))
    assert [m for m in messages(found) if "walking" in m] == [
        "Nothing in this plan is `balance`, so `walking` never begins."
    ]


def test_training_week_on_begins_then_wherever_the_rest_falls():
    assert row(reckoned(waiting(room=1, start="training week 4 on"), 2), "walking") == ". R . . 1 2 3 4 5 6"


def test_a_phase_of_one_week_out_goes_on_and_of_two_is_eased():
    def phases(text: str) -> str:
        lines = f"begin 2x6\nthen 2x8\nthen 2x10\nprogress every 1 week\ntraining weeks {text}"
        return row(reckoned(on_mondays(lines)))

    assert phases("1 to 2, 4 on") == "1 2 . 3 3 3 3 3"
    assert phases("1 to 2, 5 on") == "1 2 . . 1 2 3 3"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("training weeks 2 to 3, 5", ". 1 1 . 1 . . ."),
        ("training week 4", ". . . 1 . . . ."),
        ("training week 7 on", ". . . . . . 1 1"),
    ],
)
def test_a_session_stands_in_its_training_weeks(line, expected):
    body = f'exercise squat\nbegin 2x6\nsession "A"\ndays Mon\n{line}\ndo squat'
    assert row(reckoned(plan_of(body))) == expected


def test_a_daily_activity_goes_on_at_its_first_step_in_a_rest_week():
    rise = "rise 300 steps/day every week to 4500 steps/day"
    body = f"activity walking\nbegin 3000 steps/day\n{rise}\nat most 25 % above the aim"
    found = reckoned(plan_of(body, 8, 1), 4)
    assert [w.activities["walking"].step for w in found.weeks] == [0, 1, 2, 0, 1, 2, 3, 4]
    rest = found.weeks[3].activities["walking"]
    assert (rest.own, rest.easing, rest.at_most) == (False, False, 3750)


def test_a_daily_activity_that_has_not_begun_does_not_go_on():
    found = reckoned(plan_of("activity walking\nbegin 3000 steps/day", 4, 1), 1)
    assert [list(w.activities) for w in found.weeks] == [[], ["walking"], ["walking"], ["walking"]]


def test_what_still_do_names_is_gentle_and_no_activity_in_that_week():
    body = 'activity walking\nbegin 3000 steps/day\nexercise squat\nbegin 2x6\nsession "A"\ndays Mon\ndo squat'
    found = reckoned(plan_of(body, 4, 1, "still do walking 5 min 3 times a day\nstill do ankle-pumps 2x10"), 2)
    week = found.weeks[1]
    assert [(n, d.step, d.gentle, d.own) for n, d in week.exercises.items()] == [
        ("walking", None, True, False),
        ("ankle-pumps", None, True, False),
    ]
    assert (week.activities, week.sittings, week.minutes, week.sets) == ({}, (), 0, {})


def test_a_weekly_quota_stops_in_a_rest_week():
    found = reckoned(plan_of("activity walking\nbegin 70 min/week in bouts of 10 min", 3, 1), 2)
    assert [(list(w.activities), w.minutes) for w in found.weeks] == [(["walking"], 70), ([], 0), (["walking"], 70)]
