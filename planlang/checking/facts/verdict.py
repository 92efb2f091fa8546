"""Whether a target is reached. The one place that decides it for the rules."""

from __future__ import annotations

from datetime import date

from attrs import frozen

from planlang.checking.facts.registry import Facts
from planlang.model.plan import Target
from planlang.model.show import dose_text
from planlang.planning.reach import aim, reached_on
from planlang.planning.weeks import day_of


@frozen
class Verdict:
    """always, depends, never, open; None where it isn't known.

    `on_the_ladder`: some step is at least the dose; `first`: when, if no rest is taken; `nearest`: the
    nearest step's dose where no step is.
    """

    word: str | None = None
    on_the_ladder: bool | None = None
    first: date | None = None
    nearest: str | None = None


def verdict(facts: Facts, target: Target) -> Verdict:
    """Reckoned without rest, which is the best that can happen: what is not met then is never met."""
    plan, weeks = facts.plan, facts.weeks
    if target.reach is None:
        return Verdict("open")
    exercise = plan.exercise(target.reach_in or "")
    by = day_of(plan, target.by)
    if exercise is None or weeks is None or not weeks.weeks or not exercise.steps:
        return Verdict()
    if any(step.dose.to_be_set for step in exercise.steps):
        return Verdict("open")
    found = aim(exercise, target.reach, plan.today)
    if found.step is None:
        near = None if found.nearest is None else exercise.steps[found.nearest].dose
        return Verdict("never", False, None, dose_text(near, plan.today, exercise.name) if near else None)
    first = reached_on(weeks, exercise.name, found.step)
    if first is None or (by is not None and first > by):
        return Verdict("never", True, first)
    return Verdict(None, True, first)
