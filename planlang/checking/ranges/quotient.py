"""Expressions of traced numbers: one polynomial over another, which is positive in the run."""

from __future__ import annotations

import operator
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from planlang.checking.ranges.polynomial import Polynomial, add, is_constant, multiply, scaled
from planlang.checking.ranges.trace import Trace

Quotient = tuple[Polynomial, Polynomial | None]
"""Numerator and denominator; None for 1."""


def denominator(number: Fraction) -> int:
    """What a number is a fraction of."""
    return number.denominator


def decimals(number: Fraction) -> int:
    """How many places after the point a number needs; -1 where no number of places is enough."""
    bottom, twos, fives = number.denominator, 0, 0
    while bottom % 2 == 0:
        bottom, twos = bottom // 2, twos + 1
    while bottom % 5 == 0:
        bottom, fives = bottom // 5, fives + 1
    return max(twos, fives) if bottom == 1 else -1


def expression(one: Quotient, other: Quotient, op: Callable[[Any, Any], Any], trace: Trace) -> Quotient:
    """A sum, difference, product or quotient of two. Raises ZeroDivisionError where it divides by 0 in the run."""
    (a, below_a), (b, below_b) = one, other
    if op is operator.truediv:
        own = trace.sign(b)
        if own == 0:
            raise ZeroDivisionError("division by a number that is 0 here")
        if is_constant(b):
            return over(scaled(times(a, below_b), 1 / Fraction(b[()])), below_a)
        turned = b if own > 0 else scaled(b, -1)
        top = times(a, below_b)
        return top if own > 0 else scaled(top, -1), times(turned, below_a)
    if op is operator.mul:
        return over(multiply(a, b), times(below_b, below_a) if below_b is not None else below_a)
    sign = 1 if op is operator.add else -1
    if below_a == below_b:
        return over(add(a, b, sign), below_a)
    together = times(below_b, below_a) if below_b is not None else below_a
    return over(add(times(a, below_b), times(b, below_a), sign), together)


def over(top: Polynomial, bottom: Polynomial | None) -> Quotient:
    """Numerator and denominator, put as a number where it is none of a blank."""
    if bottom is None or not top:
        return top, None
    return (scaled(top, 1 / Fraction(bottom[()])), None) if is_constant(bottom) else (top, bottom)


def times(a: Polynomial, by: Polynomial | None) -> Polynomial:
    """The product with a denominator."""
    return a if by is None else multiply(a, by)
