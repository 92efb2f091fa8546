"""Common practice, no source."""

from __future__ import annotations

from itertools import combinations

import pytest

from planlang.planning.week import WeekKind
from tests.world.programmes import changed, plan_text, training, weeks_of

LADDER = ("exercise squat", "begin 1x8", "then 2x8", "then 3x8", "progress every week")
SESSION = ('session "Squats"', "do squat", "days Mon, Thu")


@pytest.mark.parametrize("rest", [(), *combinations(range(1, 13), 1), *combinations(range(1, 13), 2)], ids=str)
def test_twelve_weeks_with_room_for_two_hold_ten_training_weeks(rest: tuple[int, ...]):
    weeks = weeks_of(plan_text(*LADDER, *SESSION, weeks=12, room=2), frozenset(rest))
    assert len(training(weeks)) == 10
    assert [w.training_week for w in training(weeks)] == list(range(1, 11))
    assert weeks.dropped == 0
    assert len([w for w in weeks.weeks if w.kind is WeekKind.REST]) == len(rest)


@pytest.mark.parametrize("rest", [(), (1,), (4,)], ids=str)
def test_from_one_set_to_three_within_four_weeks_with_one_flexible_week(rest: tuple[int, ...]):
    weeks = weeks_of(plan_text(*LADDER, *SESSION, weeks=4, room=1), frozenset(rest))
    sets = [w.exercises["squat"].dose.size.sets.low for w in training(weeks)]
    assert sets == [1, 2, 3]


@pytest.mark.parametrize(("rest", "expected"), [(2, [1, 1, 2]), (3, [1, 2, 1])])
def test_a_flexible_week_in_between_is_followed_by_one_easier_step(rest: int, expected: list[int]):
    # with the usual way back (one step lower for a week) the third set then comes after the fourth week
    weeks = weeks_of(plan_text(*LADDER, *SESSION, weeks=4, room=1), frozenset({rest}))
    assert [w.exercises["squat"].dose.size.sets.low for w in training(weeks)] == expected


@pytest.mark.parametrize("rest", [(), (1,), (2,), (3,), (4,)], ids=str)
def test_going_on_at_the_same_step_three_sets_are_reached_wherever_the_week_falls(rest: tuple[int, ...]):
    text = changed(plan_text(*LADDER, *SESSION, weeks=4, room=1), "room for 1", "return at the same step\nroom for 1")
    weeks = weeks_of(text, frozenset(rest))
    assert [w.exercises["squat"].dose.size.sets.low for w in training(weeks)] == [1, 2, 3]
