"""Messages with the plan's own numbers: pieces of text and of code, and how each kind of value is printed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from planlang.checking.expression.closures import Code, Frame, Run, Values, build
from planlang.checking.expression.parse import Misread, parse
from planlang.checking.expression.typer import Typer
from planlang.checking.expression.types import Type
from planlang.checking.expression.units import quantity_text
from planlang.checking.facts.registry import Registry
from planlang.text.source import Span

Piece = str | list[Any]
"""Plain text, or ["fill", code, kind, unit or thing, singular, plural]."""

MISSING = "not written"
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
        raise Misread('a condition can\'t be printed; write if ... then "..." else "..."', Span(at, at + len(text)))
    kind: Type = typed.type
    return ["fill", typed.code, kind.name, kind.unit if kind.name == "number" else kind.thing, *nouns]


def message(found: Sequence[Piece], values: Values) -> list[str | Run]:
    """The message's pieces with their code as closures that give text."""
    return [piece if isinstance(piece, str) else _printed(piece, values) for piece in found]


def _printed(piece: list[Any], values: Values) -> Run:
    code: Code = piece[1]
    inner, kind, of, nouns = build(code, values), piece[2], piece[3], piece[4:]
    return lambda frame: show(inner(frame), kind, of, nouns, values.registry)


def spoken(parts: Sequence[str | Run], frame: Frame) -> str:
    """The message over one frame, with single spaces."""
    text = "".join(part if isinstance(part, str) else part(frame) for part in parts)
    return " ".join(text.split())


def show(value: Any, kind: str, of: str, nouns: Sequence[str], registry: Registry) -> str:
    """A value as people read it: `800 steps/day`, `25.4 %`, `3 targets`, `a, b and c`."""
    if value is None:
        return MISSING
    if kind == "number":
        text = quantity_text(Fraction(value), of)
        if nouns:
            text += " " + (nouns[0] if text == "1" else nouns[1] if len(nouns) > 1 else nouns[0] + "s")
        return text
    if kind == "thing":
        return registry.things[of].title(value)
    if kind == "list":
        items = [str(item) if not of else registry.things[of].title(item) for item in value]
        return f"{', '.join(items[:-1])} and {items[-1]}" if len(items) > 1 else "".join(items) or "none"
    return str(value)
