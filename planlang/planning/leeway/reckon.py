"""The leeway of a whole plan."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from planlang.model.plan import Plan
from planlang.planning.leeway.assumed import assumption
from planlang.planning.leeway.chances import SHARES, chance, flares_of, rest_needed
from planlang.planning.leeway.data import UNRECKONED, Chance, Leeway, Standing, Verdict
from planlang.planning.leeway.flares import Flares
from planlang.planning.leeway.origin import BEGINNING, Origin
from planlang.planning.leeway.verdicts import Verdicts, verdicts
from planlang.planning.week import Weeks


def leeway(
    plan: Plan,
    weeks: Weeks | None = None,
    one_done: Callable[[], object] | None = None,
    origin: Origin = BEGINNING,
    as_of: date | None = None,
) -> Leeway:
    """For each target of a plan what becomes of it wherever the rest falls, and how likely it is met.

    `weeks` may give the reckoned plan where there is one: without weeks of its own nothing is judged. `origin`:
    where the plan stands by its diary, read up to `as_of`; placements of rest start there, and people are taken
    to differ as the plan assumes, whatever has happened. `one_done` is called after each target, for whoever watches.
    """
    known = verdicts(plan) if origin is BEGINNING else Verdicts(plan, origin)
    if known.frame is None or (weeks is not None and not weeks.weeks):
        standings = tuple(Standing(t, None, Verdict.OPEN, UNRECKONED) for t in plan.targets)
        none = (None,) * len(standings)
        return Leeway(plan, plan.room, standings, none, None, None, UNRECKONED, False, as_of, origin.rest)
    standings = tuple(known.of(target) for target in plan.targets)
    assumed = assumption(plan)
    flares = assumed if isinstance(assumed, str) else flares_of(known.frame, assumed)
    if isinstance(assumed, str) or isinstance(flares, str):
        said = assumed if isinstance(assumed, str) else str(flares)
        room, none = known.frame.calendar.room, (None,) * len(standings)
        return Leeway(plan, room, standings, none, None, None, said, True, as_of, origin.rest)
    return Leeway(
        plan=plan,
        allowance=known.frame.calendar.room,
        standings=standings,
        chances=tuple(_chance(known, one, flares, one_done) for one in standings),
        assumption=assumed,
        rest=rest_needed(known.frame, flares),
        as_of=as_of,
        rest_used=origin.rest,
    )


def _chance(
    known: Verdicts, standing: Standing, flares: Flares, one_done: Callable[[], object] | None
) -> Chance | None:
    """The chance of one target; none where it is open, no chance where no step or pace could reach it."""
    found = None
    if standing.verdict is not Verdict.OPEN and standing.by is not None:
        machine = known.machine_of(standing.target)
        if reached := known.reached(standing.target):
            found = Chance(float(reached <= standing.by), tuple((s, reached) for s in SHARES))
        elif machine:
            found = chance(machine, flares, standing.by)
        else:
            found = Chance(0.0, tuple((s, None) for s in SHARES))
    if one_done is not None:
        one_done()
    return found
