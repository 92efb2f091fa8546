"""What becomes of a trained target over every placement of rest, by listing them all."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import combinations

from attrs import frozen

from planlang.model.plan import Plan, Target, When
from planlang.planning.week import WeekKind
from tests.oracle.atleast import first_at_least
from tests.oracle.kinds import DAY, away_weeks, first_day
from tests.oracle.replay import replay
from tests.oracle.sittings import exercise_days


@frozen
class Reached:
    """The answer for one target; `worst_rest` and `margin` are None when it is never reached or open."""

    verdict: str
    earliest: date | None
    latest: date | None
    worst_rest: tuple[int, ...] | None
    margin: int | None


def due_day(plan: Plan, when: When) -> date:
    """ "`week 8`: the last day of the plan's eighth calendar week"."""
    return when.day if when.day is not None else first_day(plan, when.week) + 6 * DAY


def date_of(plan: Plan, target: Target, rest: frozenset[int]) -> date | None:
    """ "A placement's date is that of the first session (daily activity: first day; weekly quota: last
    day of the week) of E at step j or higher within the plan's N weeks, if there is one."
    """
    exercise = plan.exercise(target.reach_in)
    j = first_at_least(plan, exercise, target.reach)
    if j is None:
        return None
    training_week = 0
    for one in replay(plan, rest):
        training_week = one.week.training_week or training_week
        done = one.seen.get(exercise.name)
        if one.week.kind not in (WeekKind.TRAINING, WeekKind.SPARE):
            continue  # what is done in a rest or an away week stands outside the ladder
        if done is None or done.step < j:
            continue
        if exercise.weekly:
            return one.week.days[-1]
        return exercise_days(plan, exercise, one.week, training_week)[0]
    return None


def placements(plan: Plan, most: int) -> Iterator[frozenset[int]]:
    """ "every set of at most A calendar weeks that are not away weeks": fewest weeks first, then the one
    that comes first when the lists are compared number by number.
    """
    free = [number for number in range(1, plan.weeks + 1) if number not in away_weeks(plan)]
    for many in range(min(most, len(free)) + 1):
        yield from map(frozenset, combinations(free, many))


def oracle_leeway(plan: Plan, target: Target, most: int | None = None) -> Reached:
    """Verdict, earliest, latest, worst rest and margin of a trained target.

    `most`: look for a margin up to so many rest weeks only, where listing them all would take too long.
    """
    # "A target that no ladder decides (`keep`, `do`, `measured`, a dose to be set) is open"
    if target.reach is None or target.reach.to_be_set:
        return Reached("open", None, None, None, None)
    due = due_day(plan, target.by)
    dates = {rest: date_of(plan, target, rest) for rest in placements(plan, plan.room)}
    met = [day for day in dates.values() if day is not None]
    in_time = [day for day in met if day <= due]
    # "always: every placement has a date, all on or before T; never: none has one on or before T; else depends"
    if len(in_time) == len(dates):
        verdict = "always"
    elif not in_time:
        verdict = "never"
    else:
        verdict = "depends"
    # "the first and last of these dates; latest is null when some placement has none"
    earliest = min(met, default=None)
    latest = max(met) if len(met) == len(dates) else None
    if verdict == "never":
        return Reached(verdict, earliest, latest, None, None)
    # "of the placements with the latest date (or with none) the one with the fewest weeks, then the
    # first when the lists are compared number by number"
    worst = min((rest for rest, day in dates.items() if day == latest), key=lambda rest: (len(rest), sorted(rest)))
    return Reached(verdict, earliest, latest, tuple(sorted(worst)), margin(plan, target, due, dates, most))


def margin(
    plan: Plan, target: Target, due: date, known: dict[frozenset[int], date | None], most: int | None = None
) -> int | None:
    """ "the largest k for which every placement of at most k rest weeks has a date on or before T, the
    plan's own room kept; it may be more than A". None where not even k = 0 does.
    """
    largest = None
    free = plan.weeks - len(away_weeks(plan))
    for rest in placements(plan, free if most is None else most):
        day = known[rest] if rest in known else date_of(plan, target, rest)
        if day is None or day > due:
            return largest if not rest else len(rest) - 1
        largest = len(rest)
    return largest
