"""What a sheet is made of, apart from how it looks: sections with lines, lists, tables, pictures, in reading order."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.text.data import frozen
from planlang.text.languages.line import Line


@frozen
class Para:
    """A line of its own; `strong` where it must not be overlooked."""

    line: Line
    strong: bool = False


@frozen
class Items:
    """A list."""

    lines: tuple[Line, ...]


@frozen
class Table:
    """A table whose first column names its rows; the heading above it says what it is."""

    head: tuple[Line, ...]
    rows: tuple[tuple[Line, ...], ...]


@frozen
class Boxes:
    """Boxes to mark by hand: `open` says for each row in which columns there is one. An empty box carries no mark."""

    head: tuple[Line, ...]
    rows: tuple[Line, ...]
    open: tuple[tuple[bool, ...], ...]


@frozen
class Figure:
    """A picture as SVG, with what a screen reader says of it, and its width in CSS pixels."""

    svg: str
    alt: Line
    width: float


@frozen
class Section:
    """A heading and what stands under it. `kind` tells the stylesheets which one it is."""

    title: Line
    blocks: tuple[Block, ...]
    kind: str = ""

    def lines(self) -> Iterator[Line]:
        """Every line of it in reading order, those of pictures left out."""
        return _lines(self)


Block = Para | Items | Table | Boxes | Figure | Section


@frozen
class Page:
    """One side: its sections, and the lines at its foot."""

    sections: tuple[Section, ...]
    foot: tuple[Line, ...] = ()


@frozen
class Sheet:
    """The whole sheet. `code`, `direction`: of the page; `large`: in 18 points instead of 14."""

    title: Line
    weeks: Line
    code: str
    direction: str
    large: bool
    pages: tuple[Page, ...]

    def lines(self) -> Iterator[Line]:
        """Every line on it in reading order, those of pictures left out."""
        yield self.title
        yield self.weeks
        for page in self.pages:
            for section in page.sections:
                yield from section.lines()
            yield from page.foot


def _lines(block: Block) -> Iterator[Line]:
    match block:
        case Para(line):
            yield line
        case Items(lines):
            yield from lines
        case Table(head, rows):
            yield from head
            for row in rows:
                yield from row
        case Boxes(head, rows):
            yield from head
            yield from rows
        case Section(title, blocks):
            yield title
            for inner in blocks:
                yield from _lines(inner)
        case Figure():
            return
