"""Whether a target is reached, and whether the room is enough: leeway's answers as the rules ask for them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction
from functools import partial

from planlang.checking.facts.registry import Facts
from planlang.model.plan import Target
from planlang.model.show import dose_text
from planlang.planning.leeway.assumed import assumption
from planlang.planning.leeway.chances import flares_of, rest_needed
from planlang.planning.leeway.data import Assumption, RestNeeded, Standing
from planlang.planning.leeway.verdicts import verdicts
from planlang.text.data import frozen


@frozen
class Verdict:
    """always, depends, never, open; None where the plan's weeks aren't reckoned or its exercise isn't there.

    `on_the_ladder`: some step is at least the dose; `first`, `last`: the first and last of the dates, wherever the
    rest falls (`last` None where it may not be reached at all); `standing`: the whole answer; `words`: gives the
    nearest step's dose in words, where no step is at least it.
    """

    word: str | None = None
    on_the_ladder: bool | None = None
    first: date | None = None
    last: date | None = None
    standing: Standing | None = None
    words: Callable[[], str] | None = None

    @property
    def worst(self) -> tuple[int, ...]:
        """The calendar weeks in which rest does most."""
        return self.standing.worst_rest or () if self.standing else ()


def verdict(facts: Facts, target: Target) -> Verdict:
    """The verdict over every placement of the room for rest."""
    plan = facts.plan
    if target.reach is None:
        return Verdict("open")
    exercise = plan.exercise(target.reach_in or "")
    known = verdicts(plan)
    if exercise is None or known.frame is None or not exercise.steps:
        return Verdict()
    found = known.of(target)
    at = known.aim(exercise, target)
    near = None if at.step is not None or at.nearest is None else exercise.steps[at.nearest].dose
    return Verdict(
        found.verdict.value,
        at.step is not None,
        found.earliest,
        found.latest,
        found,
        partial(dose_text, near, plan.today, exercise.name) if near else None,
    )


def expected(facts: Facts) -> Assumption | None:
    """The flares that the plan expects, its own or those of its condition; None where neither is known."""
    found = facts.once("expected", lambda: assumption(facts.plan))
    return found if isinstance(found, Assumption) else None


def room_enough(facts: Facts, share: Fraction) -> int | None:
    """The fewest easier weeks that are enough with that chance, by the flares expected; None where none are."""
    needed: RestNeeded | None = facts.once("rest needed", lambda: _rest_needed(facts))
    return None if needed is None else needed.room_for(float(share))


def _rest_needed(facts: Facts) -> RestNeeded | None:
    assumed, frame = expected(facts), verdicts(facts.plan).frame
    if assumed is None or frame is None:
        return None
    flares = flares_of(frame, assumed)
    return None if isinstance(flares, str) else rest_needed(frame, flares)
