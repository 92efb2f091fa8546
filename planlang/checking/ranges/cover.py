"""A grid covered with boxes, one run a box: what is true at one filling of it is true at all of them."""

from __future__ import annotations

from collections.abc import Callable
from heapq import heappop, heappush
from typing import Generic, TypeVar

from attrs import field

from planlang.checking.ranges.cell import cell
from planlang.checking.ranges.grid import Box, Stretch, between, corner, holds, rest_of, volume
from planlang.checking.ranges.search import points
from planlang.checking.ranges.trace import Axis, Trace
from planlang.model.quantity import LISTENING
from planlang.text.data import frozen

T = TypeVar("T")


@frozen
class Cell(Generic[T]):
    """A box over which the run at its corner holds, and what that run came to."""

    box: Box
    outcome: T


@frozen
class Cover(Generic[T]):
    """What was found over a grid. `left`: boxes that no run speaks for; `runs`: how many there were, `tried` of them
    in `left` (each of these has its own cell). `why`: what narrowed cells to single numbers, with how often.
    """

    axes: tuple[Axis, ...]
    cells: tuple[Cell[T], ...]
    left: tuple[Box, ...] = ()
    runs: int = 0
    tried: int = 0
    why: dict[str, int] = field(factory=dict)

    @property
    def proved(self) -> bool:
        """Whether every filling is spoken for."""
        return not self.left

    @property
    def fillings(self) -> int:
        """How many fillings there are."""
        total = 1
        for axis in self.axes:
            total *= axis.count
        return total


def cover(axes: tuple[Axis, ...], run: Callable[[Trace], T], most: int, tries: int) -> Cover[T]:
    """Covers a grid, largest box first, with at most `most` runs; where they don't suffice, tries `tries` points more.

    `run` must be deterministic: what it does may depend only on its trace's numbers and on what never changes.
    """
    whole: Box = tuple(Stretch(0, axis.count - 1) for axis in axes)
    waiting = [_ranked(whole)]
    cells: list[Cell[T]] = []
    why: dict[str, int] = {}

    def at(point: tuple[int, ...], within: Box) -> Box:
        trace = Trace(axes, point)
        LISTENING.append(trace)
        try:
            outcome = run(trace)
        finally:
            LISTENING.remove(trace)
            trace.open = False
        for reason, often in trace.why.items():
            why[reason] = why.get(reason, 0) + often
        box = cell(trace, within)
        cells.append(Cell(box, outcome))
        return box

    while waiting and len(cells) < most:
        _, _, box = heappop(waiting)
        for piece in rest_of(box, at(corner(box), box)):
            heappush(waiting, _ranked(piece))
    left = [box for _, _, box in sorted(waiting)]
    proved = len(cells)
    for point in points(axes, 8 * tries):
        if not left or len(cells) - proved >= tries:
            break
        within = next((box for box in left if holds(box, point)), None)
        if within is not None:
            left.remove(within)
            left += rest_of(within, at(point, _from(within, point)))
    return Cover(axes, tuple(cells), tuple(sorted(left, key=corner)), len(cells), len(cells) - proved, why)


def _from(box: Box, point: tuple[int, ...]) -> Box:
    """The part of a box of which a point is the corner."""
    made = (between(each, k, each.last) for each, k in zip(box, point, strict=True))
    return tuple(each for each in made if each is not None)


def _ranked(box: Box) -> tuple[int, tuple[int, ...], Box]:
    """A box behind its rank: the largest first, then the one whose corner is smallest."""
    return -volume(box), corner(box), box
