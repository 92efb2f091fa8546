"""Closures that go over a list, with a variable set to each item."""

from __future__ import annotations

from typing import Any

from planlang.checking.expression.running import (
    MAKERS,
    TRUE_MAKERS,
    Code,
    Frame,
    Run,
    Values,
    build,
    build_true,
    constant,
)
from planlang.checking.expression.scalars import COMPARE, two


def _up_to(code: Code, values: Values) -> Run:
    return two(code, values, lambda items, n: items[: max(0, int(n))])


def _beyond(code: Code, values: Values) -> Run:
    return two(code, values, lambda items, n: items[max(0, int(n)) :])


def _condition(code: Code | None, values: Values) -> Run:
    return constant(True) if code is None else build_true(code, values)


def _some(code: Code, values: Values) -> Run:
    items, slot = build(code[1], values), code[2]
    condition = constant(True) if code[3] is None else build(code[3], values)

    def run(frame: Frame) -> bool | None:
        result: bool | None = False
        for item in items(frame) or ():
            frame[slot] = item
            holds = condition(frame)
            if holds is True:
                return True
            if holds is None:
                result = None
        return result

    return run


def _some_true(code: Code, values: Values) -> Run:
    items, slot, condition = build(code[1], values), code[2], _condition(code[3], values)

    def run(frame: Frame) -> bool:
        for item in items(frame) or ():
            frame[slot] = item
            if condition(frame) is True:
                return True
        return False

    return run


def _every(code: Code, values: Values) -> Run:
    items, slot, condition = build(code[1], values), code[2], build(code[4], values)
    where = constant(True) if code[3] is None else build(code[3], values)

    def run(frame: Frame) -> bool | None:
        result: bool | None = True
        for item in items(frame) or ():
            frame[slot] = item
            chosen = where(frame)
            holds = condition(frame) if chosen else True
            if holds is False:
                return False
            if holds is None or chosen is None:
                result = None
        return result

    return run


def _so_many(code: Code, values: Values) -> Run:
    compare, amount, share = COMPARE[code[1]], build(code[2], values), code[3] == "share"
    items, slot, condition = build(code[4], values), code[5], _condition(code[6], values)

    def run(frame: Frame) -> bool | None:
        holding = all_ = 0
        for item in items(frame) or ():
            frame[slot] = item
            all_ += 1
            holding += condition(frame) is True
        wanted = amount(frame)
        if wanted is None:
            return None
        return compare(holding, wanted * all_ if share else wanted)

    return run


def _count(code: Code, values: Values) -> Run:
    items, slot, condition = build(code[1], values), code[2], _condition(code[3], values)

    def run(frame: Frame) -> int:
        if code[3] is None:
            return len(items(frame) or ())
        holding = 0
        for item in items(frame) or ():
            frame[slot] = item
            holding += condition(frame) is True
        return holding

    return run


def _run_length(code: Code, values: Values) -> Run:
    items, slot, condition = build(code[1], values), code[2], _condition(code[3], values)

    def run(frame: Frame) -> int:
        longest = now = 0
        for item in items(frame) or ():
            frame[slot] = item
            now = now + 1 if condition(frame) is True else 0
            longest = max(longest, now)
        return longest

    return run


def _first(code: Code, values: Values) -> Run:
    items, slot, condition = build(code[1], values), code[2], _condition(code[3], values)

    def run(frame: Frame) -> Any:
        for item in items(frame) or ():
            frame[slot] = item
            if condition(frame) is True:
                return item
        return None

    return run


def _last(code: Code, values: Values) -> Run:
    items, slot, condition = build(code[1], values), code[2], _condition(code[3], values)

    def run(frame: Frame) -> Any:
        last = None
        for item in items(frame) or ():
            frame[slot] = item
            if condition(frame) is True:
                last = item
        return last

    return run


def _fold(code: Code, values: Values) -> Run:
    how, value = code[1], build(code[2], values)
    items, slot, condition = build(code[3], values), code[4], _condition(code[5], values)

    def run(frame: Frame) -> Any:
        found = []
        for item in items(frame) or ():
            frame[slot] = item
            if condition(frame) is True and (v := value(frame)) is not None:
                found.append(v)
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
TRUE_MAKERS["some"] = _some_true
