"""Leeway from where a diary leaves a plan, the week under way among what is known: against listing every placement."""

from __future__ import annotations

from datetime import timedelta
from itertools import combinations

from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.planning.leeway.reckon import leeway
from planlang.planning.leeway.standing_at import days_done, origin_of
from planlang.planning.looking_back import past_of
from planlang.planning.past import Outcome
from planlang.planning.reach import aim, day_in
from planlang.planning.reckon import reckon
from planlang.planning.week import WeekKind
from planlang.planning.weeks import day_of
from tests.made import make_exercise, make_plan, make_session, reach, sets
from tests.planning.test_looking_back import back, day
from tests.planning.test_looking_back_against_oracle import QUIET, diary_of, plans_with_diaries
from tests.strategies import examples, free_weeks


def date_with(past, target, more):
    """When a step is met with these easier weeks to come: on the day it was done, else is still to be, else planned."""
    plan = past.plan
    exercise = plan.exercise(target.reach_in)
    step = aim(exercise, target.reach, plan.today).step
    if step is None:
        return None
    been = days_done(past, exercise.name)
    if step < len(been):
        return been[step]
    for week in reckon(plan, past.rest | frozenset(more), past.looking).weeks:
        done = week.exercises.get(exercise.name) or week.activities.get(exercise.name)
        if week.number < past.first_open_week or week.kind is not WeekKind.TRAINING or done is None:
            continue
        if done.step is not None and done.step >= step:
            found = day_under_way(past, week, exercise) if week.starts <= past.as_of else day_in(plan, week, exercise)
            if found is not None:
                return found
    return None


def day_under_way(past, week, exercise):
    """The first day of an exercise in the week under way that was held, or is still ahead."""
    if not any(exercise.name in session.do for session in past.plan.sessions):
        return day_in(past.plan, week, exercise)
    days = []
    for held in past.held:
        if held.week != week.number:
            continue
        if exercise.name in held.done:
            days.append(held.on)
        elif held.outcome is Outcome.AHEAD and exercise.name in held.exercises:
            days.append(held.day)
    last = week.starts + timedelta(6)
    if not days:
        return None
    return last if exercise.weekly else min(min(max(one, week.starts), last) for one in days)


def listed(past, target):
    """Verdict and dates over every placement of what is left."""
    plan, due = past.plan, day_of(past.plan, target.by)
    free = [week for week in free_weeks(plan) if week >= past.first_open_week]
    left = max(plan.room - sum(week < past.first_open_week for week in past.rest), 0)
    dates = [date_with(past, target, more) for n in range(left + 1) for more in combinations(free, n)]
    met = [one for one in dates if one is not None]
    in_time = [one for one in met if one <= due]
    verdict = "always" if len(in_time) == len(dates) else "depends" if in_time else "never"
    return verdict, min(met, default=None), max(met) if len(met) == len(dates) else None


@st.composite
def cases(draw):
    plan, entries, as_of = draw(plans_with_diaries())
    exercise = draw(st.sampled_from(plan.exercises))
    dose = draw(st.sampled_from([step.dose for step in exercise.steps][::-1]))
    target = reach(dose, exercise.name, week=draw(st.integers(1, plan.weeks)))
    return evolve(plan, targets=(target,)), entries, as_of, target


@settings(max_examples=examples(90), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(cases())
def test_verdicts_from_today_are_those_of_every_placement_of_what_is_left(case):
    plan, entries, as_of, target = case
    past = past_of(plan, diary_of(entries), as_of)
    (found,) = leeway(plan, past.weeks, origin=origin_of(past), as_of=past.as_of).standings
    assert listed(past, target) == (found.verdict.value, found.earliest, found.latest), f"{past}\n{plan}"


def test_a_week_under_way_that_can_not_count_any_more_is_reckoned_so():
    """Monday's session was not done and no other is due: the next step can only come a week later."""
    target = reach(sets(2, 7), "sit-to-stand", week=3)
    plan = make_plan(
        make_exercise(steps=3), weeks=3, room=0, sessions=[make_session("sit-to-stand", days="Mon", name="A")]
    )
    plan = evolve(plan, targets=(target,))
    for line, verdict in (("done", "always"), ("not done", "never")):
        past = back(plan, f'{day(1)} {line} "A"', as_of=day(1, 2))
        (found,) = leeway(plan, past.weeks, origin=origin_of(past), as_of=past.as_of).standings
        assert found.verdict.value == verdict


def test_a_step_done_in_the_first_week_is_met_though_the_week_is_not_over():
    target = reach(sets(2, 5), "sit-to-stand", week=1)
    plan = evolve(make_plan(make_exercise(steps=3), weeks=4, room=2), targets=(target,))
    past = back(plan, f'{day(1)} done "Chair and bench"', as_of=day(1))
    (found,) = leeway(plan, past.weeks, origin=origin_of(past), as_of=past.as_of).standings
    assert (found.verdict.value, found.latest) == ("always", plan.starts)
