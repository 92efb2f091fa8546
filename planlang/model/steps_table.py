"""A table of daily steps from a device: a date and a number on each line. What could be read two ways is refused."""

from __future__ import annotations

import csv
import re
from datetime import date

from planlang.text.data import frozen
from planlang.text.finding import Finding, unreadable
from planlang.text.source import Source, Span

MOST = 200_000
"""Steps of a day; more is no walking."""
MOST_FAULTS = 20
"""Findings that are said of one table; further ones are counted."""
_ISO = re.compile(r"(\d{4}-\d{2}-\d{2})(?:[T ].*)?\Z")
_GROUPED = re.compile(r"\d{1,3}(?:([,.\u00a0\u202f' ])\d{3})(?:\1\d{3})*\Z")
_PLAIN = re.compile(r"\d+\Z")
_WHOLE = re.compile(r"(\d+)[.,]0+\Z")
_STEPS = re.compile(r"\b(?:step|steps|pas|pasos|schritte|skritt|stappen|count|value)\b", re.IGNORECASE)
_DATE = re.compile(r"\b(?:date|day|datum|fecha|dato|jour|tag)\b", re.IGNORECASE)


@frozen
class Fault:
    """What is wrong with a line, and what to do."""

    message: str
    help: str


def read_steps(source: Source) -> tuple[tuple[tuple[date, int], ...], tuple[Finding, ...]]:
    """The days of a table with the steps of each, and what can't be read, with its line of the table.

    Separated by semicolons, commas or tabs; quotes as in RFC 4180; a first line of names is found. A day that stands
    twice with two numbers is refused, as is 10.684 where nothing tells whether thousands are meant.
    """
    rows, stopped = _rows(source)
    if not rows:
        return (), (unreadable("This table holds no line.", None, source, "Write a date and a number on each line."),)
    faults: list[Finding] = []
    if stopped is not None:
        message = f"The table can't be read from line {stopped} on: a quote has no end, or a line is far too long."
        faults.append(unreadable(message, _line(source, stopped), source, "Mend that line; what follows was not read."))
    names = _names(rows[0][1])
    wanted = names or _wanted(rows)
    width = len(rows[0][1])
    if names:
        rows = rows[1:]
    if wanted is None:
        message = "This table has no column of dates with a column of steps beside it."
        help = "Write lines such as 2027-03-01,3200, or name two columns date and steps."
        return (), (unreadable(message, _line(source, 1), source, help),)
    grouping = _grouping([cells[wanted[1]] for _, cells in rows if len(cells) > max(wanted)])
    found: dict[date, int] = {}
    twice: set[date] = set()
    for number, cells in rows:
        if not any(cell.strip() for cell in cells):
            continue
        read = _day_and_steps(cells, wanted, grouping, width)
        if not isinstance(read, Fault):
            day, steps = read
            if found.setdefault(day, steps) == steps:
                continue
            twice.add(day)
            message = f"{day} stands here twice, with {found[day]} and {steps} steps; neither counts."
            read = Fault(message, "Keep the line that is right.")
        faults.append(unreadable(read.message, _line(source, number), source, read.help))
    if not found and not faults:
        message = "This table has names of columns and no day below them."
        faults.append(unreadable(message, _line(source, 1), source, "Write lines such as 2027-03-01,3200."))
    if len(faults) > MOST_FAULTS:
        left = len(faults) - MOST_FAULTS
        faults = faults[:MOST_FAULTS]
        faults.append(unreadable(f"{left} further lines can't be read.", None, source, "Mend these first."))
    return tuple(sorted((day, steps) for day, steps in found.items() if day not in twice)), tuple(faults)


def _rows(source: Source) -> tuple[list[tuple[int, list[str]]], int | None]:
    """Each line's number and cells; and the line from which on it can't be read, None where all can."""
    lines = source.text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    first = next((line for line in lines if line.strip()), "")
    separator = next((mark for mark in (";", "\t") if mark in first), ",")
    reader = csv.reader(lines, delimiter=separator)
    found: list[tuple[int, list[str]]] = []
    begins = 1
    try:
        for cells in reader:
            if cells:
                found.append((begins, cells))
            begins = reader.line_num + 1
    except csv.Error:
        return found, begins
    return found, None


def _names(cells: list[str]) -> tuple[int, int] | None:
    """The columns of dates and steps by a line of names."""
    day = next((i for i, cell in enumerate(cells) if _DATE.search(cell)), None)
    steps = next((i for i, cell in enumerate(cells) if i != day and _STEPS.search(cell)), None)
    return (day, steps) if day is not None and steps is not None else None


def _wanted(rows: list[tuple[int, list[str]]]) -> tuple[int, int] | None:
    """The same by what stands in the columns, where the table has two of them."""
    cells = rows[0][1]
    return (0, 1) if len(cells) == 2 else None


def _grouping(values: list[str]) -> str | None:
    """The mark between thousands, where one value of the column can be read in no other way."""
    for mark in (",", ".", "'", " ", "\u00a0", "\u202f"):
        if any(value.strip().count(mark) > 1 for value in values):
            return mark
    return None


def _day_and_steps(
    cells: list[str], wanted: tuple[int, int], grouping: str | None, width: int
) -> tuple[date, int] | Fault:
    """The day and its steps, or what is wrong and what to do. `width`: columns of the first line."""
    if any(cell.strip() for cell in cells[width:]):
        return Fault(
            f"This line has {len(cells)} columns, and the first has {width}: a mark in a number may have split it.",
            'Write 10684, or put the number in double quotes: "10 684".',
        )
    if len(cells) <= max(wanted):
        return Fault("A date or a number is missing on this line.", "Write it like this: 2027-03-01,3200")
    day = _day(cells[wanted[0]].strip())
    if isinstance(day, str):
        return Fault(day, "Write year-month-day: 2027-03-04. Day and month can't be told apart otherwise.")
    steps = _steps(cells[wanted[1]].strip(), grouping)
    return steps if isinstance(steps, Fault) else (day, steps)


def _day(text: str) -> date | str:
    found = _ISO.match(text)
    if found is None:
        return f"{text[:20]} is not a date that can be read in one way only."
    try:
        return date.fromisoformat(found[1])
    except ValueError:
        return f"There is no {found[1]} in the calendar."


def _steps(text: str, grouping: str | None) -> int | Fault:
    whole = _WHOLE.match(text)
    if whole and len(whole[1]) and not _GROUPED.match(text):
        return _checked(int(whole[1]), text)
    if _PLAIN.match(text):
        return _checked(int(text[:12]), text)
    grouped = _GROUPED.match(text)
    if grouped:
        mark = grouped[1]
        if mark in ",." and mark != grouping:
            plain = re.sub(r"\D", "", text)
            return Fault(
                f"{text[:20]} may be {plain}, or a number with a decimal mark.",
                f"Write {plain}, without a mark between thousands, if that is meant.",
            )
        return _checked(int(re.sub(r"\D", "", text)), text)
    return Fault(
        f"{text[:20] or 'An empty cell'} is no number of steps.",
        "Steps are counted whole: 3200. Leave days without a count out.",
    )


def _checked(steps: int, text: str) -> int | Fault:
    if steps > MOST:
        return Fault(f"{text[:20]} steps in a day are more than can be meant.", "Check the number.")
    return steps


def _line(source: Source, number: int) -> Span:
    start = source.line_starts[number - 1]
    return Span(start, start + max(1, len(source.line(number))))
