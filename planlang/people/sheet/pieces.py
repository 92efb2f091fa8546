"""A line taken apart for a page: which pieces are in another language than the page, and which must not be turned."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from planlang.text.languages.line import Line, Part
from planlang.text.languages.words import direction

TOGETHER = re.compile(r"(?<=\d) (?=x \d|(?:s|min|h|kg|lb|cm|m|km)\b|\d{3})|(?<=\d x) (?=\d)")
Piece = tuple[str, str | None, str | None]
"""Text, and its language and direction where they are not the page's."""


def pieces(line: Line, code: str, page_direction: str) -> Iterator[Piece]:
    """The pieces of a line. Among words from right to left a number keeps its order, telephone numbers above all."""
    for text, language in _merged(line.parts):
        words = plain(text)
        if language is not None and language != code:
            yield words, language, direction(language)
        elif language is None and page_direction == "rtl" and any(c.isdigit() for c in text):
            yield words, None, "ltr"
        else:
            yield words, None, None


def left_to_right(line: Line, page_direction: str) -> bool:
    """Whether a line reads from left to right: its words do, or without words the page."""
    ways = {direction(language) for _, language in line.parts if language is not None}
    return (ways or {page_direction}) == {"ltr"}


def _merged(parts: Iterable[Part]) -> list[Part]:
    """Neighbours of one language together. What has none goes with the words before it, else with those after."""
    kept: list[Part] = []
    for text, language in parts:
        if kept and _together(kept[-1][1], language):
            before, known = kept.pop()
            kept.append((before + text, known or language))
        else:
            kept.append((text, language))
    return kept


def _together(first: str | None, second: str | None) -> bool:
    if first == second:
        return True
    one = first or second
    return None in (first, second) and one is not None and direction(one) == "ltr"


def plain(text: str) -> str:
    """Without control characters and lone surrogates, which no page can hold; line breaks are spaces.

    `2 x 10 s` and the groups of a telephone number are not broken over two lines.
    """
    kept = "".join(c if c >= " " and c != "\x7f" and not "\ud800" <= c <= "\udfff" else " " for c in text)
    return TOGETHER.sub("\u00a0", kept)
