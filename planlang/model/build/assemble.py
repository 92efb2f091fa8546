"""Blocks put together into the one plan that a file holds."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from planlang.model.build import goals, loose, people, resting, sessions, training
from planlang.model.build.context import Context, Numbers
from planlang.model.build.lines import Lines
from planlang.model.build.links import links
from planlang.model.build.writings import writings
from planlang.model.known import BUILT_IN, Catalogue
from planlang.model.plan import Plan
from planlang.syntax.blocks import Block, Blocks, blocks, misplaced_finding
from planlang.syntax.nodes import Script
from planlang.syntax.statements import FORMS, forms_of
from planlang.text.finding import Finding

T = TypeVar("T")
_ONCE: tuple[tuple[str, str, Callable[[Lines, Context], Any]], ...] = (
    ("screening", "screening", people.screening),
    ("today", "today", people.today),
    ("goal", "goal", goals.goal),
    ("rest", "rest", resting.rest),
    ("pain", "pain", resting.pain),
)


def assemble(
    script: Script, catalogue: Catalogue = BUILT_IN, numbers: Numbers | None = None
) -> tuple[Plan | None, tuple[Finding, ...]]:
    """The plan of a script, or None where no `plan` block could be read; with what was found on the way."""
    context = Context(script.source, list(script.findings), catalogue, numbers)
    made = blocks(script)
    for line, block in made.misplaced:
        context.findings.append(misplaced_finding(line, block, script))
    plans = made.of("plan")
    if not plans:
        if not any(b.kind == "plan" for b in made.blocks):
            context.cannot_read(
                "This file holds no plan.", _first(script), 'Begin with a line such as: plan "Two raised beds".'
            )
        return None, tuple(context.findings)
    header = plans[0].header
    assert header is not None
    for other in plans[1:]:
        context.contradicts("A file holds one plan.", other.span, "Put the second into its own file.", plans[0].span)
    said = people.plan_lines(Lines(plans[0], context), context)
    said |= loose.loose_lines(made.loose, context)
    for kind, name, build in _ONCE:
        found = made.of(kind)
        for other in found[1:]:
            context.contradicts(f"A plan has one `{kind}` block.", other.span, "Put the lines together.", found[0].span)
        value = build(Lines(found[0], context), context) if found else None
        if value is not None:
            said[name] = value
    said["targets"] = tuple(goals.target(Lines(b, context), context) for b in made.of("target"))
    said["exercises"] = _named(made.of("exercise", "activity"), training.exercise, context, "exercise")
    said["sessions"] = _named(made.of("session"), sessions.session, context, "session")
    said["writings"] = writings(script)
    plan = Plan(
        header.text(), script.source, span=header.span, unread=_unread(made, script), catalogue=catalogue, **said
    )
    links(plan, context)
    return plan, tuple(context.findings)


def _first(script: Script) -> Any:
    from planlang.text.source import Span

    return script.lines[0].span if script.lines else Span(0, min(1, len(script.source.text)))


def _named(found: list[Block], build: Callable[[Lines, Context], Any], context: Context, what: str) -> tuple[Any, ...]:
    made: dict[str, Any] = {}
    for block in found:
        one = build(Lines(block, context), context)
        if one.name in made:
            context.contradicts(
                f'There are two of the {what} "{one.name}".',
                one.span,
                "Give one another name, or put them together.",
                made[one.name].span,
            )
        else:
            made[one.name] = one
    return tuple(made.values())


def _unread(made: Blocks, script: Script) -> frozenset[str]:
    """Names of the statements that an unread or misplaced line could have been; `?` for anything."""
    names = set(script.source.not_there)
    for line in made.unread:
        forms = forms_of(line.like) if line.like else []
        names |= {f.name for f in forms} or {"?"}
    for block in made.blocks:
        if not block.known:
            names.add(block.kind)
            names |= {f.name for f in FORMS.values() if block.kind in f.blocks}
    names |= {line.name for line, _ in made.misplaced}
    return frozenset(names)
