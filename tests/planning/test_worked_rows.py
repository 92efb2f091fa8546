"""The worked rows of the page on what a plan means, and weeks of every kind."""

from __future__ import annotations

from itertools import combinations

import pytest

from planlang.planning.week import WeekKind
from tests.planning.plans import ladder_plan, messages, plan_of, reckoned, row


@pytest.mark.parametrize(
    ("weeks", "room", "rest", "steps", "every", "first", "lower", "ease", "expected"),
    [
        (8, 1, [1], 6, 1, 1, 1, 1, "R 1 2 3 4 5 6 6"),
        (8, 1, [4], 6, 1, 1, 1, 1, "1 2 3 R 2 3 4 5"),
        (8, 1, [4], 6, 1, 1, 0, 0, "1 2 3 R 4 5 6 6"),
        (10, 1, [4], 4, 2, 1, 1, 1, "1 1 2 R 1 2 3 3 4 4"),
        (10, 1, [5], 4, 2, 1, 1, 1, "1 1 2 2 R 1 2 3 3 4"),
        (10, 2, [4, 6], 5, 1, 1, 1, 2, "1 2 3 R 2 R 2 2 3 4"),
        (10, 2, [9], 4, 1, 1, 1, 1, "1 2 3 4 4 4 4 4 R -"),
        (8, 1, [3, 6], 5, 1, 1, 1, 1, "1 2 R 1 2 R 1 2"),
        (9, 1, [2], 4, 1, 4, 1, 1, ". R . . 1 2 3 4 4"),
        (10, 2, [6], 3, 1, 1, 2, 1, "1 2 3 3 3 R 1 3 3 -"),
    ],
)
def test_worked_row(weeks, room, rest, steps, every, first, lower, ease, expected):
    plan = ladder_plan(weeks, room, steps, every, first, lower, ease)
    assert row(reckoned(plan, *rest)) == expected


def test_worked_row_of_a_window_that_closes_before_the_last_step():
    plan = ladder_plan(8, 1, 3, 1, more="training weeks 2 to 4")
    found = reckoned(plan, 4)
    assert row(found) == ". 1 2 R 1 . . ."
    assert any("before its step 3" in m for m in messages(found))
    assert messages(reckoned(plan)) == []


def test_rest_beyond_the_room_drops_the_last_training_weeks_and_says_so():
    found = reckoned(ladder_plan(8, 1, 5, 1), 3, 6)
    assert found.dropped == 1
    assert any("more rest" in m for m in messages(found))
    assert reckoned(ladder_plan(8, 1, 5, 1), 3).dropped == 0


@pytest.mark.parametrize("rest", list(combinations(range(1, 13), 2)))
def test_twelve_weeks_with_room_for_two_hold_ten_training_weeks_wherever_they_fall(rest):
    # Common practice, no source.
    found = reckoned(ladder_plan(12, 2, 4, 2), *rest)
    kinds = [week.kind for week in found.weeks]
    assert (kinds.count(WeekKind.TRAINING), kinds.count(WeekKind.REST), found.dropped) == (10, 2, 0)
    assert [w.training_week for w in found.weeks if w.kind is WeekKind.TRAINING] == list(range(1, 11))


def sets_plan(back: str):
    body = """
        exercise squat
        kind strength
        begin 1x8
        then 2x8
        then 3x8
        progress every 1 week
        session "A"
        days Mon
        do squat
    """
    return plan_of(body, weeks=4, room=1, rest=back)


def test_one_to_three_sets_in_four_weeks_with_one_flexible_week_and_no_easing():
    # Common practice, no source: sets go from one to three within four weeks, one step a week.
    plan = sets_plan("return at the same step")
    rows = [row(reckoned(plan, week)) for week in range(1, 5)]
    assert rows == ["R 1 2 3", "1 R 2 3", "1 2 R 3", "1 2 3 R"]


def test_with_an_easing_week_the_three_sets_depend_on_where_the_rest_falls():
    plan = sets_plan("return 1 step lower for 1 week")
    rows = [row(reckoned(plan, week)) for week in range(1, 5)]
    assert rows == ["R 1 2 3", "1 R 1 2", "1 2 R 1", "1 2 3 R"]


def test_no_training_week_left_is_a_finding():
    found = reckoned(ladder_plan(3, 3, 2, 1))
    assert [w.kind for w in found.weeks] == [WeekKind.SPARE] * 3
    assert any("no training week is left" in m for m in messages(found))


def test_spare_weeks_hold_the_last_training_week():
    found = reckoned(ladder_plan(6, 2, 3, 2))
    assert [w.exercises["squat"].step for w in found.weeks] == [0, 0, 1, 1, 1, 1]
    assert [len(w.sittings) for w in found.weeks] == [1] * 6
    assert [w.exercises["squat"].own for w in found.weeks] == [True] * 4 + [False] * 2


def test_spare_weeks_are_eased_once_rest_came_since_the_last_training_week():
    found = reckoned(ladder_plan(6, 3, 3, 1), 4)
    last = [w.exercises["squat"] for w in found.weeks[4:]]
    assert [(d.step, d.easing) for d in last] == [(1, True), (1, True)]


def test_spare_empty_leaves_spare_weeks_blank():
    plan = plan_of('exercise squat\nbegin 2x6\nsession "A"\ndays Mon\ndo squat', 6, 2, "spare empty")
    found = reckoned(plan)
    assert [(len(w.sittings), len(w.exercises)) for w in found.weeks] == [(1, 1)] * 4 + [(0, 0)] * 2


def test_a_run_of_four_easier_weeks_says_see_the_person_first():
    plan = ladder_plan(12, 4, 4, 1)
    assert any("see the person first" in m for m in messages(reckoned(plan, 3, 4, 5, 6)))
    assert not any("see the person first" in m for m in messages(reckoned(plan, 3, 4, 5, 7)))


@pytest.mark.parametrize("week", [0, 9, -1])
def test_rest_outside_the_plan_is_the_callers_error(week):
    with pytest.raises(ValueError, match=f"week {week} is not one"):
        reckoned(ladder_plan(8, 1, 2, 1), week)


def test_rest_on_an_away_week_is_the_callers_error():
    plan = plan_of("exercise squat\nbegin 2x6", 8, 1, head="away 2027-03-08 to 2027-03-14")
    with pytest.raises(ValueError, match="week 2 is away"):
        reckoned(plan, 2)
