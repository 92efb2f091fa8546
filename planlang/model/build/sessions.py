"""Session blocks: when, where, with what, with whom."""

from __future__ import annotations

from datetime import time
from fractions import Fraction

from planlang.model.build.context import Context, texts
from planlang.model.build.lines import Lines
from planlang.model.build.training import instead, kit_items, warm_up, window
from planlang.model.quantity import Quantity
from planlang.model.session import Days, Session, Visit
from planlang.syntax.nodes import Node, Statement
from planlang.syntax.words import Token

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_NOT_DONE = {"DROP": "drop", "MOVE_WITHIN": "move within the week", "MOVE_ON": "move on"}


def session(lines: Lines, context: Context) -> Session:
    """One `session` block."""
    header = lines.block.header
    assert header is not None
    times, minutes = _times(lines.one("at_times"), context)
    warm, cool = lines.one("warm_up"), lines.one("cool_down")
    do, rounds, between = lines.one("do_exercises"), lines.one("rounds"), lines.one("resting_between")
    most, turn, training = lines.one("at_most_visits"), lines.one("in_turn"), lines.one("training")
    not_done = lines.one("if_not_done")
    return Session(
        name=header.text(),
        days=tuple(_days(line, context) for line in lines.many("days")),
        times=times,
        minutes=minutes,
        place=lines.text("place"),
        kit=tuple(k for line in lines.many("kit") for k in kit_items(line, context)),
        warm_up=warm_up(warm, context) if warm else None,
        cool_down=warm_up(cool, context) if cool else None,
        do=tuple(str(n) for n in do.all("NAME")) if do else (),
        cue=lines.text("cue"),
        if_not_done=next((_NOT_DONE[t.type] for t in not_done.all(*_NOT_DONE)), None) if not_done else None,
        companions=tuple(t for line in lines.many("with_whom") for t in texts(line.all("STRING"))),
        rounds=context.count(rounds.all("NUMBER")[0], 1) if rounds else 1,
        between=_between(between, context) if between else None,
        visits=tuple(_visit(line, context) for line in lines.many("visit")),
        max_visits=context.count(most.all("NUMBER")[0], 1) if most else None,
        in_turn_with=turn.text() if turn else None,
        window=window(training, context) if training else None,
        instead=instead(lines, context),
        span=header.span,
        places=lines.places,
    )


def _times(line: Statement | None, context: Context) -> tuple[tuple[time, ...], Fraction | None]:
    if line is None:
        return (), None
    times = tuple(t for t in (context.time(token) for token in line.all("TIME")) if t is not None)
    if len(set(times)) < len(times):
        context.contradicts("One time of day stands here twice.", line.span, "Keep one.", harmful=False)
        times = tuple(dict.fromkeys(times))
    length = line.all("NUMBER")
    if not length:
        return times, None
    minutes = context.number(length[0]) * (60 if line.token("HOUR") else 1)
    if minutes <= 0 or minutes > 24 * 60:
        context.cannot_read("A session lasts longer than 0 and less than a day.", line.span, "Write its minutes.")
        return times, None
    return times, minutes


def _between(line: Statement, context: Context) -> Quantity:
    return context.quantity(line.all("NUMBER")[0], line.token("SEC", "MIN"))


def _visit(line: Statement, context: Context) -> Visit:
    times = 2 if line.token("TWICE") else 1
    return Visit(tuple((context.count(n, 1), times) for n in line.all("NUMBER")), line.span)


def weekday(token: Token) -> int:
    """0 for Monday to 6 for Sunday."""
    return WEEKDAYS.index(str(token)[:3])


def _days(line: Statement, context: Context) -> Days:
    rule = line.node("days_fixed", "days_count", "days_second", "days_all", "days_rare")
    assert rule is not None
    tokens = [t for t in rule.children if isinstance(t, Token)]
    named = tuple(dict.fromkeys(weekday(t) for t in tokens if t.type == "WEEKDAY"))
    if len(named) < sum(t.type == "WEEKDAY" for t in tokens):
        context.contradicts("One weekday stands here twice.", line.span, "Keep one.", harmful=False)
    between_node, phase_node = line.node("between"), line.node("phase")
    between = context.count(between_node.children[0], 1) if between_node else None
    phase = window(phase_node, context) if phase_node else None
    choose = any(t.type == "YOU_CHOOSE" for t in tokens)
    shared = {"between": between, "window": phase, "span": line.span}
    if rule.data == "days_fixed":
        return Days(fixed=tuple(sorted(named)), **shared)  # type: ignore[arg-type]
    if rule.data == "days_all":
        return Days(fixed=tuple(range(7)), **shared)  # type: ignore[arg-type]
    if rule.data == "days_second":
        return Days(every_second=True, **shared)  # type: ignore[arg-type]
    if rule.data == "days_rare":
        every = context.count(next(t for t in tokens if t.type == "NUMBER"), 1)
        return Days(low=1, high=1, among=named, every_weeks=every, you_choose=choose, **shared)  # type: ignore[arg-type]
    low, high = _how_many(rule, tokens, context)
    return Days(low=low, high=high, among=named, you_choose=choose, **shared)  # type: ignore[arg-type]


def _how_many(rule: Node, tokens: list[Token], context: Context) -> tuple[int, int]:
    first = tokens[0]
    if first.type in ("ONCE", "TWICE"):
        count = 1 if first.type == "ONCE" else 2
        return count, count
    if first.type == "RANGE":
        made = context.range(first)
        return max(1, int(made.low)), int(made.high)
    low = context.count(first, 1)
    high = context.count(tokens[1], 1) if len(tokens) > 1 and tokens[1].type == "NUMBER" else low
    if high < low:
        from planlang.syntax.nodes import span_of

        context.contradicts(f"{low} to {high} runs downwards.", span_of(rule), f"Write {high} to {low}.")
        low, high = high, low
    return low, high
