"""The rest and pain blocks, and the signs that stop the day."""

from __future__ import annotations

from fractions import Fraction

from planlang.model.build.context import Context, texts
from planlang.model.build.doses import dose
from planlang.model.build.lines import Lines
from planlang.model.quantity import Quantity
from planlang.model.rest import Expect, Lighter, Pain, PainLevel, Rest, Return, Sign, SignLeftOut, StillDo
from planlang.syntax.nodes import Node, Statement
from planlang.syntax.words import Token

_ACTION = {"EMERGENCY": "emergency", "TODAY": "today", "TELL_US": "tell us"}


def rest(lines: Lines, context: Context) -> Rest:
    """The `rest` block."""
    room, first, nothing = lines.one("room"), lines.one("first"), lines.one("still_nothing")
    starts, back, expect, lighter = (lines.one(n) for n in ("rest_starts", "back_when", "expect", "lighter"))
    header = lines.block.header
    assert header is not None
    return Rest(
        room=context.count(room.all("NUMBER")[0]) if room else None,
        starts_when=_pain_test(starts, context) if starts else None,
        first=Quantity(context.number(first.all("NUMBER")[0]), "day") if first else None,
        still_do=tuple(_still(line, context) for line in lines.many("still_do")),
        still_nothing_because=(texts(nothing.all("STRING")) or ("",))[0] if nothing else None,
        back_when=_pain_test(back, context) if back else None,
        returns=_returns(lines, context),
        tell_us_if=tuple(line.text() for line in lines.many("tell_us_if")),
        expect=_expect(expect, context) if expect else None,
        lighter=_lighter(lighter, context) if lighter else None,
        spare_empty=lines.one("spare_empty") is not None,
        leave=tuple(str(n) for line in lines.many("leave") for n in line.all("NAME")),
        span=header.span,
        places=lines.places,
    )


def _still(line: Statement, context: Context) -> StillDo:
    node = line.node("plain_dose", "sided_dose")
    assert node is not None
    return StillDo(str(line.all("NAME")[0]), dose(node, context), line.span)


def _pain_test(line: Statement, context: Context) -> PainLevel:
    node = line.node("pain_test")
    assert node is not None
    tokens = {t.type: t for t in node.children if isinstance(t, Token)}
    days_node = next((n for n in node.children if isinstance(n, type(node)) and n.data == "for_days"), None)
    days = context.count(days_node.children[0], 1) if days_node else None
    if "STRING" in tokens:
        return PainLevel(text=str(tokens["STRING"])[1:-1], span=line.span)
    if "POINT" in tokens:
        return PainLevel(points=context.number(tokens["NUMBER"]), days=days, span=line.span)
    if "RATING" in tokens:
        return PainLevel(rating=context.rating(tokens["RATING"])[0].low, days=days, span=line.span)
    return PainLevel(usual=True, days=days, span=line.span)


def _returns(lines: Lines, context: Context) -> tuple[Return, ...]:
    made: dict[int, Return] = {}
    for line in lines.many("return_lower", "return_same"):
        numbers = [context.count(n) for n in line.all("NUMBER")]
        if line.name == "return_same":
            one = Return(0, 0, numbers[0] if numbers else 1, line.span)
        else:
            one = Return(numbers[0], numbers[1], numbers[2] if len(numbers) > 2 else 1, line.span)
        if one.after in made:
            after = f" after {one.after} weeks" if one.after > 1 else ""
            context.contradicts(
                f"Two ways back{after}.", line.span, "Keep one line for each length of rest.", made[one.after].span
            )
        else:
            made[one.after] = one
    return tuple(made[k] for k in sorted(made))


def _expect(line: Statement, context: Context) -> Expect | None:
    flares, weeks, lasting = line.all("NUMBER")
    length = context.number(lasting)
    if [t.type for t in line.all("WEEK", "DAY")][-1] == "DAY":
        length = length / 7
    varies_node = line.node("varies")
    varies = None
    if varies_node:
        words = [t.type for t in varies_node.children if isinstance(t, Token)]
        varies = {"LITTLE": 4, "MUCH": 1}.get(words[0] if words else "", 2)
    count, total = context.number(flares), context.count(weeks, 1)
    length = max(length, Fraction(1))
    if count * length >= total or count / (total - count * length) >= 1:
        context.cannot_reckon(
            f"{count} flares lasting so long don't fit into {total} weeks.",
            line.span,
            "Expect fewer, shorter, or over more weeks.",
        )
        return None
    return Expect(count, total, length, varies, line.span)


def _lighter(line: Statement, context: Context) -> Lighter:
    every, lower = line.all("NUMBER")
    return Lighter(context.count(every, 1), context.count(lower, 1), line.span)


def pain(lines: Lines, context: Context) -> Pain:
    """The `pain` block."""
    accept, rise, settle = (lines.one(n) for n in ("accept", "rise_limit", "settle"))
    header = lines.block.header
    assert header is not None
    within = settle.token("HOUR", "DAY") if settle else None
    return Pain(
        accept=context.rating(accept.all("RATING")[0])[0].high if accept and accept.all("RATING") else None,
        accept_above_usual=context.number(accept.all("NUMBER")[0]) if accept and accept.all("NUMBER") else None,
        rise=context.number(rise.all("NUMBER")[0]) if rise else None,
        settle=context.quantity(settle.all("NUMBER")[0], within) if settle and within else None,
        settle_by_morning=bool(settle and settle.token("NEXT_MORNING")),
        because=lines.text("because"),
        span=header.span,
        places=lines.places,
    )


def sign(line: Statement) -> Sign:
    """A `stop if` or `not today if` line."""
    node = line.node("action")
    assert node is not None
    word = node.children[0]
    assert isinstance(word, Token)
    return Sign(line.text(), _ACTION[word.type], line.name == "not_today", line.span)


def reasons(line: Statement, context: Context) -> tuple[str | None, str | None, Token | None]:
    """(because, by, until) of a line that gives reasons; a part said twice is a contradiction."""
    found: dict[str, Node] = {}
    for node in line.parts:
        name = str(getattr(node, "data", ""))
        if not name.startswith("reason_"):
            continue
        if name in found:
            context.contradicts(f"`{name[7:]}` is said twice here.", line.span, "Keep one.", harmful=False)
        else:
            found[name] = node
    because, by, until = (found.get(f"reason_{n}") for n in ("because", "by", "until"))
    last = until.children[0] if until else None
    return (
        str(because.children[0])[1:-1] if because else None,
        str(by.children[0]) if by else None,
        last if isinstance(last, Token) else None,
    )


def sign_left_out(line: Statement, context: Context) -> SignLeftOut:
    """A `leave out red-flag` line."""
    because, by, _ = reasons(line, context)
    return SignLeftOut(str(line.all("NAME")[0]), because, by, line.span)
