"""Places as editors count them: lines from 0, columns in the units of the encoding that was agreed (UTF-16 unless
the client can do better; Language Server Protocol 3.17, PositionEncodingKind)."""

from __future__ import annotations

from planlang.text.data import frozen
from planlang.text.source import Place, Source, Span

Position = tuple[int, int]
Range = tuple[Position, Position]


@frozen
class Columns:
    """An encoding of columns: `utf-8`, `utf-16` or `utf-32`."""

    encoding: str = "utf-16"

    def units(self, text: str) -> int:
        """How long a text is; half a pair of surrogates, which is no character, counts as one unit of UTF-16."""
        if self.encoding == "utf-32" or text.isascii():
            return len(text)
        if self.encoding == "utf-8":
            return len(text.encode("utf-8", "surrogatepass"))
        return len(text) + sum(char > "\uffff" for char in text)

    def position(self, source: Source, line: int, column: int) -> Position:
        """A line and column as people count them."""
        return line - 1, self.units(source.line(line)[: column - 1])

    def range(self, source: Source, place: Place) -> Range:
        """A place in this very source."""
        return self.position(source, place.line, place.column), self.position(source, place.end_line, place.end_column)

    def span(self, source: Source, span: Span) -> Range:
        """A span of this very source."""
        return self.range(source, source.place(span))

    def offset(self, source: Source, position: Position) -> int:
        """The code point at a position; past a line's end its end, past the last line the text's end."""
        number, column = position
        starts = source.line_starts
        if number >= len(starts):
            return len(source.text)
        line, used = source.line(max(number, 0) + 1), 0
        for i, char in enumerate(line):
            if used >= column:
                return starts[max(number, 0)] + i
            used += self.units(char)
        return starts[max(number, 0)] + len(line)
