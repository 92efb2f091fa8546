"""Plans for the tests of leeway: shapes that the shared strategies leave out, and brute force over reckoned weeks."""

from __future__ import annotations

from itertools import combinations

from attrs import evolve, frozen
from hypothesis import strategies as st

from planlang.model.exercise import Start
from planlang.model.session import Days
from planlang.planning.reach import aim, reached_on
from planlang.planning.reckon import reckon
from planlang.planning.weeks import day_of
from tests.made import window
from tests.strategies import free_weeks, plans_with_target


@frozen
class Listed:
    """What listing every placement gives for one target."""

    verdict: str
    earliest: object
    latest: object
    worst_rest: tuple[int, ...] | None
    margin: int | None


def date_with(plan, target, rest):
    """The date on which one placement of rest, reckoned by the product, meets a target."""
    exercise = plan.exercise(target.reach_in)
    step = aim(exercise, target.reach, plan.today).step
    return None if step is None else reached_on(reckon(plan, frozenset(rest)), exercise.name, step)


def listed(plan, target):
    """Verdict, dates, worst placement and margin by reckoning every placement, in the page's own words."""
    due = day_of(plan, target.by)
    free = free_weeks(plan)
    dates = {rest: date_with(plan, target, rest) for n in range(plan.room + 1) for rest in combinations(free, n)}
    met = [day for day in dates.values() if day is not None]
    in_time = [day for day in met if day <= due]
    earliest = min(met, default=None)
    latest = max(met) if len(met) == len(dates) else None
    if not in_time:
        return Listed("never", earliest, latest, None, None)
    worst = min((rest for rest, day in dates.items() if day == latest), key=lambda rest: (len(rest), rest))
    verdict = "always" if len(in_time) == len(dates) else "depends"
    return Listed(verdict, earliest, latest, worst, margin(plan, target, due, free))


def margin(plan, target, due, free):
    """The largest number of rest weeks which, wherever they fall, leave the target met in time."""
    for n in range(len(free) + 1):
        for rest in combinations(free, n):
            day = date_with(plan, target, rest)
            if day is None or day > due:
                return n - 1 if n else None
    return len(free)


@st.composite
def day_lines(draw, weeks):
    """`days` lines: the person's choice, once in so many weeks, every second day, phases of their own."""
    kinds = st.sampled_from(["fixed", "choose", "second", "rare", "planned"])

    def one(within=None):
        kind = draw(kinds)
        if kind == "choose":
            return Days(low=draw(st.integers(1, 3)), you_choose=True, window=within)
        if kind == "second":
            return Days(every_second=True, window=within)
        if kind == "rare":
            return Days(fixed=(draw(st.integers(0, 6)),), every_weeks=draw(st.integers(2, 3)), window=within)
        if kind == "planned":
            return Days(low=draw(st.integers(1, 3)), between=draw(st.sampled_from([None, 1])), window=within)
        return Days(fixed=tuple(sorted(draw(st.sets(st.integers(0, 6), min_size=1, max_size=3)))), window=within)

    if draw(st.booleans()):
        return (one(),)
    cut = draw(st.integers(1, max(1, weeks - 1)))
    return one(window((1, cut))), one(draw(st.sampled_from([None, window((cut + 1, None))])))


@st.composite
def unusual_plans(draw, weeks=(3, 8), room=2):
    """A plan and a target, with sessions in turn, day lines of every shape, and starts by reach."""
    plan, target = draw(plans_with_target(weeks, room, True))
    sessions = [evolve(one, days=draw(day_lines(plan.weeks))) for one in plan.sessions]
    if len(sessions) == 2 and draw(st.booleans()):
        sessions[1] = evolve(sessions[1], days=(), in_turn_with=sessions[0].name)
    exercises = list(plan.exercises)
    if len(exercises) > 1 and draw(st.booleans()):
        other = exercises[1]
        dose = draw(st.sampled_from(other.steps)).dose
        exercises[0] = evolve(exercises[0], start=Start(reach=dose, of=other.name))
    return evolve(plan, sessions=tuple(sessions), exercises=tuple(exercises)), target
