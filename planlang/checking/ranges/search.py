"""The stated search of what can't be proved: ends, middles, then points spread evenly, the same ones every time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice, product

from planlang.checking.ranges.trace import Axis

PRIMES = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89, 97)
HOW = "ends, middles and evenly spread values"
"""How a range is searched, in the words of a finding."""


def points(axes: tuple[Axis, ...], count: int) -> Iterator[tuple[int, ...]]:
    """Different points of a grid, fewer than `count`: corners, middles, then a Halton sequence (Halton 1960)."""
    seen: set[tuple[int, ...]] = set()
    for point in islice(_all(axes, count), count):
        if point not in seen:
            seen.add(point)
            yield point


def _all(axes: tuple[Axis, ...], count: int) -> Iterator[tuple[int, ...]]:
    ends = [(0, axis.count - 1) for axis in axes]
    yield from islice(product(*ends), 64)
    middles = [axis.count // 2 for axis in axes]
    yield tuple(middles)
    for index, (low, high) in enumerate(ends):
        for end in (low, high):
            yield (*middles[:index], end, *middles[index + 1 :])
    for n in range(1, count + 1):
        yield tuple(int(axis.count * _turned(n, PRIMES[i % len(PRIMES)])) % axis.count for i, axis in enumerate(axes))


def _turned(n: int, base: int) -> float:
    """The digits of a number behind the point, in turned order (the radical inverse)."""
    total, share = 0.0, 1.0
    while n:
        n, digit = divmod(n, base)
        share /= base
        total += digit * share
    return total
