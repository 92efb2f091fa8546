"""Which weekdays a session takes when its line leaves them open, by looking at every choice."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, pairwise

from planlang.model.plan import Plan
from planlang.model.session import Session


def own_week(plan: Plan) -> list[int]:
    """The weekdays, 0 for Monday, in the order of the plan's own week."""
    first = plan.starts.weekday()
    return [(first + n) % 7 for n in range(7)]


def round_the_week(a: int, b: int) -> int:
    """ "gaps are counted round the week (Sunday to Monday is one day)"."""
    return min((a - b) % 7, (b - a) % 7)


def own_gaps(days: tuple[int, ...]) -> list[int]:
    """The gaps among a session's own days, round the week, smallest first."""
    ordered = sorted(days)
    if len(ordered) == 1:
        return [7]
    return sorted([b - a for a, b in pairwise(ordered)] + [ordered[0] + 7 - ordered[-1]])


def muscles(plan: Plan, session: Session) -> set[str]:
    """What a session trains."""
    return {muscle for exercise in plan.exercises if exercise.name in session.do for muscle in exercise.works}


def in_force(session: Session, training_week: int) -> bool:
    """Whether a session, and its line of days, is one of a training week."""
    windows = [window for window in (session.window, session.days[0].window) if window is not None]
    return all(training_week in window for window in windows)


def chosen_days(plan: Plan, training_week: int) -> dict[str, tuple[int, ...] | None]:
    """The weekdays of each session with one `days` line, in the plan's own week; None where none will do.

    "days do not depend on other weeks": only sessions of that training week are looked at. "sessions with
    fixed days come first, then the others in the order of the file"
    """
    taken: dict[str, tuple[int, ...] | None] = {}
    sessions = [session for session in plan.sessions if in_force(session, training_week)]
    for session in sessions:
        if session.days[0].fixed:
            taken[session.name] = tuple(day for day in own_week(plan) if day in session.days[0].fixed)
    for session in sessions:
        if session.name not in taken and not session.days[0].every_second:
            taken[session.name] = best(plan, session, taken)
    return taken


def rank(days: Iterable[int], near: Iterable[int]) -> tuple[list[int], list[int]]:
    """ "list of gaps, smallest first, compared entry by entry": to the days of sessions near, then its own."""
    days = tuple(days)
    near = tuple(near)
    return sorted(round_the_week(a, b) for a in days for b in near), own_gaps(days) if days else []


def best(plan: Plan, session: Session, taken: dict[str, tuple[int, ...] | None]) -> tuple[int, ...] | None:
    """ "each takes the days whose list of gaps, smallest first, compared entry by entry, is largest: first
    gaps to sessions that train a muscle it trains, then among its own days; then the list of days that
    comes first, compared day by day, in the plan's own week. Of `3 to 4 days` three are planned."
    """
    line = session.days[0]
    allowed = [day for day in own_week(plan) if not line.among or day in line.among]
    near = [
        day
        for other in plan.sessions
        if other.name in taken and muscles(plan, other) & muscles(plan, session)
        for day in taken[other.name] or ()
    ]
    # "`4 a week with 1 day between`": whole days between two
    choices = [
        days
        for days in combinations(allowed, line.low)  # in the order of the plan's own week: of equals the first
        if line.between is None or own_gaps(days)[0] > line.between
    ]
    return max(choices, key=lambda days: rank(days, near), default=None)
