"""Values as people read them, and messages over one frame."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from planlang.checking.expression.closures import Code, Frame, Run, Values, build
from planlang.checking.expression.units import quantity_text
from planlang.checking.facts.registry import Registry

Piece = str | list[Any]
"""Plain text, or ["fill", code, kind, unit or thing, singular, plural]."""

MISSING = "not written"


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
