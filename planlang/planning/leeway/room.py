"""How many easier weeks to propose room for, where nothing is said."""

from __future__ import annotations

from planlang.model.plan import Plan
from planlang.planning.leeway.reckon import leeway

SHARE = 0.8
"""Running out one time in five costs one talk about dates; more room costs everybody weeks of slack."""
SHORTEST = 6
"""Weeks: in a shorter plan no room is proposed."""
BY_LENGTH = ((11, 1), (18, 2), (26, 3), (39, 5), (520, 6))
"""(up to so many weeks, room for so many), as the default rate comes to; for plans without a rate of their own."""


def proposed_room(plan: Plan) -> int:
    """The room that is enough four times in five by the plan's own assumptions; at most a third of its weeks.

    None is proposed for a plan too short for one, or for one soon after an operation, where new pain is a reason
    to call and not to rest.
    """
    weeks = plan.weeks or 0
    known = (plan.catalogue.condition(about.name) for about in plan.about)
    if weeks < SHORTEST or plan.operations or any(condition is not None and condition.operation for condition in known):
        return 0
    rest = leeway(plan).rest
    if rest is not None:
        room = rest.room_for(SHARE)
    else:
        room = next((room for most, room in BY_LENGTH if weeks <= most), BY_LENGTH[-1][1])
    return min(room, weeks // 3)
