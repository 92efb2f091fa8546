"""A text with a name, and places in it."""

from __future__ import annotations

from bisect import bisect_right
from functools import cached_property, total_ordering

from attrs import field

from planlang.text.data import define, frozen


@total_ordering
@frozen
class Span:
    """A place: two code-point offsets into a source, end exclusive."""

    start: int
    end: int

    def __lt__(self, other: Span) -> bool:
        return (self.start, self.end) < (other.start, other.end)

    def to(self, other: Span) -> Span:
        """From the start of this place to the end of the other."""
        return Span(self.start, other.end)


NOWHERE = Span(0, 0)


@frozen
class Place:
    """A span as people count: lines and columns from 1, in code points, end exclusive."""

    line: int
    column: int
    end_line: int
    end_column: int


@define(frozen=True, slots=False, eq=False)
class Source:
    """One file's text as it was read. `name` is what findings call it."""

    name: str
    text: str = field(repr=False)

    @property
    def not_there(self) -> frozenset[str]:
        """Names of statements that belong to this text and could not be had, `?` for any; none of a file by itself."""
        return frozenset()

    @cached_property
    def line_starts(self) -> list[int]:
        """Offsets at which lines begin; a line ends with LF, CRLF or a lone CR."""
        starts = [0]
        text = self.text
        for i, char in enumerate(text):
            if char == "\n" or (char == "\r" and text[i + 1 : i + 2] != "\n"):
                starts.append(i + 1)
        return starts

    def line_of(self, offset: int) -> int:
        """The line, from 1, that holds the offset."""
        return bisect_right(self.line_starts, offset)

    def place(self, span: Span) -> Place:
        """Line and column of a span."""
        first, last = self.line_of(span.start), self.line_of(max(span.start, span.end))
        starts = self.line_starts
        return Place(first, span.start - starts[first - 1] + 1, last, span.end - starts[last - 1] + 1)

    def line(self, number: int) -> str:
        """The text of a line (from 1), without its line ending."""
        starts = self.line_starts
        end = starts[number] if number < len(starts) else len(self.text)
        return self.text[starts[number - 1] : end].rstrip("\r\n")
