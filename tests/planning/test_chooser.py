"""The day chooser against every choice of days, and the sentences that describe it."""

from __future__ import annotations

from datetime import date
from itertools import combinations

import pytest
from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.planning.chooser import choose, round_the_week, spaced
from tests.planning.plans import messages, plan_of, reckoned

WEEK = tuple(range(7))
NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def between(a: int, b: int) -> int:
    """Days from one to the other, the shorter way round the week, counted on the fingers."""
    onward = next(n for n in range(7) if (a + n) % 7 == b)
    back = next(n for n in range(7) if (a - n) % 7 == b)
    return min(onward, back)


def worth(days: tuple[int, ...], others: tuple[int, ...]) -> tuple[list[int], list[int], list[int]]:
    onward = [next(n for n in range(1, 8) if (d + n) % 7 in days) for d in days]
    return sorted(between(a, b) for a in days for b in others), sorted(onward), [-d for d in days]


@settings(max_examples=300, derandomize=True, deadline=None)
@given(st.integers(1, 7), st.sets(st.sampled_from(WEEK), min_size=1), st.lists(st.sampled_from(WEEK), max_size=4))
def test_it_takes_the_best_of_every_choice_of_days(count, allowed, others):
    every = list(combinations(sorted(allowed), count))
    best = max(every, key=lambda days: worth(days, tuple(others)), default=None)
    assert choose(count, tuple(sorted(allowed)), 0, tuple(others)) == best


@settings(max_examples=200, derandomize=True, deadline=None)
@given(st.integers(1, 7), st.sets(st.sampled_from(WEEK), min_size=1), st.integers(1, 3))
def test_days_between_are_kept_round_the_week_or_nothing_is_chosen(count, allowed, rest):
    chosen = choose(count, tuple(sorted(allowed)), rest)
    fitting = [
        d for d in combinations(sorted(allowed), count) if all(between(a, b) > rest for a, b in combinations(d, 2))
    ]
    assert (chosen in fitting) if chosen else not fitting


def test_sunday_to_monday_is_one_day():
    assert round_the_week([0, 6]) == [6, 1]
    assert not spaced([0, 6], 1)


@pytest.mark.parametrize(
    ("rule", "expected"),
    [
        ("1 a week", "Mon"),
        ("2 a week", "Mon Thu"),
        ("3 a week", "Mon Wed Fri"),
        ("3 a week from Mon, Tue, Thu, Sat", "Mon Thu Sat"),
        ("3 to 4 a week", "Mon Wed Fri"),
        ("3 a week with 1 day between", "Mon Wed Fri"),
        ("every day", "Mon Tue Wed Thu Fri Sat Sun"),
        ("Tue, Sat", "Tue Sat"),
    ],
)
def test_days_of_one_session(rule, expected):
    week = reckoned(plan_of(f'exercise squat\nbegin 2x6\nsession "A"\ndays {rule}\ndo squat')).weeks[0]
    assert " ".join(NAMES[s.day.weekday()] for s in week.sittings) == expected


def two(first: str, second: str, works: str = "quadriceps", start: str = "2027-03-01"):
    body = f"""
        exercise squat
        works quadriceps
        begin 2x6
        exercise other
        works {works}
        begin 2x6
        session "A"
        days {first}
        do squat
        session "B"
        days {second}
        do other
    """
    week = reckoned(plan_of(body)).weeks[0]
    return {n: " ".join(NAMES[s.day.weekday()] for s in week.sittings if s.name == n) for n in ("A", "B")}


def test_a_session_keeps_away_from_one_that_trains_the_same_muscle():
    # Saturday is two days from both Monday and Thursday; every other free day is next to one of them.
    assert two("Mon, Thu", "1 a week") == {"A": "Mon Thu", "B": "Sat"}


def test_a_session_of_other_muscles_takes_its_own_best_days():
    assert two("Mon, Thu", "2 a week", works="calves") == {"A": "Mon Thu", "B": "Mon Thu"}


def test_fixed_days_come_first_wherever_they_stand():
    assert two("1 a week", "Mon, Fri") == {"A": "Wed", "B": "Mon Fri"}


def test_the_earliest_days_are_those_of_the_plans_own_week():
    plan = plan_of('exercise squat\nbegin 2x6\nsession "A"\ndays 2 a week\ndo squat')
    week = reckoned(evolve(plan, starts=date(2027, 3, 4))).weeks[0]
    assert [NAMES[s.day.weekday()] for s in week.sittings] == ["Thu", "Sun"]


@pytest.mark.parametrize(
    ("rule", "help"),
    [
        ("4 a week with 1 day between", "3 a week can be placed"),
        ("3 a week from Mon, Tue", "There are 2 days to choose from."),
        ("Sun, Mon with 1 day between", "further apart"),
    ],
)
def test_a_day_rule_that_cannot_be_met_is_a_contradiction_and_the_session_is_left_out(rule, help):
    found = reckoned(plan_of(f'exercise squat\nbegin 2x6\nsession "A"\ndays {rule}\ndo squat'))
    (finding,) = found.findings
    assert (finding.rule, finding.level) == ("contradiction", "incomplete")
    assert help in finding.advice
    assert all(week.sittings == () and week.exercises == {} for week in found.weeks)


def test_two_days_lines_for_the_same_weeks_are_a_contradiction():
    days = "days Mon training weeks 1 to 4\ndays Wed training weeks 4 to 8"
    body = f'exercise squat\nbegin 2x6\nsession "A"\n{days}\ndo squat'
    assert "hold in the same training weeks" in messages(reckoned(plan_of(body)))[0]
