"""The days that the planner chooses are those that looking at every choice of days would take."""

from __future__ import annotations

from hypothesis import given, settings

from planlang.planning.reckon import reckon
from tests.oracle.chooser import chosen_days
from tests.strategies import WEEKDAYS, plans_with_open_days


@settings(max_examples=200, derandomize=True, deadline=None)
@given(plans_with_open_days())
def test_the_days_chosen_are_the_best_of_all(plan):
    week = reckon(plan).weeks[0]
    planned = {
        session.name: [WEEKDAYS[sitting.day.weekday()] for sitting in week.sittings if sitting.name == session.name]
        for session in plan.sessions
    }
    expected = {name: [WEEKDAYS[day] for day in days or ()] for name, days in chosen_days(plan).items()}
    assert expected == planned, [(session.name, session.days) for session in plan.sessions]
