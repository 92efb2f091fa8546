"""Days of sessions through the weeks: every second day, phases, turns, days away, visits, `you choose`."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.planning.plans import messages, plan_of, reckoned, row

NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
SQUAT = "exercise squat\nbegin 2x6\nthen 2x8\nthen 2x10\nthen 2x12\nprogress every 1 week\n"


def days(week, name: str = "A") -> str:
    return " ".join(NAMES[s.day.weekday()] for s in week.sittings if s.name == name)


def squat_plan(lines: str, weeks: int = 4, room: int = 0, head: str = "", rest: str = ""):
    return plan_of(f'{SQUAT}session "A"\ndo squat\n{lines}', weeks, room, rest, head)


def test_every_second_day_counts_from_the_first_day_and_runs_on_through_rest():
    found = reckoned(squat_plan("days every second", 7, 1), 2)
    done = [s.day for w in found.weeks for s in w.sittings]
    start = date(2027, 3, 1)
    expected = [start + timedelta(days=n) for n in range(0, 49, 2) if n // 7 != 1]
    assert done == expected


def test_every_second_day_for_seven_weeks_is_24_or_25_sessions():
    # A leaflet's "every other day for 7 weeks" (Oxford University Hospitals, return to running).
    assert sum(len(w.sittings) for w in reckoned(squat_plan("days every second", 7)).weeks) == 25


def test_phases_have_their_own_frequency():
    found = reckoned(squat_plan("days 3 a week training weeks 1 to 2\ndays 2 a week training weeks 3 on"))
    assert [len(w.sittings) for w in found.weeks] == [3, 3, 2, 2]


def test_phases_are_training_weeks_so_rest_pushes_them_on():
    found = reckoned(squat_plan("days 3 a week training weeks 1 to 2\ndays 2 a week training weeks 3 on", 5, 1), 2)
    assert [len(w.sittings) for w in found.weeks] == [3, 0, 3, 2, 2]


def test_a_line_with_training_weeks_goes_before_one_without():
    found = reckoned(squat_plan("days Mon, Wed, Fri\ndays Tue training weeks 2"))
    assert [days(w) for w in found.weeks] == ["Mon Wed Fri", "Tue", "Mon Wed Fri", "Mon Wed Fri"]


def test_once_every_four_weeks_counts_training_weeks_from_its_first():
    found = reckoned(squat_plan("days once every 4 weeks", 10, 1), 3)
    assert row(found) == "1 . R . . 1 . . . 1"


def test_you_choose_is_one_untimed_entry_a_week():
    found = reckoned(squat_plan("days 3 a week, you choose\nat 07:30 for 20 min"))
    (sitting,) = found.weeks[0].sittings
    assert (sitting.count, sitting.starts, sitting.ends, sitting.day) == (3, None, None, date(2027, 3, 1))
    assert (sitting.any_day, sitting.minutes, found.weeks[0].minutes) == (True, 20, 60)


def test_two_times_of_day_are_two_sessions_in_order():
    found = reckoned(squat_plan("days Mon\nat 18:00, 07:30 for 10 min"))
    assert [(s.order, f"{s.starts:%H:%M}") for s in found.weeks[0].sittings] == [(1, "07:30"), (2, "18:00")]


def test_sessions_without_a_time_of_day_have_a_day():
    (sitting,) = reckoned(squat_plan("days Wed")).weeks[0].sittings
    assert (sitting.day, sitting.starts, sitting.any_day) == (date(2027, 3, 3), None, False)


TURNS = (
    'exercise bridge\nbegin 2x6\nsession "B"\ndo bridge\nin turn with "A"\nsession "A"\ndays Mon, Wed, Fri\ndo squat'
)


def test_in_turn_alternates_through_the_plan_and_the_one_with_days_comes_first():
    found = reckoned(plan_of(SQUAT + TURNS, 3))
    assert ["".join(s.name for s in w.sittings) for w in found.weeks] == ["ABA", "BAB", "ABA"]


def test_a_turn_that_falls_on_a_day_away_is_not_skipped():
    found = reckoned(plan_of(SQUAT + TURNS, 3, head="away 2027-03-03 to 2027-03-03"))
    assert ["".join(s.name for s in w.sittings) for w in found.weeks] == ["AB", "ABA", "BAB"]


def test_rest_holds_the_turn():
    found = reckoned(plan_of(SQUAT + TURNS, 4, 1), 2)
    assert ["".join(s.name for s in w.sittings) for w in found.weeks] == ["ABA", "", "BAB", "ABA"]


def test_an_away_week_holds_no_sessions_and_takes_no_room():
    found = reckoned(squat_plan("days Mon", 5, 1, "away 2027-03-08 to 2027-03-14"))
    assert row(found) == "1 A 2 3 -"
    assert [w.training_week for w in found.weeks] == [1, None, 2, 3, None]


def test_away_from_thursday_to_wednesday_leaves_no_week_away_and_takes_those_sessions_out():
    found = reckoned(squat_plan("days Mon, Wed, Fri", 3, head="away 2027-03-04 to 2027-03-10"))
    assert [days(w) for w in found.weeks] == ["Mon Wed", "Fri", "Mon Wed Fri"]


def test_two_away_lines_that_together_fill_a_week_make_an_away_week():
    head = "away 2027-03-08 to 2027-03-10\naway 2027-03-11 to 2027-03-14"
    assert row(reckoned(squat_plan("days Mon", 3, head=head))) == "1 A 2"


def test_a_session_that_moves_within_the_week_keeps_its_number_on_the_best_days():
    found = reckoned(
        squat_plan("days Mon, Wed, Fri\nif not done move within the week", 2, head="away 2027-03-05 to 2027-03-05")
    )
    assert [days(w) for w in found.weeks] == ["Mon Wed Sat", "Mon Wed Fri"]


def test_moving_never_puts_two_sessions_on_one_day():
    body = f"""{SQUAT}exercise bridge\nbegin 2x6
