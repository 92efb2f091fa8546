"""Ladders of steps a day that were published with their numbers."""

from __future__ import annotations

import itertools
from fractions import Fraction
from math import floor

import pytest

from tests.world.programmes import found_in, plan_of, plan_text, text_of, training, weeks_of

# Arch Phys Med Rehabil 2012 Dec 28;94(5):829-838 (PMC3637853): start, goal, extra on each of 3 days, minutes, result
TABLE = [
    (3000, 3300, 720, 7, 3309),
    (3309, 3639, 794, 8, 3649),
    (3649, 4014, 876, 9, 4024),
    (4024, 4427, 966, 10, 4438),
    (4438, 4882, 1065, 11, 4895),
    (4895, 5384, 1175, 12, 5398),
    (5398, 5938, 1296, 13, 5953),
    (5953, 6549, 1429, 14, 6566),
    (6566, 7222, 1576, 16, 7241),
    (7241, 7965, 1738, 17, 7986),
    (7986, 8784, 1917, 19, 8807),
    (8807, 9688, 2114, 21, 9713),
    (9713, 10684, 2331, 23, 10712),
]


def daily(text: str, name: str) -> list[int]:
    weeks = training(weeks_of(text))
    return [int(w.activities[name].dose.size.amounts[0].low) for w in weeks if name in w.activities]


def test_the_goal_of_each_two_weeks_is_the_printed_one():
    assert daily(text_of("step-ladder-ten-per-cent"), "daily-steps-aim") == [row[1] for row in TABLE for _ in range(2)]


def test_the_walk_of_the_training_days_has_its_printed_minutes():
    weeks = training(weeks_of(text_of("step-ladder-ten-per-cent")))
    assert [{s.minutes for s in w.sittings} for w in weeks] == [{row[3]} for row in TABLE for _ in range(2)]


def test_the_printed_table_carries_its_fractions_from_row_to_row():
    # each row starts from the unrounded result of the one before; printed starts alone miss by one in some rows
    start, made = Fraction(3000), []
    for _ in TABLE:
        extra = start * Fraction(24, 100)
        result = (4 * start + 3 * (start + extra)) / 7
        made.append((round(start), round(start * Fraction(110, 100)), round(extra), round(extra / 100), round(result)))
        start = result
    assert made == TABLE


@pytest.mark.parametrize("row", range(len(TABLE)))
def test_a_week_of_the_plan_averages_the_printed_result(row: int):
    # 3 training days with the extra steps, 4 ordinary days at the start value; to one step, for print carries fractions
    start, _, extra, _, result = TABLE[row]
    week = training(weeks_of(text_of("step-ladder-ten-per-cent")))[2 * row]
    days = len(week.sittings)
    assert abs(((7 - days) * start + days * (start + extra)) / 7 - result) < 1


def test_a_rise_of_ten_per_cent_is_cut_down_and_does_not_start_from_the_result():
    # the printed goals start anew from each result; `rise` goes on from its own steps, cut down to whole steps
    text = plan_text(
        "activity walking", "begin 3300 steps/day", "rise 10 % every 2 weeks to 10684 steps/day rounded to 1", weeks=26
    )
    made = daily(text, "walking")[::2]
    expected = [3300]
    while expected[-1] < 10684:
        expected.append(min(10684, floor(expected[-1] * 11 / 10)))
    assert made == expected[:13]
    assert made[:3] == [3300, 3630, 3993]
    assert [row[1] for row in TABLE][:3] == [3300, 3639, 4014]


def test_public_health_ladder_reaches_8000_in_week_ten():
    # Flemish institute for healthy living: 500 steps/day more, held a week, to 8000 at 65 or over; from 3000
    text = plan_text("activity walking", "begin 3500 steps/day", "rise 500 steps/day every week to 8000 steps/day")
    steps = daily(text, "walking")
    assert steps == [min(8000, 3000 + 500 * week) for week in range(1, 13)]
    assert steps.index(8000) + 1 == 10


def test_public_health_ladder_first_and_last_step_in_per_cent():
    # our own arithmetic on the same ladder: 16.7 % first, 6.7 % last
    text = plan_text("activity walking", "begin 3500 steps/day", "rise 500 steps/day every week to 8000 steps/day")
    steps = [3000, *daily(text, "walking")[:10]]
    rises = [round(100 * (b - a) / a, 1) for a, b in itertools.pairwise(steps)]
    assert (rises[0], rises[-1]) == (16.7, 6.7)


def test_a_thousands_comma_is_not_read_as_two_numbers():
    # "10,684 steps" in print: the finding says what to write
    found = found_in(plan_text("activity walking", "begin 10,684 steps/day"))
    assert [f.rule for f in found] == ["unreadable"]
    assert "10684" in found[0].message + found[0].advice


def test_every_step_of_the_table_is_a_step_of_the_ladder():
    assert len(plan_of(text_of("step-ladder-ten-per-cent")).exercise("daily-steps-aim").steps) == len(TABLE)
