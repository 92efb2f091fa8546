"""What an editor folds, and what it lists of a file."""

from __future__ import annotations

from planlang.editor.document import Document, Section
from planlang.text.data import frozen
from planlang.text.source import Span


@frozen
class Symbol:
    """A block in the list of a file's parts: its name, its kind, all of it, and its name's place."""

    name: str
    kind: str
    whole: Span
    place: Span


def symbols(document: Document) -> list[Symbol]:
    """The blocks in order."""
    return [
        Symbol(_name(s), s.kind, Span(s.header.span.start, _end(document, s)), s.header.span) for s in document.sections
    ]


def folds(document: Document) -> list[tuple[int, int]]:
    """First and last line, from 0, of each block of several lines; empty lines at its end stay out."""
    found = []
    for section in document.sections:
        first = document.source.line_of(section.header.span.start) - 1
        last = document.source.line_of(_end(document, section)) - 1
        if last > first:
            found.append((first, last))
    return found


def _name(section: Section) -> str:
    header = section.header
    named = header.tokens[2:] if header.name == "change" else header.tokens[1:]
    said = " ".join(str(token) for token in named).strip('"')
    kind = f"change {section.kind}" if header.name == "change" else section.kind
    return f"{kind} {said}".strip()


def _end(document: Document, section: Section) -> int:
    text = document.source.text[section.header.span.start : section.end]
    return max(section.header.span.start + len(text.rstrip()), section.header.span.end)
