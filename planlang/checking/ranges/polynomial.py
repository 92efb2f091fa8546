"""Polynomials over the blanks of a template, exact. A variable is a blank's number of grains above its low end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import gcd, lcm

Monomial = tuple[tuple[int, int], ...]
"""Variables with their powers, in order; none for the constant part."""
Exact = int | Fraction
Polynomial = dict[Monomial, Exact]
"""Coefficients that are not 0, ints where they are whole; none for the polynomial 0."""

ONE: Monomial = ()


def _plain(number: Exact) -> Exact:
    return number.numerator if type(number) is Fraction and number.denominator == 1 else number


def constant(value: Exact) -> Polynomial:
    """A number."""
    return {ONE: _plain(value)} if value else {}


def variable(index: int, low: Fraction, grain: Fraction) -> Polynomial:
    """A blank's value: `low` and so many grains."""
    return constant(low) | {((index, 1),): _plain(grain)}


def add(a: Polynomial, b: Polynomial, times: int = 1) -> Polynomial:
    """`a + times * b`."""
    made = dict(a)
    for monomial, coefficient in b.items():
        total = made.get(monomial, 0) + times * coefficient
        if total:
            made[monomial] = _plain(total)
        else:
            made.pop(monomial, None)
    return made


def scaled(a: Polynomial, factor: Exact) -> Polynomial:
    """A multiple; the factor is not 0."""
    if factor == 1:
        return a
    return {monomial: _plain(coefficient * factor) for monomial, coefficient in a.items()}


def multiply(a: Polynomial, b: Polynomial) -> Polynomial:
    """The product."""
    if len(b) == 1 and ONE in b:
        return scaled(a, b[ONE])
    if len(a) == 1 and ONE in a:
        return scaled(b, a[ONE])
    made: Polynomial = {}
    for one, times in a.items():
        for other, coefficient in b.items():
            monomial = _together(one, other)
            total = made.get(monomial, 0) + times * coefficient
            if total:
                made[monomial] = _plain(total)
            else:
                made.pop(monomial, None)
    return made


def _together(a: Monomial, b: Monomial) -> Monomial:
    if not a or not b:
        return a or b
    powers = dict(a)
    for index, power in b:
        powers[index] = powers.get(index, 0) + power
    return tuple(sorted(powers.items()))


def is_constant(a: Polynomial) -> bool:
    """Whether no blank is in it."""
    return not a or (len(a) == 1 and ONE in a)


def variables(a: Polynomial) -> tuple[int, ...]:
    """The blanks in it, by number."""
    return tuple(sorted({index for monomial in a for index, _ in monomial}))


def value(a: Polynomial, at: Sequence[int] | Mapping[int, int]) -> Fraction:
    """What it comes to at a point of the grid."""
    total: Exact = 0
    for monomial, coefficient in a.items():
        number = 1
        for index, power in monomial:
            number *= at[index] ** power
        total += coefficient * number
    return Fraction(total)


def primitive(a: Polynomial) -> tuple[tuple[Monomial, int], ...]:
    """The same up to a positive factor, in whole numbers and in order: equal for all polynomials of one sign."""
    bottom = lcm(*(coefficient.denominator for coefficient in a.values()))
    whole = [(monomial, int(coefficient * bottom)) for monomial, coefficient in a.items()]
    common = gcd(*(number for _, number in whole))
    return tuple(sorted((monomial, number // common) for monomial, number in whole))


def along(a: Sequence[tuple[Monomial, int]]) -> list[int]:
    """The coefficients of a polynomial in one variable, the constant part first."""
    degree = max((power for monomial, _ in a for _, power in monomial), default=0)
    made = [0] * (degree + 1)
    for monomial, number in a:
        made[monomial[0][1] if monomial else 0] = number
    return made
