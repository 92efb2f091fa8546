"""What a file says in free words: its quoted texts and its comments, each with its place."""

from __future__ import annotations

from attrs import field

from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span


@frozen
class Writing:
    """A quoted text without its quotes, or a comment without its sign.

    `statement`: the grammar rule of the line that it stands in, `comment` for a comment, empty where the line can't
    be read; `block`: the block of that line, empty where it stands in none.
    """

    words: str
    statement: str = ""
    block: str = ""
    span: Span = field(default=NOWHERE, eq=False, repr=False)
