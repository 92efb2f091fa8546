"""Sets of values of the blanks: along one blank a stretch of its grid, over several a box of such stretches."""

from __future__ import annotations

from collections.abc import Iterator
from math import lcm

from planlang.text.data import frozen

EVERY = frozenset((0,))


@frozen
class Stretch:
    """Whole numbers from `first` to `last`, both in it, whose remainder by `modulus` is among `residues`."""

    first: int
    last: int
    modulus: int = 1
    residues: frozenset[int] = EVERY

    @property
    def whole(self) -> bool:
        """Whether nothing between the ends is left out."""
        return self.modulus == 1 or self.first == self.last

    def __contains__(self, k: int) -> bool:
        return self.first <= k <= self.last and k % self.modulus in self.residues

    @property
    def count(self) -> int:
        """How many numbers there are."""
        if self.modulus == 1:
            return self.last - self.first + 1
        whole, rest = divmod(self.last - self.first + 1, self.modulus)
        return whole * len(self.residues) + sum((self.first + i) % self.modulus in self.residues for i in range(rest))


def stretch(first: int, last: int, modulus: int = 1, residues: frozenset[int] = EVERY) -> Stretch | None:
    """The stretch with its ends drawn in to numbers that are in it, or None where it holds none."""
    if len(residues) == modulus:
        modulus, residues = 1, EVERY
    steps = range(min(modulus, last - first + 1)) if residues else range(0)
    low = next((first + i for i in steps if (first + i) % modulus in residues), None)
    if low is None:
        return None
    high = next(last - i for i in range(modulus) if (last - i) % modulus in residues)
    return Stretch(low, high, modulus, residues) if low < high else Stretch(low, low)


LONGEST_CYCLE = 50_000


def cycle(within: Stretch, modulus: int, residues: frozenset[int]) -> Stretch | None:
    """The numbers of a stretch whose remainder by another modulus is among these, as the first one's is.

    Where the two together come round too seldom, only the first number.
    """
    both = lcm(within.modulus, modulus)
    if both > LONGEST_CYCLE:
        return Stretch(within.first, within.first)
    kept = frozenset(r for r in range(both) if r % within.modulus in within.residues and r % modulus in residues)
    return stretch(within.first, within.last, both, kept)


def between(within: Stretch, first: int, last: int) -> Stretch | None:
    """The numbers of a stretch from `first` to `last`."""
    return stretch(max(within.first, first), min(within.last, last), within.modulus, within.residues)


def without(whole: Stretch, part: Stretch) -> list[Stretch]:
    """What is left of a stretch when a part of it is taken out: before, between, behind."""
    before, behind = between(whole, whole.first, part.first - 1), between(whole, part.last + 1, whole.last)
    both = lcm(whole.modulus, part.modulus)
    left = frozenset(
        r for r in range(both) if r % whole.modulus in whole.residues and r % part.modulus not in part.residues
    )
    amid = stretch(part.first, part.last, both, left)
    return [piece for piece in (before, amid, behind) if piece is not None]


Box = tuple[Stretch, ...]
"""A stretch for each blank, in order."""


def volume(box: Box) -> int:
    """How many fillings a box holds."""
    total = 1
    for each in box:
        total *= each.count
    return total


def corner(box: Box) -> tuple[int, ...]:
    """The smallest value of each blank."""
    return tuple(each.first for each in box)


def holds(box: Box, at: tuple[int, ...]) -> bool:
    """Whether a filling lies in a box."""
    return all(k in each for k, each in zip(at, box, strict=True))


def rest_of(box: Box, part: Box) -> Iterator[Box]:
    """What is left of a box when a part of it is taken out, in boxes that don't overlap."""
    for index, (whole, taken) in enumerate(zip(box, part, strict=True)):
        for piece in without(whole, taken):
            yield (*part[:index], piece, *box[index + 1 :])
