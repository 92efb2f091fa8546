"""What is put together: lines with the pieces of text that they are made of, in blocks."""

from __future__ import annotations

from attrs import field

from planlang.model.composing.composed import Piece
from planlang.model.composing.library import Library
from planlang.syntax.nodes import Statement
from planlang.text.data import define, frozen
from planlang.text.source import Span


@frozen
class Out:
    """A line as it goes into the composed text. `own`: it stands in the plan's own file."""

    name: str
    pieces: tuple[Piece, ...]
    statement: Statement | None = None
    own: bool = False

    @property
    def text(self) -> str:
        """The line with its end."""
        return "".join(piece.text for piece in self.pieces)

    @property
    def said(self) -> str:
        """Its words, one space between them."""
        return " ".join(self.text.split()).removeprefix("# ")

    @property
    def shown(self) -> Span:
        """Where the plan's own file says it."""
        return self.pieces[0].shown

    @property
    def words(self) -> Span:
        """The same without indentation, remark and line end."""
        whole = [piece for piece in self.pieces if piece.same]
        if self.own and self.statement is not None and len(whole) == 1:
            text, start = whole[0].text, whole[0].shown.start
            return Span(start + len(text) - len(text.lstrip()), start + len(text.rstrip()))
        return self.pieces[0].shown


@define
class Block:
    """A header and its lines. `change`: it changes a block of the template. `libraries`: those it may take from."""

    key: tuple[str, ...]
    header: Out | None
    lines: list[Out]
    change: bool = False
    libraries: tuple[Library, ...] = ()

    @property
    def kind(self) -> str:
        """`exercise`, `session` ..."""
        return self.key[0]

    def names(self) -> set[str]:
        """The names of its statements."""
        return {line.name for line in self.lines}

    def of(self, *names: str) -> list[Out]:
        """Its lines of these names."""
        return [line for line in self.lines if line.name in names]


@define
class Body:
    """A file put together with its template: what stands before the header, the plan's own block, the others.

    `tail`: headers that were only there to be put together. `from_line`: where it names its template.
    """

    before: list[Out]
    head: Block
    blocks: list[Block]
    libraries: tuple[Library, ...] = ()
    tail: list[Out] = field(factory=list)

    def block(self, key: tuple[str, ...]) -> Block | None:
        """The block with a key; exercises and activities share their names."""
        return next((b for b in self.blocks if not b.change and same_key(b.key, key)), None)


def same_key(key: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Whether two blocks are the same thing: an activity has the name of no exercise."""
    return plain_key(key) == plain_key(other)


def plain_key(key: tuple[str, ...]) -> tuple[str, ...]:
    """A key, an activity's as an exercise's."""
    return ("exercise", *key[1:]) if key[0] == "activity" else key
