"""Closures of single values: facts, numbers, comparisons, and, or, not, texts."""

from __future__ import annotations

import operator
from collections.abc import Callable
from datetime import timedelta
from fractions import Fraction
from typing import Any

from planlang.checking.expression.running import MAKERS, Code, Frame, Run, Values, build, constant

COMPARE: dict[str, Callable[[Any, Any], bool]] = {
    "lt": operator.lt,
    "gt": operator.gt,
    "le": operator.le,
    "ge": operator.ge,
    "eq": operator.eq,
    "ne": operator.ne,
}
SUMS: dict[str, Callable[[Any, Any], Any]] = {
    "add": operator.add,
    "subtract": operator.sub,
    "multiply": operator.mul,
    "days": lambda a, b: (a - b).days,
    "shifted add": lambda a, b: a + timedelta(days=int(b)),
    "shifted subtract": lambda a, b: a - timedelta(days=int(b)),
}


def _number(code: Code, values: Values) -> Run:
    value = Fraction(code[1])
    return constant(int(value) if value.denominator == 1 else value)


def _setting(code: Code, values: Values) -> Run:
    value = values.settings[code[1]]
    return constant(int(value) if value.denominator == 1 else value)


def _slot(code: Code, values: Values) -> Run:
    return operator.itemgetter(code[1])


def _reckoned(code: Code, values: Values) -> Run:
    slot, inner = code[1], build(code[2], values)

    def run(frame: Frame) -> Any:
        kept = frame[slot]
        if kept is None:
            kept = frame[slot] = (inner(frame),)
        return kept[0]

    return run


def _fact(code: Code, values: Values) -> Run:
    fact = values.registry.facts[code[1], code[2]]
    get, of = fact.get, build(code[3], values)
    if len(code) > 4:
        asked = build(code[4], values)

        def run_for(frame: Frame) -> Any:
            thing, value = of(frame), asked(frame)
            return None if thing is None or value is None else get(frame[0], thing, value)

        return run_for
    if not code[1]:
        return lambda frame: get(frame[0], None)

    def run(frame: Frame) -> Any:
        thing = of(frame)
        return None if thing is None else get(frame[0], thing)

    return run


def _scaled(code: Code, values: Values) -> Run:
    inner, factor = build(code[1], values), Fraction(code[2])

    def run(frame: Frame) -> Any:
        value = inner(frame)
        return None if value is None else value * factor

    return run


def two(code: Code, values: Values, op: Callable[[Any, Any], Any], at: int = 1) -> Run:
    """A closure over two values; None where either isn't written."""
    left, right = build(code[at], values), build(code[at + 1], values)

    def run(frame: Frame) -> Any:
        a, b = left(frame), right(frame)
        return None if a is None or b is None else op(a, b)

    return run


def _compared(code: Code, values: Values) -> Run:
    return two(code, values, COMPARE[code[0]])


def _sum(code: Code, values: Values) -> Run:
    if code[0] == "shifted":
        return two(code, values, SUMS[f"shifted {code[1]}"], 2)
    return two(code, values, SUMS[code[0]])


def _divide(code: Code, values: Values) -> Run:
    return two(code, values, lambda a, b: Fraction(a) / Fraction(b) if b else None)


def _and(code: Code, values: Values) -> Run:
    parts = [build(part, values) for part in code[1:]]

    def run(frame: Frame) -> bool | None:
        result: bool | None = True
        for part in parts:
            value = part(frame)
            if value is False:
                return False
            if value is None:
                result = None
        return result

    return run


def _or(code: Code, values: Values) -> Run:
    parts = [build(part, values) for part in code[1:]]

    def run(frame: Frame) -> bool | None:
        result: bool | None = False
        for part in parts:
            value = part(frame)
            if value is True:
                return True
            if value is None:
                result = None
        return result

    return run


def _not(code: Code, values: Values) -> Run:
    inner = build(code[1], values)

    def run(frame: Frame) -> bool | None:
        value = inner(frame)
        return None if value is None else not value

    return run


def _missing(code: Code, values: Values) -> Run:
    inner = build(code[1], values)

    def run(frame: Frame) -> bool:
        value = inner(frame)
        return value is None or value == () or value == ""

    return run


def _fallback(code: Code, values: Values) -> Run:
    left, right = build(code[1], values), build(code[2], values)

    def run(frame: Frame) -> Any:
        value = left(frame)
        return right(frame) if value is None else value

    return run


def _chosen(code: Code, values: Values) -> Run:
    condition, then, other = (build(part, values) for part in code[1:4])

    def run(frame: Frame) -> Any:
        value = condition(frame)
        return None if value is None else then(frame) if value else other(frame)

    return run


def _among(code: Code, values: Values) -> Run:
    inner, texts = build(code[1], values), frozenset(code[2])

    def run(frame: Frame) -> bool | None:
        value = inner(frame)
        return None if value is None else value in texts

    return run


def _has(code: Code, values: Values) -> Run:
    inner, texts = build(code[1], values), frozenset(code[2])

    def run(frame: Frame) -> bool | None:
        value = inner(frame)
        return None if value is None else not texts.isdisjoint(value)

    return run


def _shares(code: Code, values: Values) -> Run:
    return two(code, values, lambda a, b: not frozenset(a).isdisjoint(b))


MAKERS.update(
    {
        "none": lambda code, values: constant(None),
        "number": _number,
        "text": lambda code, values: constant(code[1]),
        "setting": _setting,
        "slot": _slot,
        "reckoned": _reckoned,
        "fact": _fact,
        "scaled": _scaled,
        **dict.fromkeys(COMPARE, _compared),
        "same": lambda code, values: two(code, values, operator.is_),
        **dict.fromkeys(("add", "subtract", "multiply", "days", "shifted"), _sum),
        "divide": _divide,
        "and": _and,
        "or": _or,
        "not": _not,
        "missing": _missing,
        "fallback": _fallback,
        "chosen": _chosen,
        "among": _among,
        "has": _has,
        "shares": _shares,
    }
)
