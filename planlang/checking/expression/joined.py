"""Closures that join conditions: and, or, not; and those that ask whether a value is written."""

from __future__ import annotations

from typing import Any

from planlang.checking.expression.running import MAKERS, TRUE_MAKERS, Code, Frame, Run, Values, build, build_true


def _joined(code: Code, values: Values, ends: bool) -> Run:
    """Conditions in order up to the first that settles all: false for `and`, true for `or`; else unknown if one is."""
    parts = [build(part, values) for part in code[1:]]

    def run(frame: Frame) -> bool | None:
        result: bool | None = not ends
        for part in parts:
            value = part(frame)
            if value is ends:
                return bool(ends)
            if value is None:
                result = None
        return result

    return run


def _and(code: Code, values: Values) -> Run:
    return _joined(code, values, ends=False)


def _or(code: Code, values: Values) -> Run:
    return _joined(code, values, ends=True)


def _all_true(code: Code, values: Values) -> Run:
    """`and` where only true counts: what isn't known ends it like what is false."""
    parts = [build_true(part, values) for part in code[1:]]

    def run(frame: Frame) -> bool:
        for part in parts:  # noqa: SIM110 - a generator would cost as much as the parts
            if part(frame) is not True:
                return False
        return True

    return run


def _any_true(code: Code, values: Values) -> Run:
    parts = [build_true(part, values) for part in code[1:]]

    def run(frame: Frame) -> bool:
        for part in parts:  # noqa: SIM110
            if part(frame) is True:
                return True
        return False

    return run


def _not(code: Code, values: Values) -> Run:
    inner = build(code[1][1] if code[1][0] == "missing" else code[1], values)

    def written(frame: Frame) -> bool:
        value = inner(frame)
        return not (value is None or value == () or value == "")

    def run(frame: Frame) -> bool | None:
        value = inner(frame)
        return None if value is None else not value

    return written if code[1][0] == "missing" else run


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


MAKERS.update({"and": _and, "or": _or, "not": _not, "missing": _missing, "fallback": _fallback, "chosen": _chosen})
TRUE_MAKERS.update({"and": _all_true, "or": _any_true})
