"""Boxes put together where they touch, and what is left of a blank's grid beside them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice, permutations, product

from planlang.checking.ranges.grid import EVERY, Box, Stretch, volume

Interval = tuple[int, int]
MOST_CUT_ANEW = 20_000
"""Of more fillings the boxes stay as they were found."""
MOST_ORDERS = 6
MOST_LISTED = 200_000
"""A stretch with gaps that is longer is not put together with others."""


def merged(boxes: Iterable[Box]) -> tuple[Box, ...]:
    """The same fillings in fewer boxes: those that touch along one blank and are alike in the others become one.

    Where there are few fillings, the boxes are cut anew, each as large as it can be from its smallest filling on.
    """
    made = list(dict.fromkeys(boxes))
    while True:
        before = len(made)
        for index in range(len(made[0]) if made else 0):
            made = _along(made, index)
        if len(made) == before:
            break
    if len(made) > 1 and len(made[0]) > 1 and sum(volume(box) for box in made) <= MOST_CUT_ANEW:
        anew = _cut_anew(made)
        made = anew if len(anew) < len(made) else made
    return tuple(sorted(made, key=lambda box: [(each.first, each.last) for each in box]))


def _cut_anew(boxes: list[Box]) -> list[Box]:
    left = {point for box in boxes for point in product(*(_listed(each) for each in box))}
    orders = list(islice(permutations(range(len(boxes[0]))), MOST_ORDERS))
    made: list[Box] = []
    while left:
        start = min(left)
        best = max((_grown(start, order, left) for order in orders), key=volume)
        left.difference_update(product(*(_listed(each) for each in best)))
        made.append(best)
    return made


def _grown(start: tuple[int, ...], order: tuple[int, ...], left: set[tuple[int, ...]]) -> Box:
    """A box from its smallest filling on, made longer along one blank after the other."""
    ends = list(start)
    for index in order:
        while True:
            ends[index] += 1
            sides = [range(low, high + 1) for low, high in zip(start, ends, strict=True)]
            sides[index] = range(ends[index], ends[index] + 1)
            if not all(point in left for point in product(*sides)):
                ends[index] -= 1
                break
    return tuple(Stretch(low, high) for low, high in zip(start, ends, strict=True))


def _listed(each: Stretch) -> list[int]:
    return [k for k in range(each.first, each.last + 1) if k in each]


def _along(boxes: list[Box], index: int) -> list[Box]:
    groups: dict[tuple[Stretch, ...], list[Stretch]] = {}
    for box in boxes:
        groups.setdefault((*box[:index], *box[index + 1 :]), []).append(box[index])
    return [(*rest[:index], each, *rest[index:]) for rest, along in groups.items() for each in _joined(along)]


def _joined(stretches: list[Stretch]) -> list[Stretch]:
    """Stretches that don't overlap, those that touch or fill each other's gaps as one."""
    if len(stretches) == 1:
        return stretches
    short = [each for each in stretches if each.whole or each.last - each.first <= MOST_LISTED]
    kept = [each for each in stretches if each not in short]
    made = [Stretch(first, last) for first, last in intervals(each for each in short if each.whole)]
    gappy = [each for each in short if not each.whole]
    if gappy:
        listed = {k for each in gappy for k in _listed(each)}
        touching = intervals([*made, *(Stretch(k, k) for k in listed)])
        together = [Stretch(first, last) for first, last in touching]
        made = together if len(together) < len(made) + len(gappy) else made + gappy
    return made + kept


def intervals(stretches: Iterable[Stretch]) -> list[Interval]:
    """Stretches as intervals in order, those that touch as one; of one with gaps its ends only."""
    found: list[Interval] = []
    for first, last in sorted((each.first, each.last) for each in stretches):
        if found and first <= found[-1][1] + 1:
            found[-1] = found[-1][0], max(last, found[-1][1])
        else:
            found.append((first, last))
    return found


def free(boxes: Sequence[Box], index: int, count: int) -> Interval | None:
    """The longest interval of a blank that no box touches, whatever the others are; the lowest of equal ones."""
    at, best = 0, None
    for first, last in [*intervals(box[index] for box in boxes), (count, count)]:
        if first > at and (best is None or first - at > best[1] - best[0] + 1):
            best = at, first - 1
        at = max(at, last + 1)
    return best


def is_every(stretch: Stretch, count: int) -> bool:
    """Whether a stretch is the whole of a blank's grid."""
    return stretch.first == 0 and stretch.last == count - 1 and (stretch.residues == EVERY or stretch.whole)
