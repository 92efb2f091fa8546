"""The line `continues`: why the block before can't be had, and whether it can be the block before at all."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.checking.facts.registry import Facts
from planlang.model.composing.files import NotOpened
from planlang.model.composing.saying import called
from planlang.model.plan import Plan
from planlang.text.finding import Finding, Related, contradiction, unreckonable
from planlang.text.source import Source


def continued(facts: Facts) -> Iterator[Finding]:
    """What is wrong with the block that a plan continues; nothing where nobody looks for other files.

    A block begins before the one that continues it, so a chain that leads in a circle is found at one of its plans.
    """
    plan, beside = facts.plan, facts.beside
    if not plan.continues or beside is None:
        return
    before = facts.previous
    if before is None:
        yield _not_had(plan, beside.files.open(plan.continues, Source(plan.source.name, "")))
        return
    place = plan.places.get("continues")
    title = f'"{before.title}" ({called(before.source)})'
    there = (Related("the block before is here", before.span, before.source),)
    if plan.starts is not None and before.starts is not None and plan.starts <= before.starts:
        yield contradiction(
            f"This plan starts on {plan.starts}, and {title}, which it continues, not before {before.starts}.",
            place,
            plan.source,
            "Name the block that came before this one, or put the dates right.",
            there,
            harmful=True,
        )
    if plan.code and before.code and plan.code != before.code:
        yield contradiction(
            f"This plan is for {plan.code}, and {title}, which it continues, is for {before.code}.",
            place,
            plan.source,
            "Name this person's own block before, or put the code right.",
            there,
        )


def _not_had(plan: Plan, file: Source | NotOpened) -> Finding:
    place, name = plan.places.get("continues"), plan.continues
    unknown = "so the jump from the block before to this one is not checked"
    if isinstance(file, NotOpened):
        return unreckonable(f"{file.why[0].upper()}{file.why[1:]}, {unknown}.", place, plan.source, file.help)
    help = "Put that file right first: lint says what is wrong with it. Only a plan can be continued."
    return unreckonable(f'"{name}" is no plan that can be read whole, {unknown}.', place, plan.source, help)
