"""Exercise and activity blocks."""

from __future__ import annotations

from typing import Any

from planlang.model.build.context import Context, place, texts
from planlang.model.build.doses import dose
from planlang.model.build.ladders import pace, steps
from planlang.model.build.lines import Lines
from planlang.model.exercise import Ceiling, Exercise, Instead, Joint, Kit, Start, WarmUp, Window
from planlang.syntax.nodes import Node, Statement, span_of
from planlang.syntax.words import Token, Tree


def exercise(lines: Lines, context: Context) -> Exercise:
    """One `exercise` or `activity` block."""
    header = lines.block.header
    assert header is not None
    easier, ladder, rise = steps(lines, context)
    stay, tested = lines.one("stay"), lines.one("tested_anew")
    training = lines.one("training")
    least = lines.one("at_least")
    kind = lines.one("kind")
    return Exercise(
        name=str(header.all("NAME")[0]),
        activity=lines.block.kind == "activity",
        kind=str(kind.all("NAME")[0]) if kind else None,
        works=tuple(str(n) for line in lines.many("works") for n in line.all("NAME")),
        joints=tuple(j for line in lines.many("joints") for j in joints(line, context)),
        tags=tuple(str(n) for line in lines.many("tags") for n in line.all("NAME")),
        how=lines.text("how"),
        careful=lines.text("careful"),
        kit=tuple(k for line in lines.many("kit") for k in kit_items(line, context)),
        hold_on_to=lines.text("hold_on"),
        companions=tuple(t for line in lines.many("with_whom") for t in texts(line.all("STRING"))),
        easier=easier,
        steps=ladder,
        pace=pace(lines, rise, context),
        rise=rise,
        stay_because=(texts(stay.all("STRING")) or ("",))[0] if stay else None,
        start=_start(lines, context),
        window=window(training, context) if training else None,
        at_least=dose(_dose_node(least), context) if least else None,
        at_most=_ceiling(lines, context),
        pause_while=tuple(line.text() for line in lines.many("pause_while")),
        tested_anew_weeks=context.count(tested.all("NUMBER")[0], 1) if tested else None,
        instead=instead(lines, context),
        because=lines.text("because"),
        span=header.span,
        places=lines.places,
    )


def _dose_node(line: Statement) -> Node:
    node = line.node("plain_dose", "sided_dose")
    assert node is not None
    return node


def _start(lines: Lines, context: Context) -> Start | None:
    line = lines.one("start_after")
    if line:
        return Start(weeks=context.count(line.all("NUMBER")[0], 1), of=str(line.all("NAME")[0]), span=line.span)
    line = lines.one("start_reach")
    if line:
        return Start(reach=dose(_dose_node(line), context), of=str(line.all("NAME")[0]), span=line.span)
    return None


def _ceiling(lines: Lines, context: Context) -> Ceiling | None:
    line = lines.one("at_most_above")
    if line:
        return Ceiling(percent_above=context.number(line.all("NUMBER")[0]), span=line.span)
    line = lines.one("at_most")
    return Ceiling(dose(_dose_node(line), context), span=line.span) if line else None


def instead(lines: Lines, context: Context) -> tuple[Instead, ...]:
    """The `if "wet" do ...` lines of a block."""
    made: list[Instead] = []
    for line in lines.many("instead", "instead_session"):
        if line.name == "instead":
            made.append(Instead(line.text(), str(line.all("NAME")[0]), dose(_dose_node(line), context), span=line.span))
        else:
            made.append(Instead(line.text(0), session=line.text(1), span=line.span))
    return tuple(made)


def joints(line: Statement, context: Context) -> tuple[Joint, ...]:
    """`knee, left, hip` as joints, each with the side that follows it."""
    made: list[Joint] = []
    for token in line.all("NAME", "SIDE"):
        if token.type == "NAME":
            made.append(Joint(str(token)))
        elif made and made[-1].side is None:
            made[-1] = Joint(made[-1].name, str(token))
        else:
            context.contradicts("Two sides for one joint.", line.span, "Write `both`, or name the joint again.")
    return tuple(made)


def window(line: Statement | Node, context: Context) -> Window:
    """The training weeks of `training weeks 1 to 3, 5, 7 on`."""
    parts: Any = line.parts if isinstance(line, Statement) else line.children
    weeks = next(p for p in parts if isinstance(p, Tree) and p.data == "weeks")
    ranges: list[tuple[int, int | None]] = []
    for node in weeks.children:
        assert isinstance(node, Tree)
        tokens = [t for t in node.children if isinstance(t, Token)]
        first = tokens[0]
        if first.type == "RANGE":
            made = context.range(first)
            ranges.append((max(1, int(made.low)), int(made.high)))
            continue
        start = context.count(first, 1)
        if len(tokens) == 1:
            ranges.append((start, start))
        elif tokens[1].type == "ON":
            ranges.append((start, None))
        else:
            end = context.count(tokens[1], 1)
            if end < start:
                context.contradicts(
                    f"Weeks {start} to {end} run backwards.", place(tokens[1]), f"Write {end} to {start}."
                )
                start, end = end, start
            ranges.append((start, end))
    span = line.span if isinstance(line, Statement) else span_of(line)
    return Window(tuple(ranges), span)


def warm_up(line: Statement, context: Context) -> WarmUp:
    """A warm-up or cool-down line."""
    rating_token = line.token("RATING")
    rating, scale = context.rating(rating_token, (10, 20)) if rating_token else (None, None)
    said = texts(line.all("STRING"))
    return WarmUp(context.number(line.all("NUMBER")[0]), rating, scale, said[0] if said else None, line.span)


def kit_items(line: Statement, context: Context) -> list[Kit]:
    """The things of a `kit` line."""
    made = []
    for node in line.parts:
        text, *rest = node.children
        step = context.count(rest[-1], 1) if rest else None
        made.append(Kit(str(text)[1:-1], step, line.span))
    return made
