"""A text put together from several files, whose places are those of the plan's own file."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from attrs import evolve, field

from planlang.model.composing.expression import Expr
from planlang.text.data import define, frozen
from planlang.text.finding import Finding
from planlang.text.source import Place, Source, Span

if TYPE_CHECKING:
    from planlang.model.composing.sheet import Line


@frozen
class Piece:
    """A run of the composed text. `source`, `span`: where it comes from. `shown`: its place in the plan's own file.

    `same`: it is the very text of that place, letter for letter, so that places within it can be told apart.
    `expr`: what a number in it was worked out from, in an instance.
    """

    text: str
    source: Source
    span: Span
    shown: Span
    same: bool = True
    expr: Expr | None = None


@define(frozen=True, slots=False, eq=False)
class Composed(Source):
    """A plan with what its template and libraries say in it. Read it like any other source.

    `own`: the plan's file, which every place is shown in. `symbols`: by the offset of a substituted number's
    first digit, what it was worked out from (of an instance only). `missing`: statements that could not be
    brought in, `?` for any. `known`: names of the libraries' exercises.
    """

    own: Source = field(repr=False)
    pieces: tuple[Piece, ...] = field(repr=False)
    symbols: Mapping[int, Expr] = field(factory=dict, repr=False)
    missing: frozenset[str] = frozenset()
    known: tuple[str, ...] = ()
    found: tuple[Finding, ...] = field(default=(), repr=False)
    """What was found while it was put together, at places of the plan's own file."""

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """The same at places of this text, in the order of the plan's own file."""
        own = sorted(self.found, key=lambda one: one.span or Span(0, 0))
        return tuple(evolve(one, span=self.at(one.span), source=self) for one in own if one.span is not None)

    @property
    def not_there(self) -> frozenset[str]:
        """See Source."""
        return self.missing

    @cached_property
    def _starts(self) -> list[int]:
        starts, at = [], 0
        for piece in self.pieces:
            starts.append(at)
            at += len(piece.text)
        return starts

    @cached_property
    def line_starts(self) -> list[int]:
        """Those of the plan's own file."""
        return self.own.line_starts

    def line(self, number: int) -> str:
        """The text of a line of the plan's own file."""
        return self.own.line(number)

    def line_of(self, offset: int) -> int:
        """The line of the plan's own file that stands for an offset of this text."""
        return self.own.line_of(self.shown(Span(offset, offset)).start)

    def place(self, span: Span) -> Place:
        """Where the plan's own file says what stands at a span of this text."""
        return self.own.place(self.shown(span))

    def shown(self, span: Span) -> Span:
        """The span of the plan's own file that stands for one of this text."""
        if not self.pieces:
            return Span(0, 0)
        first, start = self._at(span.start)
        last, end = self._at(max(span.end - 1, span.start))
        begin = first.shown.start + start if first.same and first.source is self.own else first.shown.start
        if last is not first and not (first.source is last.source is self.own):
            last, end = first, len(first.text)
        if not (last.same and last.source is self.own):
            return Span(begin, max(begin, last.shown.end))
        end = last.shown.start + end + (1 if span.end > span.start else 0)
        return Span(begin, max(begin, min(end, last.shown.end)))

    def origin(self, span: Span) -> tuple[Source, Span]:
        """The file and place that the text at a span's start truly comes from."""
        if not self.pieces:
            return self.own, Span(0, 0)
        first, start = self._at(span.start)
        if not first.same:
            return first.source, first.span
        begin = first.span.start + start
        return first.source, Span(begin, max(begin, min(begin + span.end - span.start, first.span.end)))

    def is_own(self, span: Span) -> bool:
        """Whether all text of a span stands so in the plan's own file, in one piece."""
        return self.own_span(span) is not None

    def own_span(self, span: Span) -> Span | None:
        """The same text's span in the plan's own file; None where it comes from elsewhere."""
        if not self.pieces:
            return None
        first, start = self._at(span.start)
        if not (first.same and first.source is self.own and start + span.end - span.start <= len(first.text)):
            return None
        begin = first.span.start + start
        return Span(begin, begin + span.end - span.start)

    def at(self, own: Span) -> Span:
        """The span in this text of a span of the plan's own file; at its start where that part was left out."""
        found = self._own_pieces
        index = bisect_right(found[0], own.start) - 1
        if index < 0:
            return Span(0, 0)
        piece, start = found[1][index]
        begin = start + min(own.start - piece.span.start, len(piece.text))
        return Span(begin, min(begin + own.end - own.start, start + len(piece.text)))

    @cached_property
    def _own_pieces(self) -> tuple[list[int], list[tuple[Piece, int]]]:
        own = [
            (piece, start)
            for piece, start in zip(self.pieces, self._starts, strict=True)
            if piece.same and piece.source is self.own
        ]
        own.sort(key=lambda each: each[0].span.start)
        return [piece.span.start for piece, _ in own], own

    def _at(self, offset: int) -> tuple[Piece, int]:
        """The piece that holds an offset, and how far into it."""
        index = max(0, min(bisect_right(self._starts, offset) - 1, len(self.pieces) - 1))
        piece = self.pieces[index]
        return piece, min(offset - self._starts[index], len(piece.text))

    @cached_property
    def flat(self) -> Source:
        """The composed text as a plan by itself, offset for offset: what put it together is a remark in it."""
        text, at = "", 0
        for line in self._putting_together():
            text += f"{self.text[at : line.words.start]}#"
            at = line.words.start + 1
        return Source(self.name, text + self.text[at:])

    @cached_property
    def alone(self) -> Source:
        """The composed text as a plan by itself, without the lines that put it together."""
        text, at = "", 0
        for line in self._putting_together():
            text += self.text[at : line.span.start]
            at = line.span.end
        return Source(self.name, text + self.text[at:])

    def _putting_together(self) -> list[Line]:
        from planlang.model.composing.sheet import DIRECTIVES, sheet

        made = sheet(Source(self.name, self.text))
        lines = made.lines(*DIRECTIVES, "ladder")
        lines += [section.header for section in made.sections if section.change and section.header]
        return sorted(lines, key=lambda one: one.span.start)

    @cached_property
    def files(self) -> tuple[Source, ...]:
        """Every file that something comes from, each once, the plan's own first."""
        return tuple(dict.fromkeys((self.own, *(piece.source for piece in self.pieces))))
