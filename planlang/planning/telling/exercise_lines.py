"""Lines about one exercise: its bounds, what is done instead of it, and when it goes up."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planlang.model.dose import Effort
from planlang.model.exercise import Exercise, Instead, WarmUp
from planlang.model.say import dose_words, effort_text, minutes_text, name_text
from planlang.planning.telling.standing import limit_words, settle_words
from planlang.planning.telling.telling import Telling
from planlang.planning.week import Done
from planlang.text.languages.line import Line, joined
from planlang.text.languages.words import Words


def bounds(exercise: Exercise | None, done: Done, words: Words) -> Iterator[Line]:
    """The ceiling of a good day and the floor of a bad one."""
    size = done.dose.size
    if done.at_most is not None and size:
        unit = size.unit.partition("/")[0]
        yield words.say("daily.at-most-steps" if unit == "steps" else "daily.at-most", most=done.at_most, unit=unit)
    if exercise and exercise.at_least:
        yield words.say("daily.at-least", dose=dose_words(exercise.at_least, words))


def part_text(part: WarmUp, words: Words) -> Line:
    """A warm-up or cool-down: `walk about indoors, 3 min`."""
    said = [words.plan(part.text)] if part.text else []
    said.append(minutes_text(Fraction(part.minutes), words))
    if part.effort and part.scale:
        said.append(effort_text(Effort(part.effort, part.scale), words))
    return joined(", ", said)


def instead_line(instead: Instead, words: Words) -> Line:
    """What is done instead when something stands in the way."""
    if instead.session:
        return words.say("instead.session", when=instead.when, name=instead.session)
    said = [words.plan(name_text(instead.exercise).lower()) if instead.exercise else words.say("instead.something")]
    if instead.dose:
        said.append(dose_words(instead.dose, words))
    return words.say("instead.exercise", when=instead.when, what=joined(", ", said))


def step_up(telling: Telling, exercise: Exercise, done: Done, when: str, alone: bool) -> Line:
    """What is new on the day (or in the week) of a step up, when to stay, and with what. `when`: `today`, `week`."""
    words = telling.words
    named = [] if alone else [words.plan(name_text(exercise.name).lower())]
    what = joined(", ", [*named, new_dose(exercise, done, words)])
    return joined(" ", [words.say(f"new.{when}", what=what), *go_up_if(telling, exercise, done)])


def new_dose(exercise: Exercise, done: Done, words: Words) -> Line:
    """The dose of a step up, with its variant where that is new."""
    before = exercise.steps[(done.step or 1) - 1].dose
    varied = done.dose.variant and done.dose.variant != before.variant
    return joined(", ", [*([words.plan(done.dose.variant or "")] if varied else []), dose_words(done.dose, words)])


def go_up_if(telling: Telling, exercise: Exercise, done: Done) -> Iterator[Line]:
    """What is asked before going up, and what to stay with otherwise."""
    words, plan, pace = telling.words, telling.plan, exercise.pace
    before = exercise.steps[(done.step or 1) - 1].dose
    stay = dose_words(before, words)
    if done.dose.variant and done.dose.variant != before.variant:
        named = words.plan(before.variant) if before.variant else words.say("new.as-before")
        stay = joined(", ", [named, stay])
    if pace and pace.by == "date":
        yield words.say("new.by-date")
        if pace.down_if:
            yield words.say("new.down-if", sign=pace.down_if, dose=stay)
        return
    asked: str | None = pace.condition if pace else None
    if pace and not asked and pace.sessions:
        asked = words.say("new.sessions-clean", n=pace.sessions)
    if asked:
        yield words.say("new.before", asked=asked)
    over, settled = limit_words(plan, words)[1], settle_words(plan, words)[1]
    yield words.say("new.if-not" if asked else "new.if-last-time", over=over, settled=settled, dose=stay)
