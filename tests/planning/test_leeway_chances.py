"""Chances: exact against every course of flares, a simulation, closed forms, and published shares."""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import product
from math import exp, log1p, sqrt

import pytest
from attrs import evolve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from planlang.model.plan import Condition
from planlang.model.rest import Expect
from planlang.planning.leeway.chances import fields_for, rest_needed
from planlang.planning.leeway.data import Assumption
from planlang.planning.leeway.flares import Flares
from planlang.planning.leeway.frame import Frame
from planlang.planning.leeway.reckon import leeway
from planlang.planning.weeks import Calendar, day_of
from tests.made import MONDAY, away, ladder, make_exercise, make_plan, make_rest, make_session, reach, sets
from tests.planning.leeway_plans import date_with, unusual_plans

QUIET = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]
RATES = [
    Expect(Fraction(1), 8, Fraction(1)),
    Expect(Fraction(4), 52, Fraction(8, 7)),
    Expect(Fraction(1), 6, Fraction(2)),
    Expect(Fraction(3), 10, Fraction(1)),
]


def with_rate(plan, rate):
    return evolve(plan, rest=evolve(plan.rest, expect=rate))


def courses(weeks, p, stays):
    """Every course of flare weeks with its chance, as the page tells the chain, in exact fractions."""
    for course in product((False, True), repeat=weeks):
        chance, before = Fraction(1), False
        for flare in course:
            starts = stays if before else p
            chance *= starts if flare else 1 - starts
            before = flare
        if chance:
            yield course, chance


