"""A line for a person that remembers which language each part of it is in."""

from __future__ import annotations

from collections.abc import Iterable

Part = tuple[str, str | None]
"""A piece of text with its language; None where it has none: a number, a mark, a date."""


class Line(str):
    """A text; `parts` gives its pieces with their languages, so that a page can mark those in another one."""

    parts: tuple[Part, ...]

    def __new__(cls, parts: Iterable[Part]) -> Line:
        """From its pieces; empty ones fall away."""
        kept = tuple(part for part in parts if part[0])
        made = super().__new__(cls, "".join(text for text, _ in kept))
        made.parts = kept
        return made

    def __add__(self, other: str) -> Line:
        return Line((*self.parts, *parts_of(other)))

    def capital(self) -> Line:
        """The same with its first letter large."""
        if not self.parts:
            return self
        (text, language), *rest = self.parts
        return Line(((text[:1].upper() + text[1:], language), *rest))

    def small(self) -> Line:
        """The same in small letters."""
        return Line((text.lower(), language) for text, language in self.parts)


def parts_of(text: str) -> tuple[Part, ...]:
    """The pieces of a line; plain text is one piece of no language."""
    return text.parts if isinstance(text, Line) else ((text, None),)


def joined(between: str, lines: Iterable[str]) -> Line:
    """Lines with something between them."""
    parts: list[Part] = []
    for line in lines:
        if parts:
            parts += parts_of(between)
        parts += parts_of(line)
    return Line(parts)
