"""Changes of a text: what stands at a place is replaced, everything else stays."""

from __future__ import annotations

import re
from collections.abc import Iterable

from planlang.model.plan import Plan
from planlang.text.data import frozen
from planlang.text.source import Source, Span

_INDENT = re.compile(r"[ \t]*")


@frozen
class Edit:
    """The text that takes the place of a span; an empty span is a place to write at."""

    span: Span
    text: str


Edits = tuple[Edit, ...]


def applied(text: str, edits: Iterable[Edit]) -> str:
    """The text with every change made. Spans must not overlap; of two at one place the first given comes first."""
    parts, at = [], 0
    for edit in sorted(edits, key=lambda e: (e.span.start, e.span.end)):
        parts += [text[at : edit.span.start], edit.text]
        at = edit.span.end
    return "".join([*parts, text[at:]])


def before(edits: Iterable[Edit], offset: int) -> int:
    """Where an offset of the changed text was before; within a change, where the change begins."""
    moved = 0
    for edit in sorted(edits, key=lambda e: (e.span.start, e.span.end)):
        start = edit.span.start + moved
        if offset < start:
            break
        if offset < start + len(edit.text):
            return edit.span.start
        moved += len(edit.text) - (edit.span.end - edit.span.start)
    return offset - moved


def replaced(source: Source, span: Span | None, pattern: str, text: str) -> Edit | None:
    """The change of what the pattern's first group finds in a statement; None where it isn't there."""
    found = re.search(pattern, source.text[span.start : span.end]) if span else None
    if found is None or span is None:
        return None
    start, end = found.span(1)
    return Edit(Span(span.start + start, span.start + end), text)


def line_below(source: Source, span: Span, words: str) -> Edit:
    """A new line below the one that ends a span, indented as that one is."""
    number = source.line_of(max(span.start, span.end - 1))
    line = source.line(number)
    at = source.line_starts[number - 1] + len(line)
    indent = _indent(line)
    return Edit(Span(at, at), f"{newline(source)}{indent}{words}")


def line_above(source: Source, offset: int, words: str) -> Edit:
    """A new line above the one that holds an offset, indented as that one is."""
    number = source.line_of(offset)
    at = source.line_starts[number - 1]
    return Edit(Span(at, at), f"{_indent(source.line(number))}{words}{newline(source)}")


def inner_line(source: Source, header: Span, words: str) -> Edit:
    """A new first line of a block, indented as the line that follows the header, else by two spaces."""
    number = source.line_of(header.start)
    line = source.line(number)
    at = source.line_starts[number - 1] + len(line)
    following = source.line(number + 1) if number < len(source.line_starts) else ""
    indent = _indent(following) if following.strip() else ""
    return Edit(Span(at, at), f"{newline(source)}{indent or _indent(line) + '  '}{words}")


def draft(plan: Plan) -> Edits:
    """`state draft` in the plan block, unless it is there: nobody has signed what was changed."""
    if plan.draft:
        return ()
    beside = next((plan.places[name] for name in ("revision", "written") if name in plan.places), None)
    if beside is None:
        return (inner_line(plan.source, plan.span, "state draft"),)
    return (line_below(plan.source, beside, "state".ljust(max(len(_gap(plan.source, beside)), 6)) + "draft"),)


def _gap(source: Source, span: Span) -> str:
    """A statement's first word with the space behind it: its second column starts where this ends."""
    found = re.match(r"\S+\s+", source.text[span.start : span.end])
    return found.group() if found else ""


def newline(source: Source) -> str:
    """How the text ends its lines."""
    return "\r\n" if "\r\n" in source.text else "\n"


def _indent(line: str) -> str:
    found = _INDENT.match(line)
    return found.group() if found else ""
