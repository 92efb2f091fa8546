"""What was read: statements in the order of the text, and the lines that could not be read."""

from __future__ import annotations

from typing import Any

from attrs import field

from planlang.syntax.words import Token, Tree
from planlang.text.data import frozen
from planlang.text.finding import Finding
from planlang.text.source import Source, Span

Node = Tree
Part = Node | Token


@frozen
class Statement:
    """One line: the name of its grammar rule and what stands in it; `tokens` are all its words in order."""

    name: str
    parts: tuple[Any, ...]
    span: Span = field(eq=False)
    tokens: tuple[Token, ...] = field(eq=False, repr=False)

    def token(self, *kinds: str) -> Token | None:
        """The first direct token of one of these kinds."""
        return next((p for p in self.parts if isinstance(p, Token) and p.type in kinds), None)

    def all(self, *kinds: str) -> list[Token]:
        """Every direct token of these kinds."""
        return [p for p in self.parts if isinstance(p, Token) and p.type in kinds]

    def node(self, *names: str) -> Node | None:
        """The first direct part with one of these rule names."""
        return next((p for p in self.parts if isinstance(p, Tree) and p.data in names), None)

    def text(self, index: int = 0) -> str:
        """The quoted text with this index, without its quotes."""
        return self.all("STRING")[index][1:-1]


@frozen
class Unread:
    """A line that can't be read. `word` is its first word; `opens` the block word that it is most like, if any."""

    word: str
    span: Span = field(eq=False)
    opens: str | None = None
    like: str | None = None
    """The first word that was most likely meant (itself where it is one)."""


@frozen
class Script:
    """A source as statements. `lines` holds statements and unread lines in order."""

    source: Source = field(eq=False, repr=False)
    lines: tuple[Statement | Unread, ...]
    findings: tuple[Finding, ...] = field(eq=False)
    text: str = field(eq=False, repr=False, default="")
    """The normalised text, offset for offset that of the source."""


def span_of(part: Part) -> Span:
    """Where a part stands, by its first and last token; of words the grammar drops nothing is known."""
    if isinstance(part, Token):
        return Span(part.start_pos, part.end_pos)
    tokens = list(part.tokens())
    if not tokens:
        return Span(0, 0)
    return Span(tokens[0].start_pos, tokens[-1].end_pos)