session "A"\ndays Mon, Wed, Fri\ndo squat\nif not done move within the week
session "B"\ndays Thu, Sat, Sun\ndo bridge"""
    week = reckoned(plan_of(body, 2, head="away 2027-03-03 to 2027-03-03")).weeks[0]
    assert (days(week, "A"), days(week, "B")) == ("Mon Tue Fri", "Thu Sat Sun")


def test_a_training_week_whose_only_session_is_away_is_a_gap_and_the_ladder_waits():
    assert row(reckoned(squat_plan("days Mon", head="away 2027-03-08 to 2027-03-09"))) == "1 . 2 3"


AWAY_BAND = """
    exercise squat
    begin 2x6
    then 2x8
    then 2x10
    progress every 1 week
    exercise band-press
    begin 2x10
    session "A"
    days Mon, Thu
    do squat
    session "Band only"
    days Tue, Sat
    do band-press
    training weeks 20 on
"""


def test_what_an_away_line_names_is_done_on_its_own_days_and_moves_no_ladder():
    plan = plan_of(AWAY_BAND, 4, head='away 2027-03-08 to 2027-03-14 "school holidays" do session "Band only"')
    found = reckoned(plan)
    week = found.weeks[1]
    assert (days(week, "Band only"), days(week)) == ("Tue Sat", "")
    assert [(n, d.step, d.own) for n, d in week.exercises.items()] == [("band-press", 0, False)]
    assert row(found) == "1 A 2 3"


def test_an_away_session_is_done_at_the_step_last_done_and_makes_no_gap():
    head = 'away 2027-03-15 to 2027-03-28 do session "A"'
    found = reckoned(squat_plan("days Mon", 6, head=head))
    assert [w.exercises["squat"].step for w in found.weeks] == [0, 1, 1, 1, 2, 3]


def test_an_away_session_after_rest_is_done_easier_and_the_easing_still_comes():
    head = 'away 2027-03-22 to 2027-03-28 do session "A"'
    found = reckoned(squat_plan("days Mon", 7, 1, head=head), 3)
    assert [(d.step, d.easing) for w in found.weeks if (d := w.exercises.get("squat"))] == [
        (0, False),
        (1, False),
        (0, True),
        (0, True),
        (1, False),
        (2, False),
    ]


def test_an_away_session_without_days_is_one_untimed_entry():
    body = f'{SQUAT}session "Band only"\ndo squat'
    found = reckoned(plan_of(body, 3, head='away 2027-03-08 to 2027-03-14 do session "Band only"'))
    (sitting,) = found.weeks[1].sittings
    assert (sitting.name, sitting.starts, sitting.count) == ("Band only", None, 1)


def test_days_away_that_fill_no_week_say_that_their_session_is_not_placed():
    found = reckoned(squat_plan("days Mon", head='away 2027-03-10 to 2027-03-14 do session "A"'))
    assert [m for m in messages(found) if "is not placed" in m]


def test_days_away_outside_the_plan_are_a_finding():
    assert "outside the plan" in messages(reckoned(squat_plan("days Mon", head="away 2026-03-10 to 2026-03-14")))[0]


VISITED = "days Mon, Thu\nat 09:00 for 30 min\nvisit in weeks 1, 3"


def test_the_first_session_of_a_visit_week_is_the_visit_and_none_is_added():
    found = reckoned(squat_plan(VISITED))
    assert [[s.visit for s in w.sittings] for w in found.weeks] == [
        [True, False],
        [False, False],
        [True, False],
        [False, False],
    ]


def test_a_visit_in_a_rest_week_keeps_its_date_as_contact_only():
    week = reckoned(squat_plan(VISITED, 4, 1), 3).weeks[2]
    (sitting,) = week.sittings
    assert (sitting.visit, sitting.exercises, sitting.day) == (True, (), date(2027, 3, 15))
    assert week.minutes == 0


def test_visits_are_not_repeated_in_spare_weeks():
    found = reckoned(squat_plan("days Mon\nvisit in week 3", 5, 2))
    assert [[s.visit for s in w.sittings] for w in found.weeks] == [[False], [False], [True], [False], [False]]


def test_visit_twice_marks_the_first_two():
    found = reckoned(squat_plan("days Mon, Wed, Fri\nvisit twice in week 1"))
    assert [s.visit for s in found.weeks[0].sittings] == [True, True, False]


def test_a_session_with_nothing_to_do_stands_for_its_visits_only():
    body = f'{SQUAT}session "A"\ndays Mon\ndo squat\nsession "Call"\ndays Tue\nat 10:00 for 15 min\nvisit in weeks 1, 4'
    found = reckoned(plan_of(body, 4))
    assert [[s.day.day for s in w.sittings if s.name == "Call"] for w in found.weeks] == [[2], [], [], [23]]


@pytest.mark.parametrize(
    ("lines", "head", "expected"),
    [
        ("days Mon\nvisit in week 9", "", "There is no week 9 for this visit"),
        ("days Mon\nvisit twice in week 1", "", "Week 1 has 2 visits and at most 1"),
        ("days Mon, Thu\nvisit in weeks 1, 2, 3\nat most 2 visits", "", "has 3 visits and at most 2"),
        ("days Mon\nvisit in week 2", "away 2027-03-08 to 2027-03-14", "falls into days away"),
    ],
)
def test_a_visit_that_cannot_be_is_a_contradiction(lines, head, expected):
    found = reckoned(squat_plan(lines, head=head))
    assert [f.rule for f in found.findings if expected in f.message] == ["contradiction"]


def test_a_session_whose_exercises_have_not_begun_is_left_out():
    late = 'exercise late\nbegin 2x6\ntraining week 3 on\nsession "B"\ndays Tue\ndo late'
    body = f'{SQUAT}session "A"\ndays Mon\ndo squat\n{late}'
    assert [days(w, "B") for w in reckoned(plan_of(body)).weeks[:4]] == ["", "", "Tue", "Tue"]


def test_sittings_name_only_what_is_done_that_week():
    body = f'{SQUAT}exercise late\nbegin 2x6\ntraining week 3 on\nsession "A"\ndays Mon\ndo squat, late'
    assert [w.sittings[0].exercises for w in reckoned(plan_of(body)).weeks[1:3]] == [("squat",), ("squat", "late")]
