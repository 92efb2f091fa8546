"""Leeway from where a plan stands: verdicts and chances against listing every placement of what is left."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planlang.planning.leeway.reckon import leeway
from planlang.planning.leeway.standing_at import origin_at
from planlang.planning.weeks import Calendar, day_of
from tests.planning.leeway_plans import Listed, date_with, unusual_plans
from tests.planning.test_leeway_chances import QUIET, RATES, with_rate
from tests.strategies import free_weeks, plans_with_target

SLOW = [*QUIET, HealthCheck.filter_too_much]


@st.composite
def stood(draw, plans):
    """A plan with a target, the first week that is open, and the rest weeks taken before it."""
    plan, target = draw(plans)
    week = draw(st.integers(1, plan.weeks + 1))
    taken = draw(st.sets(st.sampled_from(free_weeks(plan)), max_size=3)) if free_weeks(plan) else set()
    return plan, target, week, frozenset(w for w in taken if w < week)


def listed_from(plan, target, week, taken):
    """Verdict, dates, worst placement and margin of what is left, by reckoning every placement."""
    due = day_of(plan, target.by)
    free = [w for w in free_weeks(plan) if w >= week]
    left = max(plan.room - len(taken), 0)
    dates = {more: date_with(plan, target, (*taken, *more)) for n in range(left + 1) for more in combinations(free, n)}
    met = [day for day in dates.values() if day is not None]
    in_time = [day for day in met if day <= due]
    earliest = min(met, default=None)
    latest = max(met) if len(met) == len(dates) else None
    if not in_time:
        return Listed("never", earliest, latest, None, None)
    worst = min((rest for rest, day in dates.items() if day == latest), key=lambda rest: (len(rest), rest))
    verdict = "always" if len(in_time) == len(dates) else "depends"
    return Listed(verdict, earliest, latest, worst, _margin(plan, target, due, free, taken))


def _margin(plan, target, due, free, taken):
    for n in range(len(free) + 1):
        for more in combinations(free, n):
            day = date_with(plan, target, (*taken, *more))
            if day is None or day > due:
                return n - 1 if n else None
    return len(free)


def as_reckoned(plan, target, week, taken):
    standings = leeway(plan, origin=origin_at(plan, week, taken)).standings
    (found,) = [one for one in standings if one.target is target]
    return Listed(found.verdict.value, found.earliest, found.latest, found.worst_rest, found.margin)


@settings(max_examples=150, derandomize=True, deadline=None, suppress_health_check=SLOW)
@given(stood(unusual_plans(weeks=(3, 8))))
def test_the_verdict_is_that_of_all_placements_of_what_is_left(drawn):
    plan, target, week, taken = drawn
    found = as_reckoned(plan, target, week, taken)
    expected = listed_from(plan, target, week, taken)
    reached = date_with(plan, target, tuple(taken))
    if reached is not None and reached < Calendar(plan).start_of(week):
        assert (found.verdict, found.earliest, found.latest) == (expected.verdict, reached, reached)
    else:
        assert found == expected, f"{target} from week {week} after {set(taken)} in {plan}"


@settings(max_examples=100, derandomize=True, deadline=None, suppress_health_check=SLOW)
@given(stood(plans_with_target(weeks=(3, 8), room=2)))
def test_the_same_for_plans_of_every_usual_shape(drawn):
    plan, target, week, taken = drawn
    found = as_reckoned(plan, target, week, taken)
    expected = listed_from(plan, target, week, taken)
    assert (found.verdict, found.earliest, found.latest) == (expected.verdict, expected.earliest, expected.latest)


@settings(max_examples=60, derandomize=True, deadline=None, suppress_health_check=SLOW)
@given(stood(unusual_plans(weeks=(3, 7))), st.sampled_from(RATES))
def test_the_chance_is_that_of_the_courses_of_flares_still_to_come(drawn, rate):
    plan, target, week, taken = drawn
    plan = with_rate(plan, rate)
    away = Calendar(plan).away_weeks
    in_flare = week > 1 and week - 1 in taken
    stays = 1 - 1 / rate.lasting
    p = rate.flares / (rate.weeks - rate.flares * rate.lasting)
    due, met, rests = day_of(plan, target.by), Fraction(0), {}
    for course, chance in _courses(plan.weeks - week + 1, p, stays, in_flare):
        more = tuple(week + n for n, flare in enumerate(course) if flare and week + n not in away)
        day = date_with(plan, target, (*taken, *more))
        if day is not None and day <= due:
            met += chance
        total = len(taken) + len(more)
        rests[total] = rests.get(total, 0) + chance
    answer = leeway(plan, origin=origin_at(plan, week, taken))
    assert answer.chances[0].by_its_date == pytest.approx(float(met), abs=1e-7)
    expected = [float(rests.get(n, 0)) for n in range(len(answer.rest.weeks))]
    assert list(answer.rest.weeks) == pytest.approx(expected, abs=1e-12)
    assert answer.rest_used == len(taken)
    assert answer.rest_left == max(plan.room - len(taken), 0)


def _courses(weeks, p, stays, in_flare):
    """Every course of the weeks still to come with its chance, as the page tells the chain."""
    if not weeks:
        yield (), Fraction(1)
        return
    for flare in (False, True):
        here = stays if in_flare else p
        chance = here if flare else 1 - here
        if chance:
            for rest, more in _courses(weeks - 1, p, stays, flare):
                yield (flare, *rest), chance * more
