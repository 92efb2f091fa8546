"""How to do each: the exercises of this week and of an easier one, with their steps as a small picture."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.model.exercise import Exercise
from planlang.model.say import name_text
from planlang.people.sheet.blocks import Block, Items, Para, Section
from planlang.people.sheet.chart import chart
from planlang.planning.telling.telling import Telling
from planlang.planning.week import Done, Week, WeekKind
from planlang.text.languages.line import Line


def exercises(telling: Telling, eased: Telling, week: Week, large: bool) -> Iterator[Block]:
    """A section for each exercise and activity of the week, then those that only a flare brings."""
    now = {**week.exercises, **week.activities}
    resting = next((w for w in eased.weeks.weeks[week.number - 1 :] if w.kind is WeekKind.REST), None)
    gentle = {**resting.exercises, **resting.activities} if resting else {}
    number = 0
    for name in dict.fromkeys((*now, *gentle)):
        exercise = telling.plan.exercise(name)
        if exercise is None:
            continue
        number += 1
        blocks = tuple(_one(telling, exercise, now.get(name), number, large))
        yield Section(telling.words.plan(name_text(name)), blocks or (Para(telling.words.say("how.shown")),))


def _one(telling: Telling, exercise: Exercise, done: Done | None, number: int, large: bool) -> Iterator[Block]:
    words = telling.words
    lines: list[Line] = []
    if exercise.how:
        lines.append(words.say("how.how", how=exercise.how))
    if exercise.careful:
        lines.append(words.say("how.careful", what=exercise.careful))
    if exercise.hold_on_to:
        lines.append(words.say("how.hold", what=exercise.hold_on_to))
    step = (done.step or 0) + 1 if done else 1
    kit = [kit.text for kit in exercise.kit if kit.from_step is None or step >= kit.from_step]
    if kit:
        lines.append(words.say("how.kit", kit=", ".join(kit)))
    if exercise.companions:
        lines.append(words.say("how.with", who=", ".join(exercise.companions)))
    if not exercise.how:
        lines.append(words.say("how.shown"))
    yield Items(tuple(lines))
    if len(exercise.steps) > 1 and done is not None:
        yield chart(exercise, done, words, number, large)
