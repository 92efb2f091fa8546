"""The known mistake, if it is one, at the place where reading a line stopped."""

from __future__ import annotations

import re
from re import Match

from planlang.syntax.mistakes import amounts, diaries, marks, people, times
from planlang.syntax.mistakes.row import CLOSE, INSIDE, OPEN, Mistake, Row, fill
from planlang.syntax.recover import Fault
from planlang.text.source import Span

ROWS: tuple[Row, ...] = (
    *marks.FIRST,
    *diaries.LINES,
    *people.CODES,
    *times.DATES,
    *amounts.NUMBERS,
    *amounts.DOSES,
    *times.OFTEN,
    *times.DAYS,
    *amounts.ELSEWHERE,
    *people.NAMES,
    *amounts.UNITS,
    *marks.LAST,
)
"""Every known mistake. The first that fits is named."""

WIDEST = 200
"""How far a mistake may reach from the place where reading stopped."""

_QUOTED_OR_REMARK = re.compile(r'"([^"\n]*)"|#[^\n]*')


def recognise(fault: Fault, known_start: bool, near: bool, header: str | None, text: str) -> Mistake | None:
    """The known mistake in a line that can't be read, or None.

    `known_start`: the line starts with a word that a line there can start with; if not, only mistakes
    of its beginning and of its characters are looked for. `near`: the word found there is one of the
    language's, or like one that could stand there.
    """
    line = _masked(text[fault.start : fault.end])
    stop = min(fault.stop, fault.end) - fault.start
    if '"' in line:
        return _one_quote(fault, line, stop)
    low = max(0, stop - WIDEST)
    around = line[low : stop + WIDEST]
    for row in ROWS:
        if (row.blocks and (header or "") not in row.blocks) or (row.expects and row.expects not in fault.expected):
            continue
        if row.start:
            match = row.looks.match(line[:WIDEST])
            if match and stop <= match.end():
                return _said(row, match, fault.start)
        elif (known_start or row.always) and not (near and row.unless_near):
            match = _at(row, around, stop - low)
            if match:
                return _said(row, match, fault.start + low)
    return None


def _at(row: Row, around: str, stop: int) -> Match[str] | None:
    """The mistake that begins at the stop, or that reaches to it or over it."""
    if row.at_stop:
        return row.looks.match(around, stop)
    every = row.looks.finditer(around)
    return next((m for m in every if m.group().strip() and m.start() <= stop <= m.end()), None)


def _masked(line: str) -> str:
    """The line with its quoted texts blotted out and without its remark, so that neither is taken for a mistake."""
    return _QUOTED_OR_REMARK.sub(_blot, line).rstrip()


def _blot(match: Match[str]) -> str:
    if match[0][0] == "#":
        return " " * len(match[0])
    return f"{OPEN}{INSIDE * len(match[1])}{CLOSE}"


def _one_quote(fault: Fault, line: str, stop: int) -> Mistake:
    at = line.index('"')
    if at <= stop:
        message, help = "The text that starts here has no end.", 'Write " where it ends, on the same line.'
        if re.search(r"\d\s*$", line[:at]):
            help = f"{help} If inches are meant, write inch."
    else:
        message, help = "The text that ends here has no beginning.", 'Write " where it begins.'
    return Mistake("missing-quote", message, help, Span(fault.start + at, fault.start + at + 1))


def _said(row: Row, match: Match[str], offset: int) -> Mistake:
    whole = match.group()
    start = offset + match.start() + len(whole) - len(whole.lstrip())
    return Mistake(row.name, fill(row.message, match), fill(row.help, match), Span(start, start + len(whole.strip())))
