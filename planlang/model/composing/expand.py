"""A file with the blanks filled, line by line, as pieces that remember where they come from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from attrs import evolve, field

from planlang.model.composing.body import Block, Body, Out
from planlang.model.composing.composed import Piece
from planlang.model.composing.filling import Filled, put
from planlang.model.composing.library import Library
from planlang.model.composing.saying import Findings
from planlang.model.composing.sheet import DIRECTIVES, Line, Section, Sheet
from planlang.syntax.blanks import Spot
from planlang.text.data import define, frozen
from planlang.text.finding import Related
from planlang.text.source import Span

FILE_KINDS = ("plan", "template", "library")


@frozen
class View:
    """How a file's lines are shown in the plan's own file: as they are (None), or all at one line of it."""

    via: Span | None = None

    @property
    def own(self) -> bool:
        """Whether it is the plan's own file."""
        return self.via is None


@define
class Expansion:
    """What is gathered while files are expanded: findings, what could not be brought in, symbols wanted or not.

    `instance`: the own file is a template, read as a plan that begins on `starts`.
    """

    findings: Findings
    missing: set[str] = field(factory=set)
    symbolic: bool = False
    instance: bool = False
    starts: date | None = None

    def body(self, sheet: Sheet, view: View, filled: Mapping[str, Filled], libraries: tuple[Library, ...] = ()) -> Body:
        """A file's lines in blocks. Of a file that isn't the plan's own only what says something of a plan."""
        before: list[Out] = []
        head: Block | None = None
        blocks: list[Block] = []
        tail: list[Out] = []
        for section in sheet.sections:
            block = self._block(section, sheet, view, filled, libraries)
            if section.kind == "":
                before = block.lines
            elif head is None and section is sheet.head:
                head = block
            elif section.kind in FILE_KINDS and not section.change and not view.own:
                continue  # a second header of a file: said where that file is checked
            else:
                blocks.append(block)
        return Body(before, head or Block(("plan",), None, []), blocks, libraries, tail)

    def _block(
        self,
        section: Section,
        sheet: Sheet,
        view: View,
        filled: Mapping[str, Filled],
        libraries: tuple[Library, ...],
    ) -> Block:
        header = self.line(section.header, sheet, view, filled) if section.header else None
        made = (self.line(line, sheet, view, filled) for line in section.lines if self._kept(line, view))
        key = section.key
        if header is not None and section.header is not None and section.header.spots and len(key) > 1:
            key = (key[0], header.said.partition('"')[2].rpartition('"')[0])
        return Block(key, header, [out for out in made if out is not None], section.change, libraries)

    def _kept(self, line: Line, view: View) -> bool:
        return view.own or (bool(line.name) and (line.name == "leave_block" or line.name not in DIRECTIVES))

    def line(self, line: Line, sheet: Sheet, view: View, filled: Mapping[str, Filled]) -> Out | None:
        """A line with its blanks filled; None where one can't be, and then its statement is missing."""
        if view.own and self.instance and line.name in DIRECTIVES:
            return evolve(self._remark(line, sheet), name=line.name, statement=line.statement)
        if not line.spots:
            return self._plain(line, sheet, view)
        via = view.via
        if via is not None:
            via = next((f.shown for f in _used(line.spots, filled) if f.shown is not None), via)
        start, end = (line.span.start, line.span.end) if view.own else (line.words.start, line.words.end)
        pieces: list[Piece] = []
        at = start
        for spot in line.spots:
            if spot.span.start >= end:
                continue  # in a remark
            made = self._put(spot, sheet, view, line, via, filled)
            if made is None:
                self.missing.add(line.name)
                return self._remark(line, sheet) if view.own else None
            if spot.span.start > at:
                pieces.append(_same(sheet, Span(at, spot.span.start), via))
            pieces.append(made)
            at = spot.span.end
        pieces += [_same(sheet, Span(at, end), via)] if at < end else []
        if not pieces or not pieces[-1].text.endswith(("\n", "\r")):
            pieces.append(Piece("\n", sheet.source, Span(end, end), via or Span(end, end), same=False))
        return Out(line.name, tuple(pieces), line.statement, view.own)

    def _plain(self, line: Line, sheet: Sheet, view: View) -> Out:
        if view.own:
            text = sheet.source.text[line.span.start : line.span.end]
            whole = Piece(text, sheet.source, line.span, line.span)
            end = Span(line.span.end, line.span.end)
            last = () if text.endswith(("\n", "\r")) else (Piece("\n", sheet.source, end, end, same=False),)
            return Out(line.name, (whole, *last), line.statement, own=True)
        assert view.via is not None
        text = f"{sheet.source.text[line.words.start : line.words.end]}\n"
        return Out(line.name, (Piece(text, sheet.source, line.words, view.via),), line.statement)

    def _remark(self, line: Line, sheet: Sheet) -> Out:
        """A line of the plan's own file that is kept for its place only."""
        at = Span(line.span.start, line.span.start)
        mark = Piece("# ", sheet.source, at, at, same=False)
        return Out("", (mark, *self._plain(line, sheet, View()).pieces), own=True)

    def _put(
        self, spot: Spot, sheet: Sheet, view: View, line: Line, via: Span | None, filled: Mapping[str, Filled]
    ) -> Piece | None:
        text = sheet.text
        beside = text[max(spot.span.start - 1, 0) : spot.span.start] + text[spot.span.end : spot.span.end + 1]
        made = put(spot, filled, beside, self.symbolic)
        if made.fault:
            place = via or spot.span
            related = () if view.own else (Related("the template says it here", line.words, sheet.source),)
            self.findings.cannot_read(made.fault, place, made.help, related)
        if made.text is None:
            return None
        return Piece(made.text, sheet.source, spot.span, via or spot.span, same=False, expr=made.expr)


def _same(sheet: Sheet, span: Span, via: Span | None) -> Piece:
    return Piece(sheet.source.text[span.start : span.end], sheet.source, span, via or span)


def _used(spots: Iterable[Spot], filled: Mapping[str, Filled]) -> Iterable[Filled]:
    """The fillings that a line's spots name, in order."""
    from planlang.model.composing.expression import Written, read

    for spot in spots:
        written = read(spot.text)
        if isinstance(written, Written):
            yield from (filled[name] for name in written.blanks if name in filled)
