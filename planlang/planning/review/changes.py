"""Each measure against its baseline, with what the measure itself is off by."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from planlang.model.diary import Entry, What
from planlang.model.plan import Baseline
from planlang.model.quantity import UNITS, Quantity
from planlang.model.records import Measure
from planlang.planning.past import Past
from planlang.planning.review.data import Change


def changes(past: Past) -> tuple[Change, ...]:
    """The measures of the baseline in the order of the file, then those that only the diary has."""
    return tuple(_changes(past))


def _changes(past: Past) -> Iterator[Change]:
    baselines = {line.measure: line for line in past.plan.today.measures}
    told: dict[str, list[Entry]] = {}
    for entry in past.diary.of(What.MEASURED):
        if entry.name and entry.value and entry.day <= past.as_of:
            told.setdefault(entry.name, []).append(entry)
    for name in dict.fromkeys((*baselines, *told)):
        yield _change(past, name, baselines.get(name), told.get(name, []))


def _change(past: Past, name: str, baseline: Baseline | None, told: list[Entry]) -> Change:
    known = past.plan.catalogue.measure(name)
    unit = _unit(baseline, told)
    start = baseline.value.value if baseline else None
    course = [(e.day, value) for e in told if (value := in_unit(e, unit)) is not None]
    to, on = (course[-1][1], course[-1][0]) if course else (None, None)
    error, source = _error(known, unit)
    first = _first_day(past)
    return Change(
        name,
        known.title if known else name,
        unit,
        start,
        to,
        on,
        error,
        source,
        known.better if known else "neither",
        None if start is None or to is None or error is None else abs(to - start) >= error,
        bool(baseline and baseline.private),
        ((first, start), *course) if start is not None and first else tuple(course),
    )


def _first_day(past: Past) -> date | None:
    return past.plan.written or past.plan.starts


def _unit(baseline: Baseline | None, told: list[Entry]) -> str:
    """The unit as people read it: `reps`, or `/10` of a rating."""
    if baseline is not None:
        return f"/{baseline.rating_of}" if baseline.rating_of else baseline.value.unit
    entry = told[-1]
    return f"/{entry.scale}" if entry.scale else (entry.value.unit if entry.value else "")


def in_unit(entry: Entry, unit: str) -> Fraction | None:
    """What was measured, in a unit; None where it is on another scale, or measures something else."""
    if entry.value is None or (f"/{entry.scale}" == unit) != unit.startswith("/"):
        return None
    if unit.startswith("/"):
        return entry.value.value
    return converted(entry.value, unit) if not entry.scale else None


def converted(value: Quantity, unit: str) -> Fraction | None:
    """A value in another unit of its dimension; None where it has another dimension."""
    if value.unit == unit:
        return value.value
    if value.dimension != UNITS[unit].dimension:
        return None
    return value.value * UNITS[value.unit].factor / UNITS[unit].factor


def _error(known: Measure | None, unit: str) -> tuple[Fraction | None, str | None]:
    """The measure's error in the unit, the larger end of a published range, and its source."""
    if known is None or known.error is None:
        return None, None
    found = known.error
    error = found.high if found.high is not None else found.low
    if unit != known.unit:
        if unit.startswith("/") or known.unit.startswith("/"):
            return None, None
        there = converted(Quantity(error, known.unit), unit)
        if there is None:
            return None, None
        error = there
    said = [found.ground.source, *([found.note] if found.note else [])]
    if found.ground.known == "memory":
        said.append("the value is from memory")
    return error, "; ".join(said)
