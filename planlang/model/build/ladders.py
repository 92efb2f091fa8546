"""The steps of a ladder: as written line by line, or made by `rise`."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from attrs import evolve

from planlang.model.build.context import MOST_DIGITS, UNIT_OF, Context
from planlang.model.build.doses import carry_on, dose
from planlang.model.build.lines import Lines
from planlang.model.dose import Dose, Load
from planlang.model.exercise import Pace, Rise, Step
from planlang.model.quantity import UNITS, Quantity, Range, number_text, only_shown
from planlang.syntax.nodes import Node, Statement
from planlang.text.source import Span

MOST_STEPS = 520
"""Ten years of weekly steps; a longer ladder is a slip."""

NICE = [n * 10**k for k in range(6) for n in (1, 2, 5)]


def whole_weeks(node: Node, context: Context, span: Span) -> int | None:
    """The weeks of `every week`, `every 2 weeks`, `every 14 days`; None with a finding where they are not whole."""
    tokens = [t for t in node.children if not isinstance(t, type(node))]
    if len(tokens) == 1:
        return 1
    number = context.number(tokens[0])
    weeks = number if tokens[1].type == "WEEK" else number / 7
    if weeks.denominator != 1 or weeks < 1:
        context.cannot_reckon(
            "A ladder goes up by whole weeks, and this pace does not come to any.",
            span,
            "Write weeks, or a multiple of 7 days.",
        )
        return None
    return int(weeks)


def steps(lines: Lines, context: Context) -> tuple[Step | None, tuple[Step, ...], Rise | None]:
    """(easier step, steps from `begin` up, the rise that made them)."""
    easier_line, begin = lines.one("easier"), lines.one("begin")
    easier = None
    if easier_line:
        written = dose(_dose_node(easier_line), context)
        easier = Step(written, written, None, easier_line.span)
    if begin is None:
        return easier, (), None  # where steps follow, `links` says so
    made: list[Step] = []
    for line in [begin, *lines.many("then")]:
        written = dose(_dose_node(line), context)
        whole = carry_on(made[-1].dose, written) if made else written
        keep = line.node("for_weeks")
        weeks = context.count(keep.children[0], 1) if keep else None
        made.append(Step(whole, written, weeks, line.span))
    rise_line = lines.one("rise")
    if rise_line is None:
        return easier, tuple(made), None
    rise = _rise(rise_line, context)
    if rise is None:
        return easier, tuple(made), None
    first = made[0]
    return easier, (first, *_risen(first, rise, begin, context)), rise


def _dose_node(line: Statement) -> Node:
    node = line.node("plain_dose", "sided_dose")
    assert node is not None
    return node


def _rise(line: Statement, context: Context) -> Rise | None:
    amount, to = line.all("NUMBER")[:2]
    units = [t for t in line.parts if getattr(t, "type", "") in UNIT_OF]
    span_node = line.node("span")
    assert span_node is not None
    weeks = whole_weeks(span_node, context, line.span)
    if weeks is None:
        return None
    rounded = context.number(line.all("NUMBER")[2]) if len(line.all("NUMBER")) > 2 else None
    if rounded is not None and rounded <= 0:
        context.cannot_reckon("Nothing can be rounded to 0.", line.span, "Write `rounded to 100`, say.")
        rounded = None
    by_date = line.token("BY_DATE") is not None
    return Rise(context.quantity(amount, units[0]), weeks, context.quantity(to, units[1]), rounded, by_date, line.span)


def _risen(first: Step, rise: Rise, begin: Statement, context: Context) -> list[Step]:
    part, start = _what_rises(first.dose, rise.to)
    if start is None:
        context.cannot_reckon(
            only_shown(lambda: f"`rise` to {rise.to} has nothing in `begin` that it could raise."),
            rise.span,
            "Begin and rise in one kind of unit.",
        )
        return []
    unit = start.unit
    factor = UNITS[rise.to.unit].factor / UNITS[unit].factor
    goal = rise.to.value * factor
    percent = rise.amount.unit == "%"
    if not percent and rise.amount.dimension != start.dimension:
        context.cannot_reckon(
            only_shown(lambda: f"`rise {rise.amount}` and `begin` have different units."),
            rise.span,
            f"Write the rise in {unit}, or as a percentage.",
        )
        return []
    add = rise.amount.value if percent else rise.amount.base / UNITS[unit].factor
    if goal <= start.value or add <= 0:
        context.contradicts(
            only_shown(lambda: f"A rise from {start} to {Quantity(goal, unit)} goes nowhere."),
            rise.span,
            "Write an aim above `begin`.",
            begin.span,
        )
        return []
    grain = rise.rounded_to or _last_place(begin, start, context)
    values: list[Fraction] = []
    value = start.value
    while value < goal:
        following = value + (value * add / 100 if percent else add)
        if percent or rise.rounded_to is not None:
            following = grain * floor(following / grain)
        if following <= value:
            _stands_still(value, add, grain, rise, context)
            return []
        value = min(following, goal)
        values.append(value)
        if len(values) > MOST_STEPS:
            context.cannot_reckon(
                f"This rise makes more than {MOST_STEPS} steps.", rise.span, "Rise by more at a time."
            )
            return []
    return [Step(_with(first.dose, part, Quantity(v, unit)), Dose(), None, rise.span) for v in values]


def _stands_still(value: Fraction, add: Fraction, grain: Fraction, rise: Rise, context: Context) -> None:
    """Says what would move: the largest round number to cut down to, or the smallest whole percentage."""
    context.contradicts(
        only_shown(
            lambda: (
                f"At {number_text(value)} this rise stands still: {rise.amount} more is cut down to the same number "
                "again."
            )
        ),
        rise.span,
        only_shown(lambda: _moving(value, add, grain, rise)),
    )


def _moving(value: Fraction, add: Fraction, grain: Fraction, rise: Rise) -> str:
    raised = value + (value * add / 100 if rise.amount.unit == "%" else add)
    moving = [n for n in NICE if n * floor(raised / n) > value]
    if moving:
        return f"Write `rounded to {moving[-1]}`."
    following = grain * (floor(value / grain) + 1)
    percent = ceil((following / value - 1) * 100) if value > 0 else 0
    return f"Write `rise {percent} %`, the smallest whole percentage that moves." if percent else "Begin above 0."


def _last_place(begin: Statement, start: Quantity, context: Context) -> Fraction:
    """The last digit place written in `begin`: 1 for 3200, 0.1 for 2.5."""
    for token in begin.tokens:
        if token.type == "NUMBER" and len(token) <= MOST_DIGITS and context.number(token) == start.value:
            _, dot, decimals = str(token).partition(".")
            return Fraction(1, 10 ** len(decimals)) if dot else Fraction(1)
    return Fraction(1)


def _what_rises(dose: Dose, to: Quantity) -> tuple[str, Quantity | None]:
    """Which part of the dose has the rise's dimension, and its value."""
    dimension = to.dimension
    if dose.size and dose.size.amounts and UNITS[dose.size.unit].dimension == dimension and len(dose.size.amounts) == 1:
        return "size", Quantity(dose.size.amounts[0].low, dose.size.unit)
    if dose.load and dose.load.unit in UNITS and UNITS[dose.load.unit].dimension == dimension:
        return "load", Quantity(dose.load.amount.low, dose.load.unit)
    if dose.hold and dose.hold.dimension == dimension:
        return "hold", dose.hold
    if dose.step_height and dimension == "length":
        return "step_height", dose.step_height
    return "", None


