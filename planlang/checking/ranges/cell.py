"""From the record of a run to the box of fillings for which it holds: exact for one blank, a sound part for several."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import partial
from itertools import product

from planlang.checking.ranges.grid import Box, Stretch, between, cycle
from planlang.checking.ranges.polynomial import Polynomial, along, value, variables
from planlang.checking.ranges.signs import Run, runs
from planlang.checking.ranges.trace import NEGATIVE, POSITIVE, ZERO, Asked, Trace

Shares = tuple[Polynomial, int]
"""A polynomial over several blanks with the signs that it may have."""
_BITS = {-1: NEGATIVE, 0: ZERO, 1: POSITIVE}
_FINENESS = 1 << 20
MOST_CORNERS = 6
"""Of a product of more blanks only rough bounds are taken: a box has two corners for each of them, multiplied."""


def cell(trace: Trace, within: Box) -> Box:
    """A box around the run's filling, within a box that holds it as its corner, over which the whole record holds."""
    made = list(within)
    for index, modulus, residues in trace.cycles:
        kept = cycle(made[index], modulus, residues)
        assert kept is not None
        made[index] = kept
    shared: list[Shares] = []
    for asked, bits in trace.signs.items():
        polynomial: Polynomial = dict(asked)
        own = variables(polynomial)
        if len(own) > 1:
            shared.append((polynomial, bits))
            continue
        first, last = _around(asked, bits, trace.at[own[0]], trace.axes[own[0]].count)
        kept = between(made[own[0]], first, last)
        assert kept is not None
        made[own[0]] = kept
    return _decided(tuple(made), trace.at, shared)


def _around(asked: Asked, bits: int, here: int, count: int) -> tuple[int, int]:
    """The longest stretch around a number of grains over which a polynomial has one of the signs allowed."""
    coefficients = tuple(along([(tuple((0, power) for _, power in m), number) for m, number in asked]))
    found = runs(coefficients, count - 1)
    index = next(i for i, (_, last, _) in enumerate(found) if here <= last)
    first = last = index
    while first > 0 and _allowed(found[first - 1], bits):
        first -= 1
    while last < len(found) - 1 and _allowed(found[last + 1], bits):
        last += 1
    return found[first][0], found[last][1]


def _allowed(run: Run, bits: int) -> bool:
    return bool(_BITS[run[2]] & bits)


def _decided(box: Box, at: tuple[int, ...], shared: Iterable[Shares]) -> Box:
    """The box, drawn in towards the run's filling until every polynomial over several blanks is sure of its sign."""
    open_ = [each for each in shared if not _sure(each, box)]
    if not open_:
        return box

    def fits(tried: Box) -> bool:
        return all(_sure(each, tried) for each in open_)

    def reduced(share: int) -> Box:
        return tuple(_up_to(s, k + (s.last - k) * share // _FINENESS) for s, k in zip(box, at, strict=True))

    made = reduced(_most(_FINENESS, lambda share: fits(reduced(share))))
    for index, whole in enumerate(box):
        last = made[index].last
        more = _most(whole.last - last, partial(_fits_longer, made, index, whole, open_))
        made = _longer(made, index, whole, last + more)
    return made


def _fits_longer(box: Box, index: int, whole: Stretch, shared: Iterable[Shares], more: int) -> bool:
    tried = _longer(box, index, whole, box[index].last + more)
    return all(_sure(each, tried) for each in shared)


def _longer(box: Box, index: int, whole: Stretch, last: int) -> Box:
    return (*box[:index], _up_to(whole, last), *box[index + 1 :])


def _up_to(whole: Stretch, last: int) -> Stretch:
    """The stretch from its corner up to a number."""
    kept = between(whole, whole.first, max(last, whole.first))
    assert kept is not None
    return kept


def _most(limit: int, fits: Callable[[int], bool]) -> int:
    """The largest number up to a limit that fits, where all below one that fits do; 0 does."""
    low, high = 0, limit
    while low < high:
        middle = (low + high + 1) // 2
        if fits(middle):
            low = middle
        else:
            high = middle - 1
    return low


def _sure(each: Shares, box: Box) -> bool:
    """Whether a polynomial certainly has one of its signs everywhere in a box."""
    polynomial, bits = each
    low, high = bounds(polynomial, box)
    if low > 0:
        return bool(bits & POSITIVE)
    if high < 0:
        return bool(bits & NEGATIVE)
    if low == high:
        return bool(bits & ZERO)
    signs = ZERO | (NEGATIVE if low < 0 else 0) | (POSITIVE if high > 0 else 0)
    return signs & bits == signs


def bounds(polynomial: Polynomial, box: Box) -> tuple[Fraction, Fraction]:
    """Numbers between which a polynomial lies over a box; the true ends where it has few blanks and none is squared."""
    own = variables(polynomial)
    mixed = any(len(monomial) > 1 for monomial in polynomial)
    if mixed and len(own) <= MOST_CORNERS and all(power == 1 for monomial in polynomial for _, power in monomial):
        found = [
            value(polynomial, dict(zip(own, ends, strict=True)))
            for ends in product(*((box[index].first, box[index].last) for index in own))
        ]
        return min(found), max(found)
    low = high = Fraction(0)
    for monomial, coefficient in polynomial.items():
        least = most = 1
        for index, power in monomial:  # grains are counted from 0, so powers only grow
            least *= box[index].first ** power
            most *= box[index].last ** power
        low += coefficient * (least if coefficient > 0 else most)
        high += coefficient * (most if coefficient > 0 else least)
    return low, high
