"""Messages with fill-ins, read into pieces of text and of code."""

from __future__ import annotations

import re

from planlang.checking.expression.parse import Misread, parse
from planlang.checking.expression.printing import Piece
from planlang.checking.expression.typer import Typer
from planlang.checking.expression.types import Type
from planlang.text.source import Span

_FILL = re.compile(r"\{([^{}]*)\}")


def pieces(text: str, typer: Typer) -> list[Piece]:
    """A message's text and fill-ins. Raises Misread, placed in the whole text."""
    found: list[Piece] = []
    at = 0
    for fill in _FILL.finditer(text):
        _no_brace(text, at, fill.start())
        found += [text[at : fill.start()], _fill(fill.group(1), fill.start() + 1, typer)]
        at = fill.end()
    _no_brace(text, at, len(text))
    return [piece for piece in (*found, text[at:]) if piece != ""]


def _no_brace(text: str, start: int, end: int) -> None:
    for i in range(start, end):
        if text[i] in "{}":
            raise Misread(
                f'this "{text[i]}" has no partner',
                Span(i, i + 1),
                "A fill-in is { an expression } and holds no braces.",
            )


def _fill(text: str, at: int, typer: Typer) -> Piece:
    try:
        node = parse(text, "fill")
        typed = typer.typed(node.part(0))
    except Misread as e:
        raise Misread(e.message, Span(e.span.start + at, e.span.end + at), e.help) from None
    nouns = [part.word[1:-1] for part in node.parts[1:] if part is not None]
    if nouns and typed.type.name != "number":
        raise Misread(f"only a number can be followed by a noun, and this is {typed.type}", Span(at, at + len(text)))
    if typed.type.name == "truth":
        place = Span(at, at + len(text))
        raise Misread("a condition can't be printed", place, 'Write if ... then "..." else "...".')
    kind: Type = typed.type
    return ["fill", typed.code, kind.name, kind.unit if kind.name == "number" else kind.thing, *nouns]
