"""Tables and lines of the page, escaped; the same words as beside the charts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from html import escape

from planlang.people.sheet.pieces import plain


def said(text: str) -> str:
    """Text as the page can hold it."""
    return escape(plain(text), quote=False)


def table(caption: str, head: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """A table whose first column names its rows; nothing where it has none."""
    listed = list(rows)
    if not listed:
        return
    yield f"<table>\n<caption>{said(caption)}</caption>" if caption else "<table>"
    yield "<thead><tr>" + "".join(f'<th scope="col">{said(cell)}</th>' for cell in head) + "</tr></thead>\n<tbody>"
    for first, *others in listed:
        cells = "".join(f"<td>{said(cell)}</td>" for cell in others)
        yield f'<tr><th scope="row">{said(first)}</th>{cells}</tr>'
    yield "</tbody>\n</table>"


def paragraphs(lines: Iterable[str]) -> Iterator[str]:
    """A line each."""
    yield from (f"<p>{said(line)}</p>" for line in lines)


def figure(svg: str) -> str:
    """A picture, which says what it shows."""
    return f"<figure>\n{svg.rstrip()}\n</figure>"
