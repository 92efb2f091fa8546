"""Closures that go over a list, with a variable set to each item."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from planlang.checking.expression.running import MAKERS, Code, Frame, Run, Values, build, constant
from planlang.checking.expression.scalars import COMPARE, two


def _up_to(code: Code, values: Values) -> Run:
    return two(code, values, lambda items, n: items[: max(0, int(n))])


def _beyond(code: Code, values: Values) -> Run:
    return two(code, values, lambda items, n: items[max(0, int(n)) :])


def _items(code: Code, values: Values, slot: int, condition: Code | None) -> Callable[[Frame], Iterable[Any]]:
    """A function that gives, for each item, the item and whether the condition holds; the slot is set to it."""
    items = build(code, values)
    holds = constant(True) if condition is None else build(condition, values)

    def run(frame: Frame) -> Iterable[Any]:
        for item in items(frame) or ():
            frame[slot] = item
            yield item, holds(frame)

    return run


def _some(code: Code, values: Values) -> Run:
    each = _items(code[1], values, code[2], code[3])

    def run(frame: Frame) -> bool | None:
        result: bool | None = False
        for _, holds in each(frame):
            if holds is True:
                return True
            if holds is None:
                result = None
        return result

    return run


def _every(code: Code, values: Values) -> Run:
    each = _items(code[1], values, code[2], code[3])
    condition = build(code[4], values)

    def run(frame: Frame) -> bool | None:
        result: bool | None = True
        for _, chosen in each(frame):
            holds = condition(frame) if chosen else True
            if holds is False:
                return False
            if holds is None or chosen is None:
                result = None
        return result

    return run


def _so_many(code: Code, values: Values) -> Run:
    compare, amount = COMPARE[code[1]], build(code[2], values)
    each, share = _items(code[4], values, code[5], code[6]), code[3] == "share"

    def run(frame: Frame) -> bool | None:
        holding = [holds is True for _, holds in each(frame)]
        wanted = amount(frame)
        if wanted is None:
            return None
        return compare(sum(holding), wanted * len(holding) if share else wanted)

    return run


def _count(code: Code, values: Values) -> Run:
    each = _items(code[1], values, code[2], code[3])
    return lambda frame: sum(holds is True for _, holds in each(frame))


def _run_length(code: Code, values: Values) -> Run:
    each = _items(code[1], values, code[2], code[3])

    def run(frame: Frame) -> int:
        longest = now = 0
        for _, holds in each(frame):
            now = now + 1 if holds is True else 0
            longest = max(longest, now)
        return longest

    return run


def _first(code: Code, values: Values) -> Run:
    each = _items(code[1], values, code[2], code[3])
    return lambda frame: next((item for item, holds in each(frame) if holds is True), None)


def _last(code: Code, values: Values) -> Run:
    each = _items(code[1], values, code[2], code[3])

    def run(frame: Frame) -> Any:
        last = None
        for item, holds in each(frame):
            if holds is True:
                last = item
        return last

    return run


def _fold(code: Code, values: Values) -> Run:
    how, value = code[1], build(code[2], values)
    each = _items(code[3], values, code[4], code[5])

    def run(frame: Frame) -> Any:
        found = [v for _, holds in each(frame) if holds is True and (v := value(frame)) is not None]
        if how == "sum":
            return sum(found)
        return (max(found) if how == "largest" else min(found)) if found else None

    return run


MAKERS.update(
    {
        "up_to": _up_to,
        "beyond": _beyond,
        "some": _some,
        "every": _every,
        "so_many": _so_many,
        "count": _count,
        "run": _run_length,
        "first": _first,
        "last": _last,
        "fold": _fold,
    }
)
