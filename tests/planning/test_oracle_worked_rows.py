"""The slow reading gives the worked rows of the page on meaning, and the sentences around them."""

from __future__ import annotations

import pytest

from planlang.model.exercise import Start
from planlang.model.plan import Today
from planlang.model.rest import Lighter
from planlang.planning.week import WeekKind
from tests.made import (
    MONDAY,
    away,
    ladder,
    make_activity,
    make_exercise,
    make_plan,
    make_rest,
    make_session,
    sets,
    window,
)
from tests.oracle.kinds import dropped, kinds
from tests.oracle.replay import replay


def row(plan, rest=(), name="sit-to-stand"):
    """One symbol a week: step from 1, R rest, A away, - spare, . not done."""
    symbols = []
    for past in replay(plan, frozenset(rest)):
        seen = past.seen.get(name)
        if past.week.kind is WeekKind.REST:
            symbols.append("R")
        elif past.week.kind is WeekKind.AWAY:
            symbols.append("A")
        elif past.week.kind is WeekKind.SPARE:
            symbols.append("-")
        else:
            symbols.append("." if seen is None else str(seen.step + 1))
    return " ".join(symbols)


@pytest.mark.parametrize(
    ("weeks", "room", "rest", "steps", "every", "first", "lower", "ease", "expected"),
    [
        (8, 1, {1}, 6, 1, 1, 1, 1, "R 1 2 3 4 5 6 6"),
        (8, 1, {4}, 6, 1, 1, 1, 1, "1 2 3 R 2 3 4 5"),
        (8, 1, {4}, 6, 1, 1, 0, 0, "1 2 3 R 4 5 6 6"),
        (10, 1, {4}, 4, 2, 1, 1, 1, "1 1 2 R 1 2 3 3 4 4"),
        (10, 1, {5}, 4, 2, 1, 1, 1, "1 1 2 2 R 1 2 3 3 4"),
        (10, 2, {4, 6}, 5, 1, 1, 1, 2, "1 2 3 R 2 R 2 2 3 4"),
        (10, 2, {9}, 4, 1, 1, 1, 1, "1 2 3 4 4 4 4 4 R -"),
        (8, 1, {3, 6}, 5, 1, 1, 1, 1, "1 2 R 1 2 R 1 2"),
        (9, 1, {2}, 4, 1, 4, 1, 1, ". R . . 1 2 3 4 4"),
        (10, 2, {6}, 3, 1, 1, 2, 1, "1 2 3 3 3 R 1 3 3 -"),
    ],
)
def test_worked_row(weeks, room, rest, steps, every, first, lower, ease, expected):
    exercise = make_exercise(steps=steps, every=every, window=window((first, None)))
    plan = make_plan(exercise, weeks=weeks, room=room, returns=[(lower, ease, 1)])
    assert expected == row(plan, rest)


def test_worked_row_in_a_window_that_closes_before_the_last_step():
    exercise = make_exercise(steps=3, window=window((2, 4)))
    assert row(make_plan(exercise, weeks=8, room=1), {4}) == ". 1 2 R 1 . . ."


def test_rest_beyond_the_allowance_drops_training_weeks():
    plan = make_plan(weeks=8, room=1)
    assert dropped(plan, frozenset({3, 6})) == 1
    assert dropped(plan, frozenset({3})) == 0


@pytest.mark.parametrize("rest", [set(), {1}, {1, 12}, {5, 6}, {11, 12}])
def test_twelve_weeks_with_room_for_two_hold_ten_training_weeks(rest):
    """Common practice, no source."""
    found = kinds(make_plan(weeks=12, room=2), frozenset(rest))
    assert sum(week.kind is WeekKind.TRAINING for week in found) == 10


def test_an_away_week_takes_nothing_from_the_allowance_and_eases_nothing_alone():
    plan = make_plan(weeks=8, room=1, away=(away(MONDAY, 15, 21),))
    assert row(plan) == "1 2 A 3 4 4 4 -"


def test_an_away_week_next_to_a_rest_week_is_one_gap_that_is_eased():
    plan = make_plan(weeks=8, room=1, away=(away(MONDAY, 15, 21),))
    assert row(plan, {4}) == "1 2 A R 1 2 3 4"


def test_two_away_weeks_are_eased():
    plan = make_plan(weeks=8, room=0, away=(away(MONDAY, 15, 28),))
    assert row(plan) == "1 2 A A 1 2 3 4"


def test_a_partly_away_week_without_a_session_left_is_a_gap_of_one_week():
    plan = make_plan(weeks=6, room=0, away=(away(MONDAY, 8, 13),))
    assert row(plan) == "1 . 2 3 4 4"


