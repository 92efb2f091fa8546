"""A file in sections of lines, each line with its statement's name: what is put together from several files."""

from __future__ import annotations

from bisect import bisect_right
from itertools import accumulate

from attrs import field

from planlang.syntax.blanks import Spot, held, spots
from planlang.syntax.blocks import opens
from planlang.syntax.nodes import Statement, Unread
from planlang.syntax.normalise import normalise
from planlang.syntax.read import read
from planlang.syntax.statements import HEADERS
from planlang.text.data import define, frozen
from planlang.text.source import Source, Span

UNREAD = "?"
DIRECTIVES = ("blank", "from_template", "fill", "use_library", "leave_block")
"""Statements that say what is put together; no plan keeps them."""


@frozen
class Line:
    """A line of a file. `name`: its statement's, `?` where it can't be read, empty for a remark or a blank line.

    `span`: the whole line with its end; `words`: from its first word to its last. Of a template, `statement` was
    read with numbers in the blanks' places, so only its words count, not its places. `like`: of a line that can't be
    read, the first word that was most likely meant.
    """

    name: str
    span: Span
    words: Span
    statement: Statement | None = None
    spots: tuple[Spot, ...] = ()
    like: str | None = None


@define
class Section:
    """A header and the lines up to the next one. `key`: the block's kind, and its name where it has one."""

    key: tuple[str, ...]
    header: Line | None
    change: bool = False
    lines: list[Line] = field(factory=list)

    @property
    def kind(self) -> str:
        """`plan`, `exercise` ...; `?` for a header that can't be read, empty before the first one."""
        return self.key[0]


@define
class Sheet:
    """A file's sections in order. `kind`: that of its first header."""

    source: Source
    text: str
    sections: list[Section]

    @property
    def kind(self) -> str | None:
        """`plan`, `template`, `library`, `diary`; None where none of them is there."""
        return next((s.kind for s in self.sections if s.kind in ("plan", "template", "library", "diary")), None)

    @property
    def head(self) -> Section | None:
        """The section that begins the file."""
        return next((s for s in self.sections if s.kind in ("plan", "template", "library") and not s.change), None)

    def said(self, line: Line) -> str:
        """A line's words, one space between them."""
        return " ".join(self.text[line.words.start : line.words.end].split())

    def unread(self, *like: str) -> list[Line]:
        """Lines that can't be read and were most likely meant to begin with one of these words."""
        return [line for line in self.lines(UNREAD) if line.like in like]

    def lines(self, *names: str) -> list[Line]:
        """All lines of these names."""
        return [line for section in self.sections for line in section.lines if line.name in names]


def key_of(header: Statement) -> tuple[str, ...]:
    """A block's kind and name: exercises and activities share their names."""
    kind = opens(header)
    named = next((t for t in header.parts if getattr(t, "type", "") in ("NAME", "STRING")), None)
    if named is None or kind in ("plan", "template", "library", "diary", "goal"):
        return (kind,)
    return kind, str(named).strip('"')


def sheet(source: Source, template: bool = False) -> Sheet:
    """A source in sections; of a template, with each blank's spots."""
    text = normalise(source.text)
    found = spots(text) if template else ()
    script = read(Source(source.name, held(text)[0]) if found else source)
    starts = list(accumulate((len(line) + 1 for line in text.split("\n")[:-1]), initial=0))
    spoken = starts if not found else _starts(script.text)
    by_line = {bisect_right(spoken, item.span.start) - 1: item for item in script.lines}
    spots_at: dict[int, list[Spot]] = {}
    for spot in found:
        spots_at.setdefault(bisect_right(starts, spot.span.start) - 1, []).append(spot)
    made = Sheet(source, text, [Section(("",), None)])
    for number, start in enumerate(starts[:-1]):
        item = by_line.get(number)
        _add(made, item, Span(start, min(starts[number + 1], len(source.text))), tuple(spots_at.get(number, ())))
    return made


def _starts(text: str) -> list[int]:
    return list(accumulate((len(line) + 1 for line in text.split("\n")[:-1]), initial=0))


def _add(made: Sheet, item: Statement | Unread | None, span: Span, found: tuple[Spot, ...]) -> None:
    if item is None:
        made.sections[-1].lines.append(Line("", span, span))
        return
    words = _words(made.text, span)
    if isinstance(item, Unread):
        line = Line(UNREAD, span, words, None, found, item.like)
        if item.opens:
            made.sections.append(Section((UNREAD,), line))
        else:
            made.sections[-1].lines.append(line)
        return
    line = Line(item.name, span, words, item, found)
    if item.name in HEADERS:
        made.sections.append(Section(key_of(item), line, item.name == "change"))
    else:
        made.sections[-1].lines.append(line)


def _words(text: str, span: Span) -> Span:
    """A line without its remark, indentation and end."""
    end, quoted = span.end, False
    for at in range(span.start, span.end):
        char = text[at]
        if char == '"':
            quoted = not quoted
        elif char == "#" and not quoted:
            end = at
            break
    line = text[span.start : end]
    return Span(span.start + len(line) - len(line.lstrip()), span.start + len(line.rstrip()))
