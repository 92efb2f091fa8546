"""The plan for the block after this one, as plan text: where each ladder stands now, the newest measures, unsigned.

It is the plan's own text with what has to change changed, so that comments and layout stay. What it
proposes is a draft: a clinician reads it, changes it and signs it, or writes another.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from pathlib import PurePath

from planlang.model.exercise import Exercise, Kit, Step
from planlang.model.plan import Plan, Target
from planlang.model.quantity import Quantity
from planlang.model.show import dose_text
from planlang.planning.mend.edits import Edit, applied, draft, inner_line, newline
from planlang.planning.weeks import day_of
from planlang.text.data import frozen
from planlang.text.source import Source, Span

LADDER = frozenset(("easier", "begin", "then", "rise"))
WEEK = timedelta(days=7)


@frozen
class Reached:
    """What the block before came to.

    steps: where each exercise that has begun stands now (an index; -1 the easier step). measured: the newest value of
    each measure, as it was written, with its unit. met: titles of targets that are met. as_of: the day of the review.
    """

    steps: Mapping[str, int]
    measured: Mapping[str, Quantity]
    met: frozenset[str]
    as_of: date


def next_block(plan: Plan, reached: Reached, title: str | None = None) -> str | None:
    """The text of the next block; None for a plan without a start or a length.

    It starts on the day after this plan's last week, or in the week after the review where that is later.
    """
    if plan.starts is None or plan.weeks is None:
        return None
    starts = next_start(plan, reached.as_of)
    edits = [
        *_paperwork(plan, reached.as_of, starts, title),
        *_measures(plan, reached.measured),
        *(edit for exercise in plan.exercises for edit in _ladder(plan, exercise, reached.steps.get(exercise.name))),
        *_kit(plan, reached.steps),
        *_targets(plan, reached.met, starts),
        *draft(plan),
    ]
    return applied(plan.source.text, _apart(edits))


def next_start(plan: Plan, as_of: date) -> date:
    """The first day of the next block: on the weekday of this one. Needs a plan with a start and a length."""
    assert plan.starts is not None
    assert plan.weeks is not None
    starts = plan.starts + plan.weeks * WEEK
    while starts <= as_of:
        starts += WEEK
    return starts


def _apart(edits: list[Edit]) -> list[Edit]:
    """Without those that stand inside a larger one; a place to write at may stand at its edge."""
    larger = [e.span for e in edits if e.span.end > e.span.start]
    return [e for e in edits if not any(_inside(e.span, span) for span in larger)]


def _inside(span: Span, larger: Span) -> bool:
    if span.start == span.end:
        return larger.start < span.start < larger.end
    return span != larger and larger.start <= span.start and span.end <= larger.end


def _paperwork(plan: Plan, as_of: date, starts: date, title: str | None) -> Iterator[Edit]:
    source = plan.source
    yield Edit(plan.span, f'plan "{title or following_title(plan.title)}"')
    known = plan.places
    for name, words in (
        ("starts" if "starts" in known else "starts_after", f"starts {starts}"),
        ("written", f"written {as_of}"),
        ("revision", "revision 1"),
        ("continues", f'continues "{PurePath(source.name).name}"'),
    ):
        if name in known:
            yield Edit(known[name], _aligned(source, known[name], words))
        else:
            yield inner_line(source, plan.span, _aligned(source, known.get("starts", plan.span), words))
    for away in plan.away:
        if away.last < starts:
            yield _gone(source, away.span)
    for prepare in plan.prepares:
        by = day_of(plan, prepare.by)
        if by is None or by < starts:
            yield _gone(source, prepare.span)


def following_title(title: str) -> str:
    """`Two raised beds, block 2`, and after that block 3."""
    stem, _, number = title.rpartition(", block ")
    return f"{stem}, block {int(number) + 1}" if stem and number.isdigit() else f"{title}, block 2"


def _measures(plan: Plan, measured: Mapping[str, Quantity]) -> Iterator[Edit]:
    for line in plan.today.measures:
        newest = measured.get(line.measure)
        if newest is None:
            continue
        scale = f"/{line.rating_of}" if line.rating_of else ""
        said = f"{Quantity(newest.value)}{scale}" if scale or not newest.unit else str(newest)
        private = " private" if line.private else ""
        words = f"{line.measure} {said}{private}"
        yield Edit(line.span, _aligned(plan.source, line.span, words))


def _ladder(plan: Plan, exercise: Exercise, step: int | None) -> Iterator[Edit]:
    """The ladder from the step that it stands at; the step before is the easier one."""
    if step is None or not _moves(exercise, step):
        return
    source, now, before = plan.source, exercise.steps[step], exercise.steps[step - 1]
    begin = exercise.places["begin"]
    yield Edit(begin, _aligned(source, begin, f"begin {_dose(now)}{_for_weeks(now)}"))
    easier = f"easier {_dose(before)}"
    if exercise.easier is not None:
        yield Edit(exercise.easier.span, _aligned(source, exercise.easier.span, easier))
    elif not exercise.daily and not exercise.weekly:
        yield Edit(
            Span(begin.start, begin.start), _aligned(source, begin, easier) + newline(source) + _margin(source, begin)
        )
    if exercise.rise is None:
        for lower in exercise.steps[1 : step + 1]:
            yield _gone(source, lower.span)
    elif step == len(exercise.steps) - 1:
        words = 'stay on this step because "the aim of the block before is reached"'
        yield Edit(exercise.rise.span, words)


def _kit(plan: Plan, steps: Mapping[str, int]) -> Iterator[Edit]:
    """What is needed from a step on, counted on the steps that are left; a session's on its first exercise's."""
    needed = [(exercise.kit, exercise) for exercise in plan.exercises]
    needed += [
        (session.kit, first) for session in plan.sessions if session.do and (first := plan.exercise(session.do[0]))
    ]
    for items, exercise in needed:
        step = steps.get(exercise.name)
        if step is None or not _moves(exercise, step):
            continue
        for span in dict.fromkeys(item.span for item in items if item.from_step):
            line = [_needed(item, step) for item in items if item.span == span]
            yield Edit(span, _aligned(plan.source, span, f"kit {', '.join(line)}"))


def _needed(item: Kit, step: int) -> str:
    left = (item.from_step or 1) - step
    return f'"{item.text}"' + (f" from step {left}" if left > 1 else "")


def _moves(exercise: Exercise, step: int) -> bool:
    """Whether its ladder begins on another step than it did."""
    return 1 <= step < len(exercise.steps) and _whole(exercise)


def _whole(exercise: Exercise) -> bool:
    """Whether the ladder can be written down from any step on."""
    return "begin" in exercise.places and not any(step.dose.to_be_set for step in exercise.steps)


def _dose(step: Step) -> str:
    variant = f' "{step.dose.variant}"' if step.dose.variant else ""
    return dose_text(step.dose) + variant


def _for_weeks(step: Step) -> str:
    return f" for {step.weeks} {'week' if step.weeks == 1 else 'weeks'}" if step.weeks else ""


def _targets(plan: Plan, met: frozenset[str], starts: date) -> Iterator[Edit]:
    """Targets that are met go; the others, and the goal, get a date in the new block where theirs is past."""
    last = f"by week {plan.weeks or 1}"
    goal_by = day_of(plan, plan.goal.by) if plan.goal else None
    ends = starts + (plan.weeks or 1) * WEEK
    if plan.goal and "by_when" in plan.goal.places and (goal_by is None or goal_by < starts):
        yield Edit(plan.goal.places["by_when"], _aligned(plan.source, plan.goal.places["by_when"], last))
    elif goal_by is not None and goal_by < ends:
        last = f"by {goal_by}"
    for target in plan.targets:
        if target.title in met:
            yield _block_gone(plan, target)
            continue
        by, place = day_of(plan, target.by), target.places.get("by_when")
        if place is not None and (by is None or by < starts):
            yield Edit(place, _aligned(plan.source, place, last))


def _block_gone(plan: Plan, target: Target) -> Edit:
    """The lines of a target's block, up to the last that belongs to it."""
    ends = max([target.span, *target.places.values()], key=lambda span: span.end)
    return _gone(plan.source, Span(target.span.start, ends.end))


def _gone(source: Source, span: Span) -> Edit:
    """Whole lines taken out, with the line end behind them."""
    first, last = source.line_of(span.start), source.line_of(max(span.start, span.end - 1))
    starts = source.line_starts
    end = starts[last] if last < len(starts) else len(source.text)
    return Edit(Span(starts[first - 1], end), "")


def _aligned(source: Source, span: Span, words: str) -> str:
    """A statement's words with the second word where it stood in the statement that they replace."""
    first, _, rest = words.partition(" ")
    old = source.text[span.start : span.end]
    gap = len(old) - len(old.split(None, 1)[1]) if len(old.split(None, 1)) > 1 else 0
    return f"{first.ljust(max(gap - 1, 0))} {rest}"


def _margin(source: Source, span: Span) -> str:
    """What stands before a statement on its line."""
    line = source.line_starts[source.line_of(span.start) - 1]
    return source.text[line : span.start]
