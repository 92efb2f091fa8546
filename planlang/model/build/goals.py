"""Goal and target blocks."""

from __future__ import annotations

from fractions import Fraction

from planlang.model.build.context import Context, place
from planlang.model.build.doses import dose
from planlang.model.build.lines import Lines
from planlang.model.plan import Goal, Measuring, Target, When
from planlang.model.quantity import whole
from planlang.syntax.nodes import Node, Statement, span_of
from planlang.syntax.words import Token

LEVELS = ("much-less", "less", "expected", "more", "much-more")


def when(node: Node, context: Context) -> When | None:
    """A date, or the last day of a week of the plan."""
    token = node.children[-1]
    assert isinstance(token, Token)
    if token.type == "DATE":
        day = context.date(token)
        return When(day=day, span=span_of(node)) if day else None
    return When(week=context.count(token, 1), span=span_of(node))


def _by(lines: Lines, context: Context) -> When | None:
    line = lines.one("by_when")
    node = line.node("when") if line else None
    return when(node, context) if node else None


def _measuring(lines: Lines, context: Context) -> Measuring | None:
    line = lines.one("measured_by")
    if line is None:
        return None
    start, to = (n for n in line.parts if getattr(n, "data", "") == "value")
    name = line.token("NAME")
    called = context.measure(str(name) if name else "pain")
    return Measuring(called, context.value(start)[0], context.value(to)[0], line.span)


def _score(lines: Lines, context: Context) -> tuple[tuple[str, Fraction], ...]:
    line = lines.one("score")
    made: dict[str, Fraction] = {}
    for node in line.parts if line else ():
        name, number = node.children[0], node.children[1]
        if str(name) not in LEVELS:
            context.cannot_read(
                f"`{name}` is no level of attainment.", place(name), f"The levels are {', '.join(LEVELS)}."
            )
        elif str(name) in made:
            context.contradicts(f"`{name}` stands here twice.", place(name), "Keep one.", harmful=False)
        else:
            made[str(name)] = context.number(number)
    return tuple(made.items())


def _confidence(line: Statement | None, context: Context) -> int | None:
    return whole(context.rating(line.all("RATING")[0])[0].low) if line else None


def goal(lines: Lines, context: Context) -> Goal:
    """The `goal` block."""
    header = lines.block.header
    assert header is not None
    last = lines.one("last_done")
    year = day = None
    if last:
        token = last.token("NUMBER", "DATE")
        assert token is not None
        day = context.date(token) if token.type == "DATE" else None
        year = day.year if day else context.count(token) if token.type == "NUMBER" else None
    return Goal(
        title=header.text(),
        by=_by(lines, context),
        because=lines.text("because"),
        confidence=_confidence(lines.one("confidence"), context),
        last_done=year,
        last_day=day,
        changed=tuple(text for line in lines.many("changed") if (text := line.text()).strip()),
        measured=_measuring(lines, context),
        score=_score(lines, context),
        span=header.span,
        places=lines.places,
    )


def target(lines: Lines, context: Context) -> Target:
    """One `target` block."""
    header = lines.block.header
    assert header is not None
    reach, keep = lines.one("reach"), lines.one("keep")
    node = reach.node("plain_dose", "sided_dose") if reach else None
    days = keep.all("NUMBER") if keep else []
    return Target(
        title=header.text(),
        by=_by(lines, context),
        because=lines.text("because"),
        reach=dose(node, context) if node else None,
        reach_in=str(reach.all("NAME")[-1]) if reach else None,
        keep=keep.text() if keep else None,
        keep_days=(context.count(days[0], 1) if days else 7) if keep else None,
        do=lines.text("do_once"),
        measured=_measuring(lines, context),
        score=_score(lines, context),
        span=header.span,
        places=lines.places,
    )
