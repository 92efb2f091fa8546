"""The 12-week walking schedule of the US National Heart, Lung, and Blood Institute, printings of 2006 and later."""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.world.programmes import changed, found_in, text_of, training, weeks_of

# NHLBI / US DHHS sample schedule: brisk minutes and, in the older printing, the total of each session
BRISK = [5, 7, 9, 11, 13, 15, 18, 20, 23, 26, 28, 30]
TOTAL = [15, 17, 19, 21, 23, 25, 28, 30, 33, 36, 38, 40]


def schedule():
    return training(weeks_of(text_of("walking-twelve-weeks")))[:12]


def test_brisk_minutes_are_the_printed_ones():
    brisk = [week.exercises["brisk-walk"].dose.size for week in schedule()]
    assert [(size.amounts[0].low, size.unit) for size in brisk] == [(minutes, "min") for minutes in BRISK]


def test_each_session_lasts_its_printed_total():
    assert [{s.minutes for s in week.sittings} for week in schedule()] == [{total} for total in TOTAL]
    assert all((s.ends - s.starts).seconds == 60 * s.minutes for week in schedule() for s in week.sittings)


def test_minutes_of_a_week_are_five_times_the_printed_total():
    assert [week.minutes for week in schedule()] == [5 * total for total in TOTAL]
    assert sum(week.minutes for week in schedule()) == 1625  # our own sum of the printed totals


def test_at_three_sessions_a_week_as_in_the_older_printing():
    text = changed(text_of("walking-twelve-weeks"), "5 a week training", "3 a week training")
    weeks = training(weeks_of(text))[:12]
    assert [week.minutes for week in weeks] == [3 * total for total in TOTAL]
    assert sum(week.minutes for week in weeks) == 975


def test_from_week_13_half_an_hour_to_an_hour():
    week = training(weeks_of(text_of("walking-twelve-weeks")))[12]
    amount = week.exercises["brisk-walk"].dose.size.amounts[0]
    assert (amount.low, amount.high) == (30, 60)


def test_the_sentence_of_two_minutes_a_week_is_not_the_table():
    # "add two minutes a week" says the text; its table adds 2, 2, 2, 2, 2, 3, 2, 3, 3, 2, 2
    steps = "\n".join(["begin 5 min", "rise 2 min every week to 30 min"])
    lines = text_of("walking-twelve-weeks").splitlines()
    kept = [line for line in lines if line.split()[:1] not in (["begin"], ["then"], ["progress"])]
    at = next(i for i, line in enumerate(kept) if line.startswith("exercise")) + 1
    text = "\n".join([*kept[:at], steps, *kept[at:], ""])
    brisk = [w.exercises["brisk-walk"].dose.size.amounts[0].low for w in training(weeks_of(text))[:12]]
    assert brisk == [5 + 2 * week for week in range(12)]
    assert [a - b for a, b in zip(BRISK[1:], BRISK, strict=False)] == [2, 2, 2, 2, 2, 3, 2, 3, 3, 2, 2]


@pytest.mark.parametrize("rest", [(), *combinations(range(1, 19), 1), (5, 9), (5, 6), (17, 18)], ids=str)
def test_wherever_a_tiring_week_is_rested_the_schedule_is_finished(rest: tuple[int, ...]):
    # "repeat a week if it tires you; you need not finish in 12 weeks" (older printing), said as room for easier weeks
    weeks = weeks_of(text_of("walking-twelve-weeks"), frozenset(rest))
    brisk = [w.exercises["brisk-walk"].dose.size.amounts[0].low for w in training(weeks)]
    assert list(dict.fromkeys(brisk)) == BRISK
    assert weeks.dropped == 0


def test_nothing_is_found_in_it():
    assert found_in(text_of("walking-twelve-weeks")) == []
