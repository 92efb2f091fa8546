"""The leeway of a whole plan."""

from __future__ import annotations

from collections.abc import Callable

from planlang.model.plan import Plan
from planlang.planning.leeway.assumed import assumption
from planlang.planning.leeway.chances import SHARES, chance, flares_of, rest_needed
from planlang.planning.leeway.data import UNRECKONED, Chance, Leeway, Standing, Verdict
from planlang.planning.leeway.flares import Flares
from planlang.planning.leeway.verdicts import Verdicts, verdicts
from planlang.planning.week import Weeks


def leeway(plan: Plan, weeks: Weeks | None = None, one_done: Callable[[], object] | None = None) -> Leeway:
    """For each target of a plan what becomes of it wherever the rest falls, and how likely it is met.

    `weeks` may give the reckoned plan where there is one: without weeks of its own nothing is judged.
    `one_done` is called after each target, for whoever watches.
    """
    known = verdicts(plan)
    if known.frame is None or (weeks is not None and not weeks.weeks):
        standings = tuple(Standing(t, None, Verdict.OPEN, UNRECKONED) for t in plan.targets)
        return Leeway(plan, plan.room, standings, (None,) * len(standings), no_chances=UNRECKONED, reckoned=False)
    standings = tuple(known.of(target) for target in plan.targets)
    assumed = assumption(plan)
    flares = assumed if isinstance(assumed, str) else flares_of(known.frame, assumed)
    if isinstance(assumed, str) or isinstance(flares, str):
        said = assumed if isinstance(assumed, str) else str(flares)
        return Leeway(plan, known.frame.calendar.room, standings, (None,) * len(standings), no_chances=said)
    return Leeway(
        plan=plan,
        allowance=known.frame.calendar.room,
        standings=standings,
        chances=tuple(_chance(known, one, flares, one_done) for one in standings),
        assumption=assumed,
        rest=rest_needed(known.frame, flares),
    )


def _chance(
    known: Verdicts, standing: Standing, flares: Flares, one_done: Callable[[], object] | None
) -> Chance | None:
    """The chance of one target; none where it is open, no chance where no step or pace could reach it."""
    found = None
    if standing.verdict is not Verdict.OPEN and standing.by is not None:
        machine = known.machine_of(standing.target)
        found = chance(machine, flares, standing.by) if machine else Chance(0.0, tuple((s, None) for s in SHARES))
    if one_done is not None:
        one_done()
    return found
