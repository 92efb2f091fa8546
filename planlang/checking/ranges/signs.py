"""Where a polynomial in one variable has which sign, at whole numbers: exact, by differences and halving.

The difference p(k + 1) - p(k) has a degree less. Where it has one sign, p moves in one direction over whole
numbers, so that its sign changes there at most twice (through 0), and halving finds where.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import comb

Run = tuple[int, int, int]
"""First and last whole number, and the sign at each of them: -1, 0 or 1."""


def sign(number: int) -> int:
    """-1, 0 or 1."""
    return (number > 0) - (number < 0)


def at(coefficients: Sequence[int], k: int) -> int:
    """The polynomial's value."""
    total = 0
    for coefficient in reversed(coefficients):
        total = total * k + coefficient
    return total


def difference(coefficients: Sequence[int]) -> tuple[int, ...]:
    """The polynomial p(k + 1) - p(k)."""
    made = [0] * (len(coefficients) - 1)
    for power, coefficient in enumerate(coefficients):
        for lower in range(power):
            made[lower] += coefficient * comb(power, lower)
    return tuple(made)


@lru_cache(maxsize=4096)
def runs(coefficients: tuple[int, ...], last: int) -> tuple[Run, ...]:
    """The longest runs of one sign over 0 to `last`, in order; together they are all of it."""
    if len(coefficients) <= 1 or last <= 0:
        return ((0, last, sign(at(coefficients, 0))),) if last >= 0 else ()
    found: list[Run] = []
    for first, end, _ in runs(difference(coefficients), last - 1):
        # From `first` to `end + 1` the polynomial moves in one direction.
        for piece in _pieces(coefficients, first, end + 1):
            _append(found, piece)
    return tuple(found)


def _append(found: list[Run], piece: Run) -> None:
    first, last, own = piece
    if found and found[-1][1] >= first:
        first = found[-1][1] + 1
    if first > last:
        return
    if found and found[-1][2] == own:
        found[-1] = found[-1][0], last, own
    else:
        found.append((first, last, own))


def _pieces(coefficients: tuple[int, ...], first: int, last: int) -> list[Run]:
    """The runs of one sign where the polynomial moves in one direction: at most three."""
    made: list[Run] = []
    while first <= last:
        own = sign(at(coefficients, first))
        low, high = first, last
        while low < high:
            middle = (low + high + 1) // 2
            if sign(at(coefficients, middle)) == own:
                low = middle
            else:
                high = middle - 1
        made.append((first, low, own))
        first = low + 1
    return made
