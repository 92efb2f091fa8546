"""The days that the planner chooses are those that looking at every choice of days would take."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings

from planlang.planning.reckon import reckon
from planlang.planning.week import WeekKind
from tests.made import WEEKDAYS
from tests.oracle.chooser import chosen_days
from tests.oracle.replay import replay
from tests.oracle.sittings import session_days
from tests.strategies import examples, plans_with_open_days, plans_with_rest


@settings(max_examples=examples(100), derandomize=True, deadline=None)
@given(plans_with_open_days())
def test_the_days_chosen_are_the_best_of_all(plan):
    week = reckon(plan).weeks[0]
    planned = {
        session.name: [WEEKDAYS[sitting.day.weekday()] for sitting in week.sittings if sitting.name == session.name]
        for session in plan.sessions
    }
    expected = {name: [WEEKDAYS[day] for day in days or ()] for name, days in chosen_days(plan, 1).items()}
    assert expected == planned, [(session.name, session.days) for session in plan.sessions]


@settings(max_examples=examples(100), derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plans_with_rest(weeks=(3, 9)))
def test_the_days_of_every_training_week_are_those_the_page_gives(drawn):
    """Fixed, chosen and every second day, phases, partly away weeks, sessions that move within the week."""
    plan, rest = drawn
    for past, week in zip(replay(plan, rest), reckon(plan, rest).weeks, strict=True):
        if week.kind is not WeekKind.TRAINING:
            continue
        for session in plan.sessions:
            if not any(name in past.seen for name in session.do):
                continue
            expected = session_days(plan, session, past.week, week.training_week)
            found = sorted(sitting.day for sitting in week.sittings if sitting.name == session.name)
            assert expected == found, f"{session.name} in week {week.number}, rest {sorted(rest)}: {plan}"
