"""What the charts of a review share: weeks across, and shapes that need no colour."""

from __future__ import annotations

from planlang.people.drawing import Drawing, joined
from planlang.text.data import frozen

WIDTH = 640.0
RIGHT = 12.0
SMALL = 12.0
"""Letters of a chart, in CSS pixels: 9 points."""
PALE = "#e4e4e4"


@frozen
class Across:
    """So many weeks across, from `left` to the right edge."""

    weeks: int
    left: float
    widest: float = 46.0

    @property
    def week(self) -> float:
        """The width of a week."""
        return min((WIDTH - RIGHT - self.left) / max(self.weeks, 1), self.widest)

    def at(self, weeks: float) -> float:
        """Where so many weeks from the start are."""
        return self.left + weeks * self.week

    @property
    def end(self) -> float:
        """The right end."""
        return self.at(self.weeks)

    def numbers(self, draw: Drawing, y: float, first: int = 1) -> None:
        """The weeks' numbers below, as many as fit."""
        every = next(n for n in (1, 2, 4, 13, 26, 52, 1040) if n * self.week >= 22 or n == 1040)
        for n in range(self.weeks):
            if (first + n) % every == 0 or every == 1:
                draw.text(self.at(n + 0.5), y, str(first + n), size=SMALL, middle=True)


def dashed_box(draw: Drawing, x: float, y: float, width: float, height: float) -> None:
    """An outline in dashes."""
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    draw.path(f"{joined(corners)} Z", fill="#fff", thick=1, dashes="2 2")


def hatched(draw: Drawing, x: float, y: float, width: float, height: float) -> None:
    """A box with slanting lines in it."""
    draw.box(x, y, width, height, fill="#fff")
    step = 6.0
    at = step
    while at < width + height:
        left, top = (x + at, y) if at <= width else (x + width, y + at - width)
        right, bottom = (x, y + at) if at <= height else (x + at - height, y + height)
        draw.line(left, top, right, bottom, thick=0.7)
        at += step
