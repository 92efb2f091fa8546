"""A line that can't be read, explained: where reading stopped, what could stand there, what was most likely meant."""

from __future__ import annotations

from planlang.syntax.nodes import Unread
from planlang.syntax.recover import Fault
from planlang.text.finding import Finding, unreadable
from planlang.text.source import Source, Span


def explain(fault: Fault, unread: Unread, header: str | None, text: str, source: Source) -> Finding:
    """The one finding for a line that can't be read. `header`: the block it stands in, if any."""
    stop = min(fault.stop, fault.end)
    word = text[stop : fault.end].split()[0] if text[stop : fault.end].strip() else ""
    span = Span(stop, stop + len(word)) if word else unread.span
    return unreadable(f"This line can't be read from here on: {word or 'something is missing at its end'}.", span, source)


def out_of_place(line: object, header: str | None, text: str, source: Source) -> Finding:
    """A line that is read but stands in a block where it can't: a keyword of another block, or a misspelled one."""
    raise AssertionError
