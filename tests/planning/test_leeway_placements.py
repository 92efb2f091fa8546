"""Verdicts against listing every placement: plans of shapes that the slow reading leaves out, and many ladders."""

from __future__ import annotations

from datetime import timedelta
from itertools import combinations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planlang.model.rest import Lighter
from planlang.planning.ladder import FRESH, Event, Ladder, State, advance, ladder_of
from planlang.planning.leeway.verdicts import Verdicts
from planlang.planning.reach import aim
from tests.made import MONDAY, make_exercise, make_plan, make_rest, make_session, reach, sets
from tests.planning.leeway_plans import Listed, listed, unusual_plans
from tests.strategies import RETURNS, ladders, windows

QUIET = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]


def as_reckoned(plan, target):
    found = Verdicts(plan).of(target)
    return Listed(found.verdict.value, found.earliest, found.latest, found.worst_rest, found.margin)


@settings(max_examples=100, derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(unusual_plans())
def test_sessions_in_turn_chosen_days_phases_and_starts_by_reach(drawn):
    plan, target = drawn
    assert as_reckoned(plan, target) == listed(plan, target), f"{target} in {plan}"


@st.composite
def one_ladder(draw):
    """A plan of one exercise on Mondays: any ladder, window, lighter weeks and return lines."""
    weeks = draw(st.integers(3, 11))
    room = draw(st.integers(0, min(4, weeks - 1)))
    steps = draw(ladders(most=4))
    exercise = make_exercise(
        steps=steps,
        every=draw(st.sampled_from([1, 1, 2, 3])),
        from_week=draw(st.sampled_from([None, None, None, 3])),
        easier=draw(st.sampled_from([None, sets(1, 4)])),
        window=draw(st.one_of(st.none(), windows(weeks))),
    )
    lighter = draw(st.sampled_from([None, None, Lighter(2, 1), Lighter(3, 2)]))
    rest = make_rest(room, *draw(st.sampled_from(RETURNS)), lighter=lighter)
    plan = make_plan(exercise, weeks=weeks, rest=rest, sessions=[make_session(exercise.name, days="Mon")])
    dose = draw(st.sampled_from(steps)).dose
    return plan, reach(dose, exercise.name, week=draw(st.integers(1, weeks)))


def weeks_until(ladder: Ladder, window, step: int, held: int, weeks: int, most: int):
    """For each placement of at most `most` rest weeks the week in which the step is come to, by walking them all."""
    found: dict[tuple[int, ...], int | None] = {}

    def walk(state: State, week: int, trained: int, rest: tuple[int, ...]) -> None:
        if week > weeks or trained == held:
            left = range(week, weeks + 1)
            for many in range(min(most - len(rest), len(left)) + 1):
                found.update(((*rest, *more), None) for more in combinations(left, many))
            return
        if len(rest) < most:
            after, _ = advance(ladder, state, Event.REST)
            walk(after, week + 1, trained, (*rest, week))
        t = trained + 1
        inside = window is None or t in window
        after, turn = advance(ladder, state, ladder.event(t) if inside else Event.WITHOUT)
        if turn and turn.step >= step:
            left = range(week + 1, weeks + 1)
            for many in range(min(most - len(rest), len(left)) + 1):
                found.update(((*rest, *more), week) for more in combinations(left, many))
            return
        walk(after, week + 1, t, rest)

    walk(FRESH, 1, 0, ())
    return found


def by_walking(plan, target):
    """The answer from walking the ladder along every placement; sessions are on Mondays, targets due on Sundays."""
    exercise = plan.exercises[0]
    step = aim(exercise, target.reach).step
    ladder = ladder_of(exercise, plan.rest)
    held = plan.weeks - plan.room
    everything = weeks_until(ladder, exercise.window, step, held, plan.weeks, plan.weeks)
    due = target.by.week
    late = [len(rest) for rest, week in everything.items() if week is None or week > due]
    margin = min(late) - 1 if min(late) else None
    here = {rest: week for rest, week in everything.items() if len(rest) <= plan.room}
    met = [week for week in here.values() if week is not None]
    earliest = MONDAY + timedelta(weeks=min(met) - 1) if met else None
    latest = max(met) if len(met) == len(here) else None
    latest_day = MONDAY + timedelta(weeks=latest - 1) if latest else None
    in_time = [week for week in met if week <= due]
    if not in_time:
        return Listed("never", earliest, latest_day, None, None)
    worst = min((rest for rest, week in here.items() if week == latest), key=lambda rest: (len(rest), rest))
    verdict = "always" if len(in_time) == len(here) else "depends"
    return Listed(verdict, earliest, latest_day, worst, margin)


@settings(max_examples=700, derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(one_ladder())
def test_one_ladder_along_every_placement(drawn):
    plan, target = drawn
    assert as_reckoned(plan, target) == by_walking(plan, target), f"{target} in {plan}"
