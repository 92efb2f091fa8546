"""A line taken apart for a page: which pieces are in another language than the page, and which must not be turned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planlang.text.languages.line import Line, Part
from planlang.text.languages.words import direction

Piece = tuple[str, str | None, str | None]
"""Text, and its language and direction where they are not the page's."""


def pieces(line: Line, code: str, page_direction: str) -> Iterator[Piece]:
    """The pieces of a line. On a page from right to left a number keeps its order, telephone numbers above all."""
    for text, language in _merged(line.parts):
        words = plain(text)
        if language is not None and language != code:
            yield words, language, direction(language)
        elif language is None and page_direction == "rtl" and any(c.isdigit() for c in text):
            yield words, None, "ltr"
        else:
            yield words, None, None


def _merged(parts: Iterable[Part]) -> Iterator[Part]:
    """Neighbours of one language together; a number or mark goes with the words around it where both are of one."""
    kept: list[Part] = []
    for text, language in parts:
        if kept and kept[-1][1] == language:
            kept[-1] = (kept[-1][0] + text, language)
        elif len(kept) > 1 and kept[-1][1] is None and kept[-2][1] == language:
            (before, _), (between, _) = kept[-2:]
            kept[-2:] = [(before + between + text, language)]
        else:
            kept.append((text, language))
    yield from kept


def plain(text: str) -> str:
    """Without control characters and lone surrogates, which no page can hold; line breaks are spaces."""
    return "".join(c if c >= " " and c != "\x7f" and not "\ud800" <= c <= "\udfff" else " " for c in text)
