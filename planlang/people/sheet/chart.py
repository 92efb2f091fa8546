"""A ladder as a small staircase: the step of this week filled, the rest in outline, each with its dose beside it."""

from __future__ import annotations

from textwrap import wrap

from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.say import dose_words, name_text
from planlang.people.drawing import Drawing
from planlang.people.sheet.blocks import Figure
from planlang.people.sheet.pieces import left_to_right
from planlang.planning.week import Done
from planlang.text.data import frozen
from planlang.text.languages.line import Line, joined
from planlang.text.languages.words import Words

WIDTH = 400
STAIRS = 130  # of the width
MOST = 5  # steps drawn; of a longer ladder the first, the last, and those about this week's
LETTER = 0.56  # of the size: the mean width of a letter
POINTS = {False: 18.67, True: 24.0}  # 14 and 18 points, in CSS pixels (CSS Values 4: 1pt is 1/72 inch, 96 px)


@frozen
class Stair:
    """One row of the picture: a step (index), or how many steps are left out between two."""

    step: int | None
    words: Line


def chart(exercise: Exercise, done: Done, words: Words, number: int, large: bool = False) -> Figure:
    """The picture and its words. `number` tells it apart from other pictures on the page."""
    rows = _rows(exercise, done, words)
    name = words.plan(name_text(exercise.name).lower())
    title = words.say("chart.title", what=name)
    now = done.step
    shown = (
        words.say("chart.now", dose=row.words) if row.step == now and now is not None else row.words for row in rows
    )
    alt = title + ". " + words.say("chart.alt", steps=joined("; ", shown))
    return Figure(_drawn(rows, now, title, alt, words, number, POINTS[large]), alt, WIDTH)


def _rows(exercise: Exercise, done: Done, words: Words) -> list[Stair]:
    """The steps drawn, from the first up."""
    last = len(exercise.steps) - 1
    now = min(max(done.step or 0, 0), last)
    drawn = set(range(last + 1))
    if last + 1 > MOST:
        drawn = {0, last, *(n for n in (now - 1, now, now + 1, now + 2) if 0 <= n <= last)}
    rows: list[Stair] = []
    before = -1
    for step in sorted(drawn):
        if step > before + 1:
            rows.append(Stair(None, words.say("chart.between", n=step - before - 1)))
        rows.append(Stair(step, _dose(exercise, step, words)))
        before = step
    return rows


def _dose(exercise: Exercise, step: int, words: Words) -> Line:
    dose: Dose = exercise.steps[step].dose
    said = [dose_words(dose, words)]
    if dose.variant and (step == 0 or dose.variant != exercise.steps[step - 1].dose.variant):
        said.append(words.plan(dose.variant))
    return joined(", ", said)


def _drawn(rows: list[Stair], now: int | None, title: Line, alt: Line, words: Words, number: int, size: float) -> str:
    draw = Drawing(WIDTH, title, alt, name=f"steps-{number}", rtl=words.direction == "rtl", inline=True)
    columns = int((WIDTH - STAIRS - 24) / (size * LETTER))
    width = (STAIRS - 16) / len(rows)
    lines = [wrap(row.words, columns) or [""] for row in rows]
    heights = [size * (1.25 * len(one) + 0.35) for one in lines]
    base = sum(heights) + 4
    y = base
    for i, (row, said, height) in enumerate(zip(rows, lines, heights, strict=True)):
        y -= height
        here = row.step is not None and row.step == now
        if row.step is not None:
            draw.box(8, y, width * (i + 1), height, fill="#000" if here else "#fff")
        left = left_to_right(row.words, words.direction)
        for n, text in enumerate(said):
            draw.text(STAIRS + 16, y + size * (1.25 * (n + 1) - 0.1), text, size=size, bold=here, ltr=left)
        if here:
            draw.text(STAIRS - 2, y + size * 1.15, "\u25c0" if words.direction == "ltr" else "\u25b6", size=size)
    return draw.finished(base + 4)