def _with(dose: Dose, part: str, value: Quantity) -> Dose:
    amount = Range(value.value, value.value)
    if part == "size":
        assert dose.size is not None
        return evolve(dose, size=evolve(dose.size, amounts=(amount,)))
    if part == "load":
        assert dose.load is not None
        return evolve(dose, load=Load(dose.load.basis, amount, dose.load.unit, dose.load.of))
    return evolve(dose, hold=value) if part == "hold" else evolve(dose, step_height=value)


def pace(lines: Lines, rise: Rise | None, context: Context) -> Pace | None:
    """When the ladder goes up, from `progress` or `rise`."""
    if rise is not None:
        return Pace(rise.weeks, "date" if rise.by_date else "time", span=rise.span)
    line = lines.one("progress") or lines.one("progress_deed")
    if line is None:
        return None
    span_node = line.node("span")
    weeks = whole_weeks(span_node, context, line.span) if span_node else None
    by = "date" if line.token("BY_DATE") else "deed" if line.name == "progress_deed" else "time"
    sessions = context.count(line.all("NUMBER")[0], 1) if line.name == "progress_deed" else None
    if by == "deed" and span_node is None:
        context.cannot_reckon(
            "The calendar needs a pace to assume.",
            line.span,
            "Add `, about every week` (or the weeks that you expect).",
        )
    condition, down, start = line.node("pace_if"), line.node("pace_down"), line.node("pace_from")
    return Pace(
        weeks,
        by,
        sessions,
        str(condition.children[0])[1:-1] if condition else None,
        str(down.children[-1])[1:-1] if down else None,
        context.count(start.children[-1], 1) if start else None,
        line.span,
    )
