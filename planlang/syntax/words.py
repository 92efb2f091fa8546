"""A word and a tree as lark has them, without importing lark: a start with ready tables need not build a parser."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any


class Token(str):
    """A word of a text: the name of its terminal, and the offsets at which it begins and ends."""

    __slots__ = ("end_pos", "start_pos", "type")
    type: str
    start_pos: int
    end_pos: int

    def __eq__(self, other: object) -> bool:
        return str.__eq__(self, other) is True and getattr(other, "type", self.type) == self.type

    def __ne__(self, other: object) -> bool:
        return not self == other

    __hash__ = str.__hash__

    def __repr__(self) -> str:
        return f"Token({self.type!r}, {str(self)!r})"


class Tree:
    """A node of the grammar with what stands in it: words and further nodes."""

    __slots__ = ("children", "data")

    def __init__(self, data: str, children: list[Any]) -> None:
        self.data = data
        self.children = children

    def __eq__(self, other: object) -> bool:
        return (self.data, self.children) == (getattr(other, "data", None), getattr(other, "children", None))

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return f"Tree({self.data!r}, {self.children!r})"

    def tokens(self) -> Iterator[Token]:
        """Every word in it, in order."""
        for part in self.children:
            if isinstance(part, Tree):
                yield from part.tokens()
            elif isinstance(part, Token):
                yield part


_new = str.__new__


def token(kind: str, text: str, start: int, end: int) -> Token:
    """A word at its place."""
    made: Token = _new(Token, text)
    made.type = kind
    made.start_pos = start
    made.end_pos = end
    return made
