"""Code to closures, once a rule: `build(code, values)(frame)` gives a value, or None for what isn't written.

Conditions are true, false or None (not known): what isn't written flags nothing, unless the rule asks
whether it is written. A frame holds the facts, the thing looked at, then the variables.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from attrs import field

from planlang.checking.facts.registry import Registry
from planlang.text.data import frozen

Code = list[Any]
Frame = list[Any]
Run = Callable[[Frame], Any]
Phrases = Mapping[str, tuple[str, ...]]
"""Phrases by language."""


@frozen
class Values:
    """What a rule's names stand for in this run: its settings in base units, its phrases."""

    registry: Registry
    settings: Mapping[str, Fraction] = field(factory=dict)
    phrases: Mapping[str, Phrases] = field(factory=dict)


def build(code: Code, values: Values) -> Run:
    """The closure of a piece of code."""
    op = code[0]
    maker = MAKERS.get(op)
    if maker is None:
        raise ValueError(f"unknown code {op}")
    return maker(code, values)


def build_true(code: Code, values: Values) -> Run:
    """The closure of a condition of which only `is True` is asked: false and not known are the same to it."""
    return TRUE_MAKERS.get(code[0], build)(code, values)


def constant(value: Any) -> Run:
    """A closure that always gives this."""
    return lambda frame: value


MAKERS: dict[str, Callable[[Code, Values], Run]] = {}
"""What makes the closure of each kind of code; each module of makers adds its own."""
TRUE_MAKERS: dict[str, Callable[[Code, Values], Run]] = {}
"""The same of conditions that are quicker where only true counts."""