@settings(max_examples=40, derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(unusual_plans(weeks=(3, 7)), st.sampled_from(RATES))
def test_the_chance_of_a_target_is_that_of_the_courses_that_meet_it(drawn, rate):
    plan, target = drawn
    plan = with_rate(plan, rate)
    calendar = Calendar(plan)
    stays = 1 - 1 / rate.lasting
    p = rate.flares / (rate.weeks - rate.flares * rate.lasting)
    due = day_of(plan, target.by)
    known, met, rests = {}, Fraction(0), {}
    for course, chance in courses(plan.weeks, p, stays):
        rest = tuple(week for week, flare in enumerate(course, 1) if flare and week not in calendar.away_weeks)
        if rest not in known:
            known[rest] = date_with(plan, target, rest)
        if known[rest] is not None and known[rest] <= due:
            met += chance
        rests[len(rest)] = rests.get(len(rest), 0) + chance
    answer = leeway(plan)
    assert answer.chances[0].by_its_date == pytest.approx(float(met), abs=1e-7)
    expected = [float(rests.get(n, 0)) for n in range(len(answer.rest.weeks))]
    assert list(answer.rest.weeks) == pytest.approx(expected, abs=1e-12)
    assert answer.rest.enough == pytest.approx(sum(expected[: plan.room + 1]), abs=1e-12)


def simulated(plan, target, rate, times, seed=20270301):
    """The share of simulated people who meet a target, each with a rate of flares of their own."""
    chance, known = random.Random(seed), {}
    away_weeks, due = Calendar(plan).away_weeks, day_of(plan, target.by)
    p = float(rate.flares / (rate.weeks - rate.flares * rate.lasting))
    stays = float(1 - 1 / rate.lasting)
    met = 0
    for _ in range(times):
        own = p
        if rate.varies:
            mean = -log1p(-p)
            own = 1 - exp(-chance.gammavariate(rate.varies, mean / rate.varies))
        flare, rest = False, []
        for week in range(1, plan.weeks + 1):
            flare = chance.random() < (stays if flare else own)
            if flare and week not in away_weeks:
                rest.append(week)
        key = tuple(rest)
        if key not in known:
            known[key] = date_with(plan, target, key)
        met += known[key] is not None and known[key] <= due
    return met / times


@pytest.mark.parametrize("varies", [None, 4, 2, 1])
@pytest.mark.parametrize("lasting", [Fraction(1), Fraction(8, 7), Fraction(3)])
def test_a_simulation_agrees(varies, lasting):
    rate = Expect(Fraction(1), 8, lasting, varies)
    plan = make_plan(
        make_exercise(steps=ladder(5), every=2), weeks=16, rest=make_rest(2, expect=rate), away=(away(MONDAY, 29, 38),)
    )
    target = reach(plan.exercises[0].steps[4].dose, "sit-to-stand", week=14)
    plan = evolve(plan, targets=(target,))
    expected, times = leeway(plan).chances[0].by_its_date, 1500
    error = sqrt(expected * (1 - expected) / times)
    assert abs(simulated(plan, target, rate, times) - expected) < 4 * error


@pytest.mark.parametrize("rate", [Fraction(1), Fraction(1, 2), Fraction(5, 2)])
@pytest.mark.parametrize("steps", [1, 4, 9])
def test_one_week_flares_without_easing_are_binomial(rate, steps):
    """Between two trained weeks at most one flare fits, so those before step s are binomial in s trials (scipy)."""
    weeks, room = 14, 3
    plan = make_plan(
        make_exercise(steps=ladder(weeks - room), every=1),
        weeks=weeks,
        rest=make_rest(room, (0, 0, 1), expect=Expect(rate, 8, Fraction(1))),
    )
    p = float(rate / (8 - rate))
    dose = plan.exercises[0].steps[steps - 1].dose
    targets = tuple(reach(dose, "sit-to-stand", week=week) for week in range(steps, weeks + 1))
    found = leeway(evolve(plan, targets=targets))
    for week, chance in enumerate(found.chances, steps):
        assert chance.by_its_date == pytest.approx(stats.binom.cdf(week - steps, steps, p), abs=1e-7)


def free_of_flares(assumed, weeks):
    """The chance that weeks in a row hold no flare."""
    return Flares(assumed, weeks).weight(weeks, 0, 0, False)


def test_half_of_people_have_no_flare_in_thirteen_weeks():
    """Thomas et al 2021, Osteoarthritis Cartilage 29: 744 people, 568 flares in 13 weeks, 376 with any: 0.495 none."""
    assumed = Assumption(Fraction(568, 744), 13, Fraction(1), varies=2)
    assert free_of_flares(assumed, 13) == pytest.approx(1 - 376 / 744, abs=0.01)


def test_more_than_half_have_no_flare_in_seventy_two_days():
    """Parry et al 2019, Osteoarthritis Cartilage 27: 1.12 flares in 100 person-days, median 8 days; 37 of 67: none."""
    assumed = Assumption(Fraction("0.0112") * 70, 10, Fraction(8, 7), varies=1)
    ten, eleven = free_of_flares(assumed, 10), free_of_flares(assumed, 11)
    share = ten + (72 / 7 - 10) * (eleven - ten)
    assert share == pytest.approx(37 / 67, abs=0.06)


@pytest.mark.parametrize("shape", [1, 2, 4])
@pytest.mark.parametrize(("flares", "none"), [(0, 10), (1, 0), (3, 20), (12, 30), (26, 26)])
def test_the_mean_over_people_is_the_gamma_integral(shape, flares, none):
    """-ln(1 - p) is gamma-distributed about its value: the closed form against scipy's integral."""
    assumed = Assumption(Fraction(1), 13, Fraction(1), varies=shape)
    scale = -log1p(-1 / 12) / shape

    def inside(x):
        return (1 - exp(-x)) ** flares * exp(-none * x) * stats.gamma.pdf(x, shape, scale=scale)

    expected, _ = integrate.quad(inside, 0, 12, limit=400, epsabs=1e-14)
    assert Flares(assumed, 52).starts(flares, none) == pytest.approx(expected, abs=1e-9, rel=1e-5)


def test_long_plans_lose_no_digits():
    weeks = rest_needed(
        Frame(make_plan(weeks=260, room=8)), Flares(Assumption(Fraction(1), 13, Fraction(1), 1), 260)
    ).weeks
    assert sum(weeks) == pytest.approx(1, abs=1e-12)
    assert min(weeks) >= 0


def test_in_the_long_run_as_many_flares_begin_as_are_expected():
    """K flares in N weeks, whatever their length: rest weeks a year are K d / N of it, the beginning apart."""
    for lasting in (Fraction(1), Fraction(2), Fraction(3)):
        assumed = Assumption(Fraction(1), 10, lasting)
        found = rest_needed(Frame(make_plan(weeks=200, room=0)), Flares(assumed, 200)).weeks
        mean = sum(n * likely for n, likely in enumerate(found))
        assert mean / 200 == pytest.approx(float(lasting / 10), rel=0.02)


def test_a_flare_that_is_never_expected_leaves_no_doubt():
    plan = make_plan(make_exercise(steps=3), weeks=6, rest=make_rest(1, expect=Expect(Fraction(0), 8, Fraction(1))))
    target = reach(plan.exercises[0].steps[2].dose, "sit-to-stand", week=3)
    assert leeway(evolve(plan, targets=(target,))).chances[0].by_its_date == 1


def test_dates_of_fifty_eighty_and_ninety_five_per_cent_are_the_first_with_that_chance():
    plan = make_plan(make_exercise(steps=ladder(3)), weeks=9, rest=make_rest(2, expect=RATES[0]))
    dose = plan.exercises[0].steps[2].dose
    mondays = [MONDAY.replace(day=1 + 7 * n) for n in range(4)]
    targets = tuple(reach(dose, "sit-to-stand", day=day) for day in mondays)
    found = leeway(evolve(plan, targets=targets))
    by_day = [chance.by_its_date for chance in found.chances]
    for share, day in found.chances[0].met_by:
        first = next((when for when, likely in zip(mondays, by_day, strict=True) if likely >= share / 100), None)
        assert day == first or (first is None and day > mondays[-1])


KNEE, HIP, HAND = (Condition(f"{joint} osteoarthritis") for joint in ("knee", "hip", "hand"))


def test_the_knee_has_published_rates():
    found = leeway(make_plan(about=(KNEE,)))
    assumed = found.assumption
    assert (assumed.flares, assumed.weeks, assumed.lasting, assumed.varies, assumed.default) == (1, 13, 1, 1, True)
    assert any("Thomas et al 2021" in source for source in assumed.sources)


def test_the_hip_borrows_them_from_the_knee():
    assert leeway(make_plan(about=(HIP,))).assumption.note == "borrowed from the knee"


@pytest.mark.parametrize("about", [(), (HAND,), (KNEE, HAND), (Condition("sore elbow"),)], ids=str)
def test_without_published_rates_there_are_verdicts_and_no_chances(about):
    plan = make_plan(about=about)
    plan = evolve(plan, targets=(reach(sets(2, 6), "sit-to-stand", week=8),))
    found = leeway(plan)
    assert found.no_chances
    assert (found.assumption, found.rest, found.chances) == (None, None, (None,))
    assert found.standings[0].verdict == "always"


def test_what_is_expected_goes_before_what_is_published():
    found = leeway(with_rate(make_plan(about=(KNEE,)), RATES[2]))
    assert (found.assumption.weeks, found.assumption.default) == (6, False)


def test_an_expect_line_that_cannot_be_reckoned_leaves_no_chances():
    plan = make_plan(about=(KNEE,))
    plan = evolve(plan, rest=evolve(plan.rest, places={"expect": plan.rest.span}))
    assert leeway(plan).no_chances == "The `expect` line can't be reckoned with."


def test_a_line_that_may_say_what_to_expect_leaves_no_chances():
    assert leeway(evolve(make_plan(about=(KNEE,)), unread=frozenset({"expect"}))).assumption is None


def test_flares_longer_than_a_week_are_counted_apart_from_their_weeks():
    long, short = (Flares(Assumption(Fraction(1), 8, Fraction(d)), 10) for d in (2, 1))
    assert (fields_for(long).flares, fields_for(short).flares) == (5, 0)


def test_a_session_of_its_own_day_moves_the_dates_by_days():
    plan = make_plan(
        make_exercise(steps=2),
        weeks=4,
        rest=make_rest(1, expect=RATES[0]),
        sessions=[make_session("sit-to-stand", days="Thu")],
    )
    target = reach(plan.exercises[0].steps[1].dose, "sit-to-stand", week=4)
    assert dict(leeway(evolve(plan, targets=(target,))).chances[0].met_by)[50] == MONDAY.replace(day=11)


def test_the_usual_rooms_for_rest_are_those_of_the_default_rates():
    """The table of default rooms: enough with 80 % and with 95 %, for the published rates of the knee."""
    enough = {8: (1, 2), 12: (2, 3), 18: (2, 4), 20: (3, 4), 26: (3, 6), 39: (5, 8), 52: (6, 11)}
    for weeks, rooms in enough.items():
        rest = leeway(make_plan(weeks=weeks, about=(KNEE,))).rest
        assert (rest.room_for(0.8), rest.room_for(0.95)) == rooms
