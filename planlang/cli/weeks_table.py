"""A reckoned plan as a table that fits a terminal."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from textwrap import wrap
from typing import Any

from attrs import evolve

from planlang.cli.console import many
from planlang.model.dose import Dose
from planlang.model.quantity import number_text
from planlang.model.show import dose_text
from planlang.planning.week import Done, Week, WeekKind, Weeks
from planlang.planning.weeks import day_of, review_days
from planlang.report.quoting import columns, visible
from planlang.text.data import frozen

GAP = 2
WIDEST_CELL = 24
NARROWEST_HEAD = 9
NARROWEST_TABLE = 20
_TOGETHER = re.compile(r"(?<=\d) (?=[a-z%(])|(?<=each) (?=side)")
MARKS = {
    "e": "(e) easier after rest, by one step or more",
    "l": "(l) lighter week",
    "g": "(g) gently, little and often",
}


@frozen
class Column:
    """A head and one text a week, with the width they are given."""

    head: str
    cells: tuple[str, ...]
    width: int
    right: bool = False

    def lines(self, text: str) -> list[str]:
        """The text in lines of this width, each filled up."""
        lines = wrap(_kept(text), self.width) or [""]
        return [_filled(line.replace("\N{NO-BREAK SPACE}", " "), self.width, self.right) for line in lines]


def table(weeks: Weeks, width: int) -> str:
    """The weeks in one table, or in several below each other where one would be wider than `width` columns."""
    lines = [*_heading(weeks, width), ""]
    first, counted = _first_columns(weeks)
    if width - _taken([*first, *counted]) < NARROWEST_TABLE:
        counted = []
    cells = [_column(name, weeks) for name in _names(weeks)]
    used = {mark for column in cells for mark in MARKS if any(f"({mark})" in cell for cell in column.cells)}
    for i, block in enumerate(_blocks(first, counted, cells, width)):
        lines += [*_block([*first, *(() if i else counted), *block]), ""]
    lines += _gently(weeks, width)
    if used:
        lines += [*(MARKS[mark] for mark in MARKS if mark in used), ""]
    lines += _dates(weeks, width)
    return "\n".join(lines) + "\n"


def _heading(weeks: Weeks, width: int) -> Iterator[str]:
    plan = weeks.plan
    yield from wrap(visible(plan.title), width)
    kinds = [week.kind for week in weeks.weeks]
    said = f"{many(len(kinds), 'week')} from {day(weeks.weeks[0].starts)} {weeks.weeks[0].starts.year}"
    parts = [many(kinds.count(WeekKind.TRAINING), "training week")]
    for kind, noun in ((WeekKind.REST, "easier week"), (WeekKind.AWAY, "week"), (WeekKind.SPARE, "spare week")):
        if kinds.count(kind):
            parts.append(many(kinds.count(kind), noun) + (" away" if kind is WeekKind.AWAY else ""))
    parts.append(f"room for {many(plan.room, 'easier week')}")
    yield from wrap(f"{said}: {', '.join(parts)}.", width)
    yield from wrap(totals(weeks), width)
    if weeks.dropped:
        yield from wrap(f"{many(weeks.dropped, 'training week')} no longer fit: the dates need to move.", width)


def totals(weeks: Weeks) -> str:
    """`36 sessions in 12 training weeks, 6 more if no easier week is needed.`"""
    trained = [week for week in weeks.weeks if week.kind is WeekKind.TRAINING]
    spare = [week for week in weeks.weeks if week.kind is WeekKind.SPARE]
    planned, more = (sum(s.count for week in some for s in week.sittings) for some in (trained, spare))
    said = f"{many(planned, 'session')} in {many(len(trained), 'training week')}"
    return f"{said}, {more} more if no easier week is needed." if more else f"{said}."


def day(when: date) -> str:
    """`1 Mar`."""
    return f"{when.day} {when:%b}"


def _names(weeks: Weeks) -> list[str]:
    """Exercises and activities in the order of the file; not what only easier weeks hold."""
    done = {n for week in weeks.weeks for n, d in (week.exercises | week.activities).items() if not d.gentle}
    return [exercise.name for exercise in weeks.plan.exercises if exercise.name in done]


def _gently(weeks: Weeks, width: int) -> list[str]:
    """What goes on in easier weeks, said once: it is the same in each."""
    done = {n: d for week in weeks.weeks for n, d in week.exercises.items() if d.gentle}
    if not done:
        return []
    said = "; ".join(f"{name} {dose_text(d.dose, weeks.plan.today, name)}" for name, d in done.items())
    return wrap(visible(f"In easier weeks, gently: {said}."), width)


def _first_columns(weeks: Weeks) -> tuple[list[Column], list[Column]]:
    """Those that every block begins with, and those that only the first one holds."""
    many_sessions = [str(sum(s.count for s in week.sittings) or "") for week in weeks.weeks]
    minutes = [number_text(week.minutes) if week.minutes else "" for week in weeks.weeks]
    first = [
        _made("week", [str(week.number) for week in weeks.weeks], right=True),
        _made("from", [day(week.starts) for week in weeks.weeks], right=True),
        _made("kind", [_kind(week) for week in weeks.weeks]),
    ]
    counted = [_made(h, c, right=True) for h, c in (("times", many_sessions), ("min", minutes)) if any(c)]
    return first, counted


def _kind(week: Week) -> str:
    words = {WeekKind.REST: "easier", WeekKind.AWAY: "away", WeekKind.SPARE: "spare"}
    return words.get(week.kind) or f"train {week.training_week}"


def _column(name: str, weeks: Weeks) -> Column:
    all_done = (week.exercises.get(name) or week.activities.get(name) for week in weeks.weeks)
    done = [None if one is None or one.gentle else one for one in all_done]
    shared, short = _shared([one for one in done if one])
    cells, reached = [], 0
    for one in done:
        if one and one.own and one.step is not None:
            reached = one.step
        cells.append(_cell(one, reached, short, weeks))
    return _made(f"{name}, {shared}" if shared else name, cells)


def _shared(done: Sequence[Done]) -> tuple[str, Callable[[Dose], Dose]]:
    """What every dose of a column says alike, said in its head instead; and a dose without it."""
    if not done:
        return "", lambda dose: dose
    said: list[str] = []
    without: dict[str, Any] = {}
    if all(one.dose.each_side for one in done):
        said.append("each side")
        without["each_side"] = False
    bands = {one.dose.band for one in done}
    if len(bands) == 1 and None not in bands:
        said.append(f'"{bands.pop()}"')
        without["band"] = None
    units = {one.dose.size.unit for one in done if one.dose.size}
    if (
        len(units) == 1
        and "/" in (unit := units.pop())
        and not any(one.dose.size.bout for one in done if one.dose.size)
    ):
        said.append(unit)
        return ", ".join(said), lambda dose: _unitless(evolve(dose, **without), unit)
    return ", ".join(said), lambda dose: evolve(dose, **without)


def _unitless(dose: Dose, unit: str) -> Dose:
    size = dose.size
    return evolve(dose, size=evolve(size, unit="")) if size and size.unit == unit else dose


def _cell(done: Done | None, reached: int, short: Callable[[Dose], Dose], weeks: Weeks) -> str:
    """The dose with its marks; on the only step there is, nothing is easier."""
    if done is None:
        return ""
    lower = done.step is not None and done.step < reached
    marks = [
        mark for mark, on in (("e", done.easing and lower), ("l", done.lighter and lower), ("g", done.gentle)) if on
    ]
    text = dose_text(short(done.dose), weeks.plan.today, done.name)
    return visible(" ".join([text.strip(), *(f"({mark})" for mark in marks)]))


def _made(head: str, cells: Sequence[str], right: bool = False) -> Column:
    """A column as wide as its cells where they are short; no narrower than its longest word."""
    words = [columns(part) for text in (head, *cells) for part in wrap(_kept(text), 1, break_long_words=False)]
    widest = max([columns(cell) for cell in cells] + [0])
    return Column(
        head, tuple(cells), max([min(widest, WIDEST_CELL), min(columns(head), NARROWEST_HEAD), *words]), right
    )


def _kept(text: str) -> str:
    """Text in which a number stays with its unit when a line is broken."""
    return _TOGETHER.sub("\N{NO-BREAK SPACE}", text)


def _blocks(
    first: Sequence[Column], counted: Sequence[Column], cells: Sequence[Column], width: int
) -> Iterator[list[Column]]:
    """As many columns side by side as fit; never none."""
    room = width - _taken([*first, *counted])
    block: list[Column] = []
    for wanted in cells:
        column = _narrower(wanted, room - GAP)
        if block and _taken(block) + GAP + column.width + GAP > room:
            yield block
            block = []
            room = width - _taken(first)
            column = _narrower(wanted, room - GAP)
        block.append(column)
    if block or not cells:
        yield block


def _taken(some: Sequence[Column]) -> int:
    return sum(column.width for column in some) + GAP * (len(some) - 1)


def _narrower(column: Column, room: int) -> Column:
    return column if column.width <= room else Column(column.head, column.cells, max(room, 4), column.right)


def _block(block: Sequence[Column]) -> Iterator[str]:
    yield from _row([(column, column.head) for column in block], bottom=True)
    yield (" " * GAP).join("-" * column.width for column in block)
    for i in range(len(block[0].cells)):
        yield from _row([(column, column.cells[i]) for column in block])


def _row(cells: Sequence[tuple[Column, str]], bottom: bool = False) -> Iterator[str]:
    split = [column.lines(text) for column, text in cells]
    height = max(len(lines) for lines in split)
    for (column, _), lines in zip(cells, split, strict=True):
        empty = [" " * column.width] * (height - len(lines))
        lines[:] = [*empty, *lines] if bottom else [*lines, *empty]
    for i in range(height):
        yield (" " * GAP).join(lines[i] for lines in split).rstrip()


def _filled(text: str, width: int, right: bool) -> str:
    space = " " * max(0, width - columns(text))
    return space + text if right else text + space


def _dates(weeks: Weeks, width: int) -> Iterator[str]:
    plan = weeks.plan
    marked = [(day_of(plan, target.by), "target", target.title) for target in plan.targets]
    if plan.goal:
        marked.append((day_of(plan, plan.goal.by), "goal", plan.goal.title))
    dated = sorted((when, kind, title) for when, kind, title in marked if when)
    for when, kind, title in dated:
        number = (when - weeks.weeks[0].starts).days // 7 + 1
        week = f"week {number}" if 1 <= number <= len(weeks.weeks) else "after"
        head = f"{day(when)} {when.year}".rjust(11) + f"  {week.ljust(8)}  {kind.ljust(6)}  "
        yield from wrap(
            visible(title), max(width, len(head) + 10), initial_indent=head, subsequent_indent=" " * len(head)
        )
    reviews = review_days(plan)
    if reviews:
        said = "reviews: " + ", ".join(f"{day(when)} {when.year}" for when in reviews)
        yield from wrap(said, width, subsequent_indent="  ")
