"""Calendar weeks, dates named by week, and what a calendar week may turn out to be."""

from __future__ import annotations

from datetime import date
from itertools import combinations

import pytest
from attrs import evolve

from planlang.model.plan import When
from planlang.planning.reckon import reckon
from planlang.planning.slots import Timetable
from planlang.planning.week import WeekKind
from planlang.planning.weeks import Calendar, day_of, review_days, week_start
from tests.planning.plans import BEDS, plan_of, read, reckoned


def every_placement(plan, room: int):
    free = [w.number for w in reckon(plan).weeks if w.kind is not WeekKind.AWAY]
    return [frozenset(rest) for many in range(room + 1) for rest in combinations(free, many)]


@pytest.mark.parametrize("starts", [date(2027, 3, 1), date(2027, 3, 4), date(2027, 3, 7)])
def test_week_k_runs_seven_days_from_the_start_whatever_weekday_that_is(starts):
    weeks = reckon(evolve(read(BEDS), starts=starts)).weeks
    assert [(w.starts - starts).days for w in weeks] == [7 * k for k in range(18)]


def test_a_week_as_a_date_is_its_last_day():
    plan = read(BEDS)
    assert day_of(plan, When(week=8)) == date(2027, 4, 25)
    assert day_of(plan, When(day=date(2027, 7, 4))) == date(2027, 7, 4)
    assert day_of(plan, None) is None
    assert day_of(evolve(plan, starts=None), When(week=8)) is None
    assert day_of(plan, When(week=10**6)) is None
    assert week_start(plan, 5) == date(2027, 3, 29)


def test_reviews_every_four_weeks_are_the_last_days_of_weeks_4_8_12():
    assert review_days(plan_of("review every 4 weeks", 12)) == (date(2027, 3, 28), date(2027, 4, 25), date(2027, 5, 23))


def test_reviews_at_weeks_and_dates_come_in_order_each_once():
    plan = plan_of("review at week 4, 2028-01-10, 2027-03-28, week 2", 12)
    assert review_days(plan) == (date(2027, 3, 14), date(2027, 3, 28), date(2028, 1, 10))


def test_a_calendar_needs_a_start_and_a_length():
    with pytest.raises(ValueError, match="no calendar"):
        Calendar(evolve(read(BEDS), starts=None))


@pytest.mark.parametrize(
    ("weeks", "room", "away"), [(7, 2, ""), (8, 2, "away 2027-03-15 to 2027-03-21"), (5, 3, ""), (6, 0, "")]
)
def test_what_a_week_may_be_is_what_some_placement_makes_it(weeks, room, away):
    plan = plan_of('exercise squat\nbegin 2x6\nsession "A"\ndays Mon\ndo squat', weeks, room, head=away)
    calendar = Calendar(plan)
    seen: dict[int, set[int]] = {week: set() for week in range(1, weeks + 1)}
    for rest in every_placement(plan, room):
        for number, (kind, training) in enumerate(calendar.kinds(rest), 1):
            if kind is WeekKind.TRAINING:
                seen[number].add(training)
            elif kind is WeekKind.SPARE:
                seen[number].add(calendar.training_weeks)  # it holds the last one's sessions
    assert {week: set(calendar.may_be(week)) for week in seen} == seen


def test_the_days_on_which_a_session_may_fall_are_those_of_some_placement():
    body = """
        exercise squat
        works quadriceps
        begin 2x6
        session "A"
        days 3 a week training weeks 1 to 3
        days Sun training weeks 4
        days every second training weeks 5 on
        do squat
        session "B"
        days 1 a week
        do squat
        training weeks 2 on
    """
    plan = plan_of(body, 9, 2, head="away 2027-03-22 to 2027-03-28")
    timetable = Timetable(Calendar(plan))
    seen: dict[tuple[str, int], set[int]] = {(s.name, w): set() for s in plan.sessions for w in range(1, 10)}
    for rest in every_placement(plan, 2):
        for week in reckon(plan, rest).weeks:
            for sitting in week.sittings:
                seen[sitting.name, week.number].add((sitting.day - week.starts).days)
    assert {key: set(timetable.possible_days(plan.session(key[0]), key[1])) for key in seen} == seen


def test_rest_takes_room_and_away_does_not():
    found = reckoned(plan_of("exercise squat\nbegin 2x6", 6, 2, head="away 2027-03-08 to 2027-03-14"), 4)
    assert [w.kind.value for w in found.weeks] == ["training", "away", "training", "rest", "training", "spare"]
