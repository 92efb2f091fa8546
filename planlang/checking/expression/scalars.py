"""Closures of single values: facts, numbers, comparisons, texts."""

from __future__ import annotations

import operator
from collections.abc import Callable
from datetime import timedelta
from fractions import Fraction
from typing import Any

from planlang.checking.expression.running import (
    MAKERS,
    Code,
    Frame,
    Run,
    Values,
    build,
    constant,
)
from planlang.checking.facts.registry import Fact
from planlang.model.quantity import PLAIN, as_fraction

COMPARE: dict[str, Callable[[Any, Any], bool]] = {
    "lt": operator.lt,
    "gt": operator.gt,
    "le": operator.le,
    "ge": operator.ge,
    "eq": operator.eq,
    "ne": operator.ne,
}
ORDERS = ("lt", "gt", "le", "ge")
SUMS: dict[str, Callable[[Any, Any], Any]] = {
    "add": operator.add,
    "subtract": operator.sub,
    "multiply": operator.mul,
    "days": lambda a, b: (a - b).days,
    "shifted add": lambda a, b: a + timedelta(days=int(b)),
    "shifted subtract": lambda a, b: a - timedelta(days=int(b)),
}


def _number(code: Code, values: Values) -> Run:
    return constant(whole(Fraction(code[1])))


def _setting(code: Code, values: Values) -> Run:
    return constant(whole(values.settings[code[1]]))


def whole(value: Fraction) -> Fraction | int:
    """The same number, an int where it is whole: ints are reckoned with much quicker."""
    return int(value) if value.denominator == 1 else value


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
    if len(code) > 4:
        return _fact_for(fact.get, build(code[3], values), build(code[4], values))
    if not code[1]:
        get = fact.get
        return lambda frame: get(frame[0], None)
    if code[3][0] == "slot":
        return _fact_of_slot(fact, code[3][1])
    return _fact_of(fact, build(code[3], values))


def _fact_of_slot(fact: Fact, slot: int) -> Run:
    """A fact of the thing looked at, or of a variable: most facts are."""
    get, attribute = fact.get, fact.attribute

    def plain(frame: Frame) -> Any:
        thing = frame[slot]
        return None if thing is None else getattr(thing, attribute)

    def run(frame: Frame) -> Any:
        thing = frame[slot]
        return None if thing is None else get(frame[0], thing)

    return plain if attribute else run


def _fact_of(fact: Fact, of: Run) -> Run:
    get = fact.get

    def run(frame: Frame) -> Any:
        thing = of(frame)
        return None if thing is None else get(frame[0], thing)

    return run


def _fact_for(get: Callable[..., Any], of: Run, asked: Run) -> Run:
    def run(frame: Frame) -> Any:
        thing, value = of(frame), asked(frame)
        return None if thing is None or value is None else get(frame[0], thing, value)

    return run


def _scaled(code: Code, values: Values) -> Run:
    inner, factor = build(code[1], values), whole(Fraction(code[2]))

    def run(frame: Frame) -> Any:
        value = inner(frame)
        return None if value is None else value * factor

    return run


def two(code: Code, values: Values, op: Callable[[Any, Any], Any], at: int = 1) -> Run:
    """A closure over two values; None where either isn't written."""
    left, right = build(code[at], values), build(code[at + 1], values)

    def run(frame: Frame) -> Any:
        a = left(frame)
        if a is None:
            return None
        b = right(frame)
        return None if b is None else op(a, b)

    return run


def _compared(code: Code, values: Values) -> Run:
    if code[2][0] == "text":
        return _same_text(build(code[1], values), COMPARE[code[0]], code[2][1])
    known = _known(code[2], values)
    if known is not None:
        return _against(code[1], values, COMPARE[code[0]], known)
    return two(code, values, _crosswise(COMPARE[code[0]]) if code[0] in ORDERS else COMPARE[code[0]])


def _same_text(left: Run, op: Callable[[Any, Any], bool], text: str) -> Run:
    def run(frame: Frame) -> bool | None:
        value = left(frame)
        return None if value is None else op(value, text)

    return run


def _known(code: Code, values: Values) -> Fraction | None:
    """The number that a piece of code is in this run: one that is written, or a setting's."""
    return Fraction(code[1]) if code[0] == "number" else values.settings[code[1]] if code[0] == "setting" else None


def _against(code: Code, values: Values, op: Callable[[Any, Any], bool], known: Fraction) -> Run:
    """A value set against a known number, which is scaled once in its stead."""
    while code[0] == "scaled":
        code, known = code[1], known / Fraction(code[2])
    left, top, bottom = build(code, values), known.numerator, known.denominator

    def run(frame: Frame) -> bool | None:
        value = left(frame)
        if value is None:
            return None
        if type(value) is Fraction:
            return op(value.numerator * bottom, top * value.denominator)
        return op(value * bottom, top)

    return run


def _crosswise(op: Callable[[Any, Any], bool]) -> Callable[[Any, Any], bool]:
    """The same comparison, of exact numbers by their integers: Fraction's own asks first what the other number is."""

    def compare(a: Any, b: Any) -> bool:
        if type(a) is Fraction or type(b) is Fraction:
            if type(a) not in PLAIN or type(b) not in PLAIN:
                return op(a, b)
            return op(a.numerator * b.denominator, b.numerator * a.denominator)
        return op(a, b)

    return compare


def _sum(code: Code, values: Values) -> Run:
    if code[0] == "shifted":
        return two(code, values, SUMS[f"shifted {code[1]}"], 2)
    return two(code, values, SUMS[code[0]])


def _divide(code: Code, values: Values) -> Run:
    return two(code, values, lambda a, b: as_fraction(a) / as_fraction(b) if b else None)


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
        "among": _among,
        "has": _has,
        "shares": _shares,
    }
)
