"""A line of a plan as it can be shown anywhere, with its words underlined."""

from __future__ import annotations

import unicodedata

from planlang.text.source import Place, Source

UNDERLINE = "~"


def visible(text: str) -> str:
    """Text in which nothing moves a cursor, changes a colour or turns the direction of writing."""
    return "".join(
        " " if c == "\t" else "\N{REPLACEMENT CHARACTER}" if unicodedata.category(c) in ("Cc", "Cf", "Cs") else c
        for c in text
    )


def columns(text: str) -> int:
    """How many columns of a terminal the text takes."""
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)


def quoted(source: Source, place: Place, room: int) -> tuple[str, str]:
    """The line of a place, and below it the underline of the words; cut about the words to fit `room` columns."""
    line = visible(source.line(place.line))
    start = min(place.column - 1, len(line))
    end = len(line) if place.end_line > place.line else max(place.end_column - 1, start)
    if end > start and not line[start:end].isspace():
        end -= len(line[start:end]) - len(line[start:end].rstrip())
    left, right = _cut(line, start, end, room)
    before = ("…" if left else "") + line[left:start]
    words = line[start : min(end, right)]
    after = line[max(right if end > right else end, start + len(words)) : right] + ("…" if right < len(line) else "")
    indent = len(before) - len(before.lstrip()) if not left else 0
    before = before[indent:]
    return (before + words + after).rstrip(), " " * columns(before) + UNDERLINE * max(1, columns(words))


def _cut(line: str, start: int, end: int, room: int) -> tuple[int, int]:
    if columns(line.lstrip()) <= room:
        return 0, len(line)
    left = max(0, start - room // 3)
    while left > 0 and columns(line[left:end]) + 2 < room * 2 // 3 and not line[left - 1].isspace():
        left -= 1
    right = left
    space = room - 2
    while right < len(line) and space - columns(line[right]) >= 0:
        space -= columns(line[right])
        right += 1
    return left, max(right, start + 1)
