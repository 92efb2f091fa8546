"""Further facts of the pain rule: limits that go by what is usual."""

from __future__ import annotations

from fractions import Fraction

from planlang.checking.expression.types import COUNT, number
from planlang.checking.facts.registry import Facts
from planlang.checking.facts.resting import pain
from planlang.model.rest import Pain

pain.fact("above-usual", number("point"), "how far above usual pain may go during exercise", "accept", "accept")(
    lambda _, it: it.accept_above_usual
)


@pain.fact(
    "whole-limit",
    COUNT,
    "the most pain during exercise, out of 10, also where it is said as so many points above usual",
    "accept today baseline",
    "accept",
)
def _whole_limit(facts: Facts, it: Pain) -> Fraction | None:
    if it.accept is not None or it.accept_above_usual is None:
        return it.accept
    usual = facts.plan.today.measure("usual-pain")
    return None if usual is None else usual.value.value + it.accept_above_usual