def test_a_session_that_moves_within_the_week_is_done_in_a_partly_away_week():
    plan = make_plan(
        weeks=6,
        room=0,
        away=(away(MONDAY, 8, 13),),
        sessions=[make_session("sit-to-stand", if_not_done="move within the week")],
    )
    assert row(plan) == "1 2 3 4 4 4"


def test_a_step_keeps_its_own_length():
    exercise = make_exercise(steps=ladder(3, [None, 3]), every=1)
    assert row(make_plan(exercise, weeks=7, room=0)) == "1 2 2 2 3 3 3"


def test_a_step_with_its_own_length_is_gone_back_to_after_rest():
    exercise = make_exercise(steps=ladder(3, [None, 2]), every=1)
    assert row(make_plan(exercise, weeks=8, room=1), {4}) == "1 2 2 R 1 2 3 3"


def test_no_pace_stays_on_the_first_step():
    assert row(make_plan(make_exercise(every=None), weeks=4, room=0)) == "1 1 1 1"


def test_progress_from_a_training_week_keeps_the_first_step_until_then():
    plan = make_plan(make_exercise(from_week=4), weeks=7, room=1)
    assert row(plan) == "1 1 1 1 2 3 -"
    assert row(plan, {3}) == "1 1 R 1 1 2 3"


def test_lighter_weeks_go_below_the_step_last_done_and_move_nothing():

    plan = make_plan(make_exercise(steps=5), weeks=9, rest=make_rest(1, lighter=Lighter(3, 1)))
    assert row(plan) == "1 2 1 3 4 3 5 5 -"
    assert row(plan, {5}) == "1 2 1 3 R 2 2 3 4"


def test_a_longer_rest_has_its_own_line_and_comes_up_step_by_step():
    plan = make_plan(make_exercise(steps=6), weeks=14, room=2, returns=[(1, 1, 1), (3, 2, 2)])
    assert row(plan, {6, 7}) == "1 2 3 4 5 R R 2 2 3 4 5 6 6"
    assert row(plan, {6}) == "1 2 3 4 5 R 4 5 6 6 6 6 6 -"


def test_the_easier_step_is_the_floor_where_it_is_given():
    plan = make_plan(make_exercise(easier=sets(1, 4)), weeks=6, room=1)
    assert row(plan, {2}) == "1 R 0 1 2 3"


@pytest.mark.parametrize(
    ("rest", "expected"),
    [
        ((), ". . 1 2 3 4 - -"),
        ({2}, ". R . 1 2 3 4 -"),
        ({3}, ". . R . 1 2 3 -"),
    ],
)
def test_a_start_after_weeks_of_strength_is_put_off_by_an_easing_week(rest, expected):

    walking = make_activity(start=Start(weeks=2, of="strength"))
    plan = make_plan(make_exercise(), walking, weeks=8, room=2)
    assert row(plan, rest, "walking") == expected


def test_base_weeks_count_for_a_start_after():

    walking = make_activity(start=Start(weeks=3, of="strength"))
    plan = make_plan(make_exercise(), walking, weeks=6, room=0, today=Today(base=(("strength", 2),)))
    assert row(plan, name="walking") == ". 1 2 3 4 4"


def test_one_strength_session_a_week_is_not_a_week_of_strength():

    walking = make_activity(start=Start(weeks=1, of="strength"))
    once = make_session("sit-to-stand", days="Tue")
    plan = make_plan(make_exercise(), walking, weeks=4, room=0, sessions=[once])
    assert row(plan, name="walking") == ". . . ."


def test_rest_without_easing_after_an_easing_cut_short_starts_no_step_not_done_before():
    plan = make_plan(make_exercise(steps=5), weeks=11, room=4, returns=[(0, 0, 1), (3, 1, 2)])
    assert row(plan, {3, 4, 6}) == "1 2 R R 1 R 2 3 4 5 -"
    easier = make_plan(make_exercise(steps=5, easier=sets(1, 4)), weeks=11, room=4, returns=[(0, 0, 1), (3, 1, 2)])
    assert row(easier, {3, 4, 6}) == "1 2 R R 0 R 2 3 4 5 -"


def test_a_session_named_for_an_away_week_is_no_gap_and_moves_nothing():
    holiday = away(MONDAY, 22, 28, "Chair and bench")
    plan = make_plan(make_exercise(steps=6), weeks=8, room=1, away=(holiday,))
    steps = [past.seen["sit-to-stand"].step + 1 for past in replay(plan)]
    assert steps == [1, 2, 3, 3, 4, 5, 6, 6]
