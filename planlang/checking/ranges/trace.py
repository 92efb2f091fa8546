"""The record of one run: everything on which its way depended, as signs and cycles over the blanks' grid.

A program that is run twice with numbers for which all that stands in the record holds takes the same way twice.
"""

from __future__ import annotations

import operator
from collections.abc import Callable
from fractions import Fraction
from math import lcm
from typing import Any

from attrs import field

from planlang.checking.ranges.polynomial import (
    Monomial,
    Polynomial,
    add,
    constant,
    is_constant,
    primitive,
    scaled,
    value,
    variables,
)
from planlang.text.data import define, frozen

MOST_RESIDUES = 1000
"""Of a longer cycle only the number itself is written down."""


@frozen
class Axis:
    """A blank as a grid: `low`, `low + grain` ... in `count` values."""

    name: str
    low: Fraction
    grain: Fraction
    count: int

    def at(self, k: int) -> Fraction:
        """The value of a number of grains."""
        return self.low + self.grain * k


Asked = tuple[tuple[Monomial, int], ...]
"""A polynomial whose sign was asked for, in one writing for all of its multiples."""
Cycle = tuple[int, int, frozenset[int]]
"""A variable, a modulus and the residues among which it lies."""
Compare = Callable[[Any, Any], bool]
NEGATIVE, ZERO, POSITIVE = 1, 2, 4
"""Signs as bits, so that several may be allowed."""
_BIT = {-1: NEGATIVE, 0: ZERO, 1: POSITIVE}
_TURNED = (0, 4, 2, 6, 1, 5, 3, 7)
"""The bits of the signs of -p, by those of p."""


def _alike(op: Compare, own: int) -> int:
    """The signs for which a comparison with 0 comes out as for one; but those that it parts are not put together."""
    bits = sum(_BIT[s] for s in (-1, 0, 1) if op(s, 0) == op(own, 0))
    return _BIT[own] if bits == NEGATIVE | POSITIVE else bits


_ALIKE = {
    (op, own): _alike(op, own)
    for op in (operator.lt, operator.le, operator.gt, operator.ge, operator.eq, operator.ne)
    for own in (-1, 0, 1)
}


@define(slots=False, eq=False)
class Trace:
    """The record of one run at one point of the grid. `signs`: the signs that each polynomial may have.

    `why`: what wrote a number itself down, with how often. Once it is not `open`, nothing more is written.
    `texts`: the numbers that were put into words, where somebody keeps them. `known`: what was reckoned or compared
    already, since the weeks of a plan ask the same over and over; `numbers`: how many traced numbers were made.
    """

    axes: tuple[Axis, ...]
    at: tuple[int, ...]
    signs: dict[Asked, int] = field(factory=dict)
    cycles: dict[Cycle, None] = field(factory=dict)
    why: dict[str, int] = field(factory=dict)
    open: bool = True
    texts: list[Any] | None = None
    known: dict[tuple[Any, ...], Any] = field(factory=dict)
    numbers: int = 0

    def sign(self, top: Polynomial) -> int:
        """The sign of a polynomial here, written down."""
        own = self._own(top)
        self._note(top, _BIT[own])
        return own

    def asked(self, top: Polynomial, op: Compare, own: int | None = None) -> bool:
        """A comparison of a polynomial with 0; its outcome is written down. `own`: its sign here, if that is known."""
        if own is None:
            own = self._own(top)
        self._note(top, _ALIKE[op, own])
        return op(own, 0)

    def _own(self, top: Polynomial) -> int:
        number = top.get((), 0) if is_constant(top) else value(top, self.at)
        return (number > 0) - (number < 0)

    def _note(self, top: Polynomial, bits: int) -> None:
        if self.open and not is_constant(top):
            key = primitive(top)
            if key[-1][1] < 0:
                key, bits = tuple((monomial, -number) for monomial, number in key), _TURNED[bits]
            self.signs[key] = self.signs.get(key, bits) & bits

    def same_in(self, top: Polynomial, of: Callable[[Fraction], object]) -> None:
        """Writes down in which cycle `of` is what it is here; `of` looks only at the part after the point."""
        bottom = lcm(*(c.denominator for c in top.values()))
        if bottom == 1 or is_constant(top):
            return
        own = variables(top)
        if len(own) == 1 and bottom <= MOST_RESIDUES:
            here = of(value(top, self.at))
            same = frozenset(r for r in range(bottom) if of(value(top, {own[0]: r})) == here)
            if len(same) < bottom:
                self.cycles[own[0], bottom, same] = None
            return
        for index in own:
            self.cycles[index, bottom, frozenset((self.at[index] % bottom,))] = None

    def pin(self, top: Polynomial, bottom: Polynomial | None, number: Fraction, why: str) -> None:
        """Writes down that an expression has just this value."""
        self.why[why] = self.why.get(why, 0) + 1
        less = add(top, constant(number) if bottom is None else scaled(bottom, number) if number else {}, -1)
        self.sign(less)
