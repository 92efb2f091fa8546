"""A ladder week by week: how it was done so far, and how the plan has it go on."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from planlang.model.plan import Plan
from planlang.model.show import dose_text
from planlang.people.drawing import Drawing, Point, joined
from planlang.people.review.frame import SMALL, WIDTH, Across, hatched
from planlang.planning.review.data import ExerciseStands, Review
from planlang.planning.review.wording import step_text
from planlang.planning.week import WeekKind

LEFT, TOP, STEP = 206.0, 8.0, 18.0
MOST = 8
"""Steps that are written beside their lines; of a longer ladder every second, third ... one."""


def ladder_chart(review: Review, one: ExerciseStands, place: int) -> str:
    """The picture of one exercise. place: tells it apart from others on the page."""
    plan = review.past.plan
    draw = Drawing(WIDTH, f"Steps of {one.next.name} by week", _said(review, one), name=f"steps-{place}", inline=True)
    weeks = review.past.weeks.weeks
    across = Across(len(weeks), LEFT)
    low = min([0, *(s for s in one.weeks if s is not None)])
    step = STEP if one.steps <= MOST else STEP * MOST / one.steps
    base = TOP + step * (one.steps - low)

    def high(of: int) -> float:
        return base - step * (of - low + 0.5)

    for n, week in enumerate(weeks):
        if week.kind is WeekKind.REST:
            hatched(draw, across.at(n) + 1, TOP, across.week - 2, base - TOP)
    every = -(-one.steps // MOST)
    for of in range(low, one.steps):
        if of < 0 or of % every == 0 or of == one.steps - 1:
            draw.line(LEFT, high(of), across.end, high(of), thick=0.5, dashes="1 3")
            draw.text(LEFT - 8, high(of) + 4, _label(plan, one, of), size=SMALL, end=True)
    begun = [week.starts <= review.as_of for week in weeks]
    _line(draw, across, [s if b else None for s, b in zip(one.weeks, begun, strict=True)], high)
    _line(draw, across, [None if b else s for s, b in zip(one.weeks, begun, strict=True)], high, ahead=True)
    draw.line(LEFT, base, across.end, base)
    across.numbers(draw, base + 16)
    draw.text(LEFT - 8, base + 16, "week", size=SMALL, end=True)
    return draw.finished(base + 24)


def _line(
    draw: Drawing, across: Across, steps: Sequence[int | None], high: Callable[[int], float], ahead: bool = False
) -> None:
    """One stroke a week, joined where weeks follow one another."""
    run: list[Point] = []
    for n, step in enumerate([*steps, None]):
        if step is not None:
            y = high(step)
            run += [(across.at(n), y), (across.at(n + 1), y)]
        elif run:
            draw.path(joined(run), thick=2.6, dashes="5 3" if ahead else "")
            run = []


def _label(plan: Plan, one: ExerciseStands, step: int) -> str:
    exercise = plan.exercise(one.next.name)
    at = None if exercise is None else exercise.easier if step < 0 else exercise.steps[step]
    words = f"{step + 1}  {dose_text(at.dose) if at else ''}"
    return words if len(words) <= 27 else words[:26].rstrip() + "…"


def _said(review: Review, one: ExerciseStands) -> str:
    """The same in words, a run of weeks on one step at a time."""
    runs: list[tuple[int, int, int | None]] = []
    for number, step in enumerate(one.weeks, 1):
        if runs and runs[-1][2] == step:
            runs[-1] = runs[-1][0], number, step
        else:
            runs.append((number, number, step))
    said = []
    for first, last, step in runs:
        weeks = f"week {first}" if first == last else f"weeks {first} to {last}"
        said.append(f"{weeks} {step_text(step) if step is not None else 'none'}")
    return f"{', '.join(said)}. From week {review.past.first_open_week} on as the plan has it."
