"""Ranges of fillings in words: `daily-steps-now 1000 to 1740 steps/day`."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from planlang.checking.ranges.cover import Cover
from planlang.checking.ranges.grid import Box, Stretch, volume
from planlang.checking.ranges.search import HOW
from planlang.checking.ranges.together import free, is_every
from planlang.checking.ranges.trace import Axis
from planlang.model.composing.blanks import BlankLine
from planlang.model.quantity import Quantity, number_text
from planlang.text.data import frozen
from planlang.text.meant import listed

MOST_RANGES = 3
"""More ranges of one finding are only counted."""
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@frozen
class Words:
    """Says ranges over the blanks of a template."""

    blanks: tuple[BlankLine, ...]
    axes: tuple[Axis, ...]

    def value(self, index: int, k: int) -> str:
        """`1000 steps/day`."""
        return str(Quantity(self.axes[index].at(k), self.blanks[index].unit))

    def interval(self, index: int, first: int, last: int) -> str:
        """`1000 to 1740 steps/day`."""
        if first == last:
            return self.value(index, first)
        return f"{number_text(self.axes[index].at(first))} to {self.value(index, last)}"

    def stretch(self, index: int, each: Stretch) -> str:
        """The same, with what is left out."""
        if each.whole:
            return self.interval(index, each.first, each.last)
        if len(each.residues) == 1:
            by = number_text(self.axes[index].grain * each.modulus)
            return f"{self.interval(index, each.first, each.last)} by {by}"
        some = f"{each.count} of the values from {self.interval(index, each.first, each.last)}"
        return some

    def box(self, box: Box) -> str:
        """`reps-now 4 to 6 with load-now 2 kg`; blanks that may be anything are left out."""
        said = [
            f"{self.axes[index].name} {self.stretch(index, each)}"
            for index, each in enumerate(box)
            if not is_every(each, self.axes[index].count)
        ]
        return " with ".join(said) or "whatever is filled in"

    def boxes(self, boxes: Sequence[Box]) -> str:
        """Several of them; over one blank its name is said once."""
        shown = boxes[:MOST_RANGES]
        narrow = {i for box in shown for i, each in enumerate(box) if not is_every(each, self.axes[i].count)}
        if len(narrow) == 1:
            index = narrow.pop()
            ranges = [self.stretch(index, box[index]) for box in shown]
            said = f"{self.axes[index].name} {' or '.join(ranges)}"
        else:
            said = ", or ".join(self.box(box) for box in shown)
        more = len(boxes) - len(shown)
        return said + (f", and {more} more {'range' if more == 1 else 'ranges'}" if more else "")

    def point(self, at: Sequence[int], narrow: Sequence[int] | None = None) -> str:
        """`daily-steps-now 1000 steps/day, reps-now 4`: one filling, or what some blanks are in it."""
        chosen = range(len(self.axes)) if narrow is None else narrow
        return ", ".join(f"{self.axes[index].name} {self.value(index, at[index])}" for index in chosen)

    def passing(self, failing: Sequence[Box], proved: bool = True) -> str:
        """What could be filled in without the finding: the widest range of each blank by itself."""
        narrow = [
            index
            for index, axis in enumerate(self.axes)
            if any(not is_every(box[index], axis.count) for box in failing)
        ]
        found = [(i, free(failing, i, self.axes[i].count)) for i in narrow]
        said = [f"{self.axes[i].name} {self.interval(i, *own)}" for i, own in found if own is not None]
        if not said:
            return "No range of one blank by itself passes."
        so_far = "It passes" if proved else "As far as it was gone through, it passes"
        return f"{so_far} with {listed(said)}{', whatever else is filled in' if len(self.axes) > 1 else ''}."


def days(on: frozenset[int]) -> str:
    """`if it starts on a Tuesday or Friday`."""
    return f"if the plan starts on a {listed([WEEKDAYS[day] for day in sorted(on)])}"


def how(cover: Cover[Any]) -> str:
    """How the ranges were gone through."""
    if cover.proved:
        return "Proved for every value that may be filled in."
    share = Fraction(sum(volume(each.box) for each in cover.cells), cover.fillings)
    percent = int(share * 100)
    return (
        f"Searched ({HOW}: {cover.tried} fillings beside the {percent if percent else 'under 1'} % that are proved), "
        "not proved: there may be more."
    )
