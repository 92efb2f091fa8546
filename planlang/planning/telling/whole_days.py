"""What a person reads in entries that stand for whole days: easier weeks, daily activities, dates to remember."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from planlang.model.carried import new_replacement
from planlang.model.plan import Away, Prepare, Target
from planlang.model.say import dose_words, exercise_text, name_text, quantity_words
from planlang.planning.telling.day import Told
from planlang.planning.telling.exercise_lines import bounds, instead_line, step_up
from planlang.planning.telling.names import about_weight, neutral
from planlang.planning.telling.standing import (
    back_when,
    checks_first,
    flare_line,
    flare_sentences,
    help_lines,
    pain_line,
    supports,
    version_line,
)
from planlang.planning.telling.telling import Telling
from planlang.planning.week import Done, Week
from planlang.text.languages.line import Line, joined

LONG_REST = 4  # easier weeks in a row from which the person is seen first


def easier_week(telling: Telling, week: Week) -> Told:
    """A rest week: as little as needed at first, then little and often."""
    lines = [*easier(telling, week), *help_lines(telling, week.starts), version_line(telling, week.starts)]
    return Told(telling.words.say("easier.title"), tuple(lines))


def easier(telling: Telling, week: Week, opening: str = "easier.part-of-plan") -> Iterator[Line]:
    """The lines of a rest week, without those that stand on every page. `opening`: the key of the first one."""
    plan, words = telling.plan, telling.words
    rest = plan.rest
    yield words.say(opening)
    replaced = new_replacement(plan, week.starts)
    if replaced:
        yield words.data(f"flare.{replaced.name}", replaced.flare)
    if telling.course.rest_run(week) >= LONG_REST:
        yield words.say("easier.long", us=telling.us)
    doing = [*week.exercises.values(), *week.activities.values()]
    first, ordered = (rest.first, rest.still_nothing_because is not None) if rest else (None, False)
    at_first = [words.say("easier.first", time=quantity_words(first, words))] if first else []
    if doing:
        yield joined(" ", [*at_first, words.say("easier.then" if at_first else "easier.little")])
        yield from (one(telling, done) for done in doing)
    else:
        yield joined(" ", [*at_first, words.say("easier.nothing-agreed" if ordered else "easier.nothing")])
    if rest and rest.leave:
        names = "; ".join(name_text(name).lower() for name in rest.leave)
        yield words.say("easier.leave", names=names)
    if not replaced:
        yield words.say("easier.relief")
        if not ordered:
            yield from flare_sentences(telling)
    back = back_when(rest.back_when if rest else None, words)
    more = [words.say("easier.more")] if doing else []
    if more or back:
        yield joined(" ", [*more, *([words.say("easier.back", when=back)] if back else [])])
    call = [*(words.plan(text) for text in (rest.tell_us_if if rest else ())), words.say("easier.something-new")]
    signs = joined(words.say("easier.or"), call).capital()
    yield words.say("easier.call", signs=signs, us=telling.us)


def daily(telling: Telling, week: Week) -> Told:
    """The activities of a week that have no day of their own."""
    words = telling.words
    shown = [
        words.plan(name_text(name)) if neutral(name, telling.plan.catalogue) else words.say("day.title")
        for name in week.activities
    ]
    return Told(joined(", ", dict.fromkeys(shown)), tuple(_daily(telling, week)))


def _daily(telling: Telling, week: Week) -> Iterator[Line]:
    yield from checks_first(telling)
    yield telling.words.say("daily.aim")
    for name, done in week.activities.items():
        exercise = telling.plan.exercise(name)
        yield one(telling, done)
        yield from daily_news(telling, week, done)
        yield from (instead_line(other, telling.words) for other in (exercise.instead if exercise else ()))
    yield pain_line(telling)
    yield flare_line(telling, week.starts)
    yield from help_lines(telling, week.starts)
    yield version_line(telling, week.starts)


def daily_news(telling: Telling, week: Week, done: Done) -> Iterator[Line]:
    """An activity's ceiling and floor, and what is new about it this week."""
    name, exercise, words, course = done.name, telling.plan.exercise(done.name), telling.words, telling.course
    yield from bounds(exercise, done, words)
    if done.easing and (last := course.last_own(name, week.number)) and last.dose != done.dose:
        yield words.say("daily.lower", last=dose_words(last.dose, words))
    elif exercise and done.first and done.own and 0 < (done.step or 0) < len(exercise.steps):
        yield step_up(telling, exercise, done, "week", alone=len(week.activities) == 1)
    elif done.own and course.new_here(name, week.number):
        yield words.say("new.begins-week", what=name_text(name).lower())


def one(telling: Telling, done: Done) -> Line:
    """An exercise or activity in a list."""
    words = telling.words
    return words.say("list.item", item=exercise_text(telling.plan.exercise(done.name), done.name, done.dose, words))


def checkpoint(telling: Telling, target: Target, day: date) -> Told:
    """The day of a target. Body weight stands in no entry."""
    words = telling.words
    if weighed(target) or not neutral(target.title, telling.plan.catalogue):
        title = words.say("checkpoint.hidden")
    else:
        title = words.plan(stop(target.title))
    lines = (words.say("checkpoint.line", title=title), version_line(telling, day))
    return Told(words.say("checkpoint.title"), lines)


def weighed(target: Target) -> bool:
    """True for a target about the person's body weight."""
    return about_weight(target.title) or (target.measured is not None and target.measured.measure == "body-weight")


def review(telling: Telling, day: date) -> Told:
    """The day by which the plan is gone through together."""
    words = telling.words
    version = words.say("plan.version", version=telling.plan.revision or 1)
    lines = (
        words.say("review.together", day=words.day(day), us=telling.us),
        words.say("review.bring"),
        version + ". " + supports(words),
    )
    return Told(words.say("review.title"), lines)


def task(telling: Telling, prepare: Prepare, day: date) -> Told:
    """The day by which something is got ready."""
    words = telling.words
    if neutral(prepare.text, telling.plan.catalogue):
        title = words.say("task.title-of", what=prepare.text)
        text = words.say("task.by-today", what=stop(prepare.text))
    else:
        title, text = words.say("task.title"), words.say("task.hidden")
    return Told(title, (text, version_line(telling, day)))


def away(telling: Telling, line: Away) -> Told:
    """Days away."""
    words, plan = telling.words, telling.plan
    session = plan.session(line.session) if line.session else None
    if session and neutral(session.name, plan.catalogue):
        what = words.say("away.session", name=session.name)
    else:
        what = words.say("away.hidden" if session else "away.nothing")
    lines = (words.say("away.until", day=words.day(line.last), what=what), version_line(telling, line.first))
    return Told(words.say("away.title"), lines)


def day_after(day: date) -> date:
    """The exclusive end of an entry whose last day this is (RFC 5545, 3.6.1: DTEND is not included)."""
    return day + timedelta(days=1)


def stop(text: str) -> str:
    """A text as a sentence."""
    text = text.strip()
    return text if text.endswith((".", "!", "?", "…", "。")) else f"{text}."
