"""What makes a finding with a number go: the number that it is about, changed as little as will do.

Each `Knob` is one number of the plan and the values it may take, the smallest change first. Only numbers
that a clinician decides are turned; what was measured, asked or felt is never touched.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from attrs import evolve

from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.model.quantity import Quantity, number_text
from planlang.planning.mend.edits import Edit, Edits, inner_line, line_above, line_below, replaced
from planlang.planning.mend.grain import AMOUNT, grain, smaller
from planlang.planning.mend.proving import Lints, block_line
from planlang.planning.wording import counted
from planlang.text.data import frozen
from planlang.text.finding import Finding
from planlang.text.source import Span

MOST_VALUES = 128
MOST_BETWEEN = 6  # steps put between two
LATEST_START = 12  # weeks of work before a start
MOST_EASING = 4
NOT_NUMBERS = frozenset({"unreadable", "contradiction", "state-draft", "pause-all", "unknown-word"})


@frozen
class Knob:
    """One number and the changes of it, smallest first. harder: they ask more of the person."""

    kind: str
    harder: bool
    changes: tuple[Edits, ...]


def has_number(finding: Finding) -> bool:
    """True for a finding that a number may mend."""
    return finding.rule not in NOT_NUMBERS and finding.waived is None and any(c.isdigit() for c in finding.message)


def smallest(lints: Lints, knob: Knob, finding: Finding) -> Edits | None:
    """The smallest change of a knob after which the finding is gone and nothing new is found.

    Where the largest change doesn't do, none is tried; between, halving finds the first that does.
    """
    if not knob.changes or not lints.gone(knob.changes[-1], finding):
        return None
    low, high = 0, len(knob.changes) - 1
    while low < high:
        middle = (low + high) // 2
        if lints.gone(knob.changes[middle], finding):
            high = middle
        else:
            low = middle + 1
    return knob.changes[high] if lints.brings_nothing_new(knob.changes[high]) else None


def knobs(plan: Plan, finding: Finding) -> Iterator[Knob]:
    """The numbers in the block that a finding stands in."""
    if finding.span is None:
        return
    here = block_line(plan.source, finding.span.start)

    def is_here(span: Span) -> bool:
        return block_line(plan.source, span.start) == here

    for exercise in plan.exercises:
        if is_here(exercise.span):
            yield from _of_exercise(plan, exercise, finding.span)
    if (plan.rest is not None and is_here(plan.rest.span)) or is_here(plan.span):
        yield from _of_rest(plan, finding)
    yield from _earlier_review(plan, finding.span)
    for session in plan.sessions:
        if is_here(session.span):
            yield from _minutes(plan, session.places.get("at_times"), session.minutes)


def _of_exercise(plan: Plan, exercise: Exercise, span: Span) -> Iterator[Knob]:
    source, rise = plan.source, exercise.rise
    if rise is not None:
        place = exercise.places.get("rise")
        yield _knob("gentler rise", [replaced(source, place, AMOUNT, number_text(v)) for v in smaller(rise.amount)])
    yield from _between(plan, exercise, span)
    yield from _lower_begin(plan, exercise)
    yield from _later_start(plan, exercise)


def _lower_begin(plan: Plan, exercise: Exercise) -> Iterator[Knob]:
    """A daily or weekly amount that begins lower."""
    size = exercise.steps[0].dose.size if exercise.steps else None
    if size is None or not exercise.activity or len(size.amounts) != 1:
        return
    place, amount = exercise.places.get("begin"), Quantity(size.amounts[0].low, size.unit)
    yield _knob("lower start", [replaced(plan.source, place, AMOUNT, number_text(v)) for v in smaller(amount)])


def _later_start(plan: Plan, exercise: Exercise) -> Iterator[Knob]:
    """A start after more weeks of the work that it waits for; of strength where nothing is said."""
    start, source = exercise.start, plan.source
    if start is not None and start.weeks is not None:
        weeks = range(start.weeks + 1, LATEST_START + 1)
        place = exercise.places.get("start_after")
        yield _knob(
            "later start", [replaced(source, place, r"after\s+(\d+\s+weeks?)", counted(n, "week")) for n in weeks]
        )
    elif start is None and exercise.activity and any(e.kind == "strength" for e in plan.exercises):
        below = max(exercise.places.values(), key=lambda s: s.start, default=exercise.span)
        lines = [f"start after {counted(n, 'week')} of strength" for n in range(1, LATEST_START + 1)]
        yield _knob("later start", [line_below(source, below, words) for words in lines])


def _between(plan: Plan, exercise: Exercise, span: Span) -> Iterator[Knob]:
    """Steps put between two that differ in one number, as many as it takes."""
    steps = exercise.steps
    for one, other in pairwise(steps):
        if exercise.rise is not None or not other.span.start <= span.start < max(other.span.end, other.span.start + 1):
            continue
        found = _differing(one.dose, other.dose)
        if found is None:
            continue
        low, high = found
        changes: list[Edit | None] = []
        for count in range(1, MOST_BETWEEN + 1):
            values = _evenly(low, high, count)
            written = [_step_line(plan, other.span, high, value) for value in values]
            if len(set(values)) == count and None not in written:
                above = [line_above(plan.source, other.span.start, words) for words in written if words]
                changes.append(Edit(above[0].span, "".join(edit.text for edit in above)))
        yield _knob("steps between", changes)


def _differing(one: Dose, other: Dose) -> tuple[Quantity, Quantity] | None:
    """The one number in which two doses differ upwards: an amount of one size, or a load."""
    if one.size and other.size and len(one.size.amounts) == len(other.size.amounts) == 1:
        alike = evolve(other, size=evolve(other.size, amounts=one.size.amounts), span=one.span)
        if alike == one and one.size.unit == other.size.unit:
            return _upwards(one.size.amounts[0].low, other.size.amounts[0].low, one.size.unit)
    if one.load and other.load and evolve(other, load=one.load) == one and one.load.unit == other.load.unit:
        return _upwards(one.load.amount.low, other.load.amount.low, one.load.unit)
    return None


def _upwards(low: Fraction, high: Fraction, unit: str) -> tuple[Quantity, Quantity] | None:
    return (Quantity(low, unit), Quantity(high, unit)) if low < high else None


def _evenly(low: Quantity, high: Quantity, count: int) -> list[Fraction]:
    """So many values between two, as even as what people write allows."""
    by = min(grain(low), grain(high))
    return [by * round((low.value + (high.value - low.value) * n / (count + 1)) / by) for n in range(1, count + 1)]


def _step_line(plan: Plan, span: Span, written: Quantity, value: Fraction) -> str | None:
    """The line of a step with another number in it."""
    words = number_text(written.value)
    edit = replaced(plan.source, span, rf"(?<![\d.])({words})(?![\d.])", number_text(value))
    if edit is None:
        return None
    at, line = edit.span.start - span.start, plan.source.text[span.start : span.end]
    return line[:at] + edit.text + line[at + len(words) :]


def _of_rest(plan: Plan, finding: Finding) -> Iterator[Knob]:
    rest, source, weeks = plan.rest, plan.source, plan.weeks or 0
    place = rest.places.get("room") if rest else None
    most = max(plan.room + 1, weeks // 2)
    rooms = [counted(n, "week") for n in range(plan.room + 1, most + 1)]
    if place is not None:
        yield _knob("more room", [replaced(source, place, r"for\s+(\d+\s+weeks?)", words) for words in rooms])
        fewer = [counted(n, "week") for n in range(plan.room - 1, -1, -1)]
        yield _knob(
            "less room", [replaced(source, place, r"for\s+(\d+\s+weeks?)", words) for words in fewer], harder=True
        )
        longer = range(weeks + 1, weeks + 53)
        lasts = plan.places.get("lasts")
        yield _knob("more weeks", [replaced(source, lasts, r"(\d+)\s+weeks?", str(n)) for n in longer])
    elif rest is not None:
        yield _knob("more room", [inner_line(source, rest.span, f"room for {words}") for words in rooms])
    yield from _more_easing(plan)


def _more_easing(plan: Plan) -> Iterator[Knob]:
    """A return that eases, where one doesn't."""
    place = plan.rest.places.get("return_same") if plan.rest else None
    easings = [f"1 step lower for {counted(n, 'week')}" for n in range(1, MOST_EASING + 1)]
    yield _knob(
        "more easing", [replaced(plan.source, place, r"(at\s+the\s+same\s+steps?)", words) for words in easings]
    )


def _earlier_review(plan: Plan, span: Span) -> Iterator[Knob]:
    """A review that comes sooner, where the finding is about its line."""
    for review in plan.reviews:
        if review.span.start != span.start:
            continue
        first = review.every_weeks or (review.at[0].week if review.at else None) or 1
        sooner = [str(n) for n in range(first - 1, 0, -1)]
        yield _knob(
            "earlier review", [replaced(plan.source, review.span, r"(?:every|week)\s+(\d+)", n) for n in sooner]
        )


def _minutes(plan: Plan, place: Span | None, minutes: Fraction | None) -> Iterator[Knob]:
    """A slot long enough for what is done in it."""
    if minutes is None:
        return
    longer = [number_text(minutes + n) for n in range(1, MOST_VALUES + 1)]
    yield _knob(
        "longer slot", [replaced(plan.source, place, r"for\s+(\d+(?:\.\d+)?)\s*min", words) for words in longer]
    )


def _knob(kind: str, changes: list[Edit | None], harder: bool = False) -> Knob:
    """A knob of the changes that can be written."""
    kept = [(edit,) for edit in changes[:MOST_VALUES] if edit is not None]
    return Knob(kind, harder, tuple(kept))
