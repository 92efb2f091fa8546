"""Boxes put together where they touch, and what is left of a blank's grid beside them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planlang.checking.ranges.grid import EVERY, Box, Stretch

Interval = tuple[int, int]
MOST_LISTED = 200_000
"""A stretch with gaps that is longer is not put together with others."""


def merged(boxes: Iterable[Box]) -> tuple[Box, ...]:
    """The same fillings in fewer boxes: those that touch along one blank and are alike in the others become one."""
    made = list(dict.fromkeys(boxes))
    while True:
        before = len(made)
        for index in range(len(made[0]) if made else 0):
            made = _along(made, index)
        if len(made) == before:
            return tuple(sorted(made, key=lambda box: [(each.first, each.last) for each in box]))


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
        listed = {k for each in gappy for k in range(each.first, each.last + 1) if k in each}
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
