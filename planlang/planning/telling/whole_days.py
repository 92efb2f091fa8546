"""What a person reads in entries that stand for whole days: easier weeks, daily activities, dates to remember."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from planlang.model.carried import new_replacement
from planlang.model.exercise import Exercise
from planlang.model.plan import Away, Plan, Prepare, Target
from planlang.model.quantity import number_text
from planlang.model.say import day_text, dose_words, exercise_text, name_text
from planlang.planning.telling.course import Course
from planlang.planning.telling.day import Told, instead_line, step_up
from planlang.planning.telling.names import about_weight, neutral
from planlang.planning.telling.standing import (
    SUPPORTS,
    Contacts,
    back_when,
    checks_first,
    flare_line,
    help_lines,
    pain_line,
    version_line,
)
from planlang.planning.week import Done, Week

LONG_REST = 4  # easier weeks in a row from which the person is seen first


def easier_week(plan: Plan, course: Course, contacts: Contacts, week: Week) -> Told:
    """A rest week: as little as needed at first, then little and often."""
    return Told("Easier week", tuple(_easier(plan, course, contacts, week)))


def _easier(plan: Plan, course: Course, contacts: Contacts, week: Week) -> Iterator[str]:
    rest = plan.rest
    yield "This week is part of the plan. Nothing is lost."
    replaced = new_replacement(plan, week.starts)
    if replaced:
        yield replaced.flare
    if course.rest_run(week) >= LONG_REST:
        yield f"This is a long rest: we would like to see you before you go on. Call us: {contacts.us}."
    doing = [*week.exercises.values(), *week.activities.values()]
    first, ordered = (rest.first, rest.still_nothing_because is not None) if rest else (None, False)
    opening = f"Up to {first}: as little as you need. " if first else ""
    if doing:
        yield f"{opening}Then little and often:" if opening else "Little and often:"
        yield from (_one(plan, done) for done in doing)
    else:
        yield f"{opening}No exercises this week" + (", as agreed." if ordered else ".")
    if rest and rest.leave:
        yield f"Leave out: {'; '.join(name_text(name).lower() for name in rest.leave)}"
    if not replaced:
        yield "Heat, cold or your usual pain relief are fine if you use them."
        if not ordered:
            yield from _flares(plan)
    back = back_when(rest.back_when if rest else None)
    more = ["Do more only if it eases."] if doing else []
    if more or back:
        yield " ".join([*more, *([f"Back when: {back}."] if back else [])])
    call = [*(rest.tell_us_if if rest else ()), "something new"]
    yield f"{_capital('; or '.join(call))}? Call us: {contacts.us}."
    yield from help_lines(plan, contacts, week.starts)
    yield version_line(plan, week.starts)


def _flares(plan: Plan) -> Iterator[str]:
    """What a flare of each of the plan's conditions is."""
    known = [plan.catalogue.condition(about.name) for about in plan.about]
    yield from dict.fromkeys(c.flare for c in known if c and c.has_flares)


def daily(plan: Plan, course: Course, contacts: Contacts, week: Week) -> Told:
    """The activities of a week that have no day of their own."""
    names = list(week.activities)
    shown = [name_text(name) if neutral(name, plan.catalogue) else "Exercise" for name in names]
    return Told(", ".join(dict.fromkeys(shown)), tuple(_daily(plan, course, contacts, week)))


def _daily(plan: Plan, course: Course, contacts: Contacts, week: Week) -> Iterator[str]:
    yield from checks_first(plan, contacts)
    yield "The aim for this week:"
    for name, done in week.activities.items():
        exercise = plan.exercise(name)
        yield _one(plan, done)
        yield from _bounds(exercise, done)
        if done.easing and (last := course.last_own(name, week.number)) and last.dose != done.dose:
            yield f"Lower than last time ({dose_words(last.dose)}) on purpose. It should feel too easy."
        elif exercise and done.first and done.own and 0 < (done.step or 0) < len(exercise.steps):
            yield step_up(plan, exercise, done, alone=len(week.activities) == 1).replace("New today", "New this week")
        elif done.own and course.new_here(name, week.number):
            yield f"New this week: {name_text(name).lower()}."
        yield from (instead_line(other) for other in (exercise.instead if exercise else ()))
    yield pain_line(plan)
    yield flare_line(plan, course, contacts, week.starts)
    yield from help_lines(plan, contacts, week.starts)
    yield version_line(plan, week.starts)


def _bounds(exercise: Exercise | None, done: Done) -> Iterator[str]:
    """The ceiling of a good day and the floor of a bad one."""
    size = done.dose.size
    if done.at_most is not None and size:
        unit = size.unit.partition("/")[0]
        yield f"On a good day stop at {number_text(done.at_most)} {unit}: it keeps tomorrow good too."
    if exercise and exercise.at_least:
        yield f"On a bad day at least {dose_words(exercise.at_least)}. That counts."


def _one(plan: Plan, done: Done) -> str:
    return f"- {exercise_text(plan.exercise(done.name), done.name, done.dose)}"


def checkpoint(plan: Plan, target: Target, day: date) -> Told:
    """The day of a target. Body weight stands in no entry."""
    weight = target.measured is not None and target.measured.measure == "body-weight"
    hidden = weight or about_weight(target.title) or not neutral(target.title, plan.catalogue)
    title = "A date in your plan: see your sheet." if hidden else _stop(target.title)
    lines = (f"{title} Done, or not yet: both are fine. Bring it to your review.", version_line(plan, day))
    return Told("Checkpoint", lines)


def review(plan: Plan, contacts: Contacts, day: date) -> Told:
    """The day by which the plan is gone through together."""
    lines = (
        f"We go through your plan together, on or about {day_text(day)}. No time fixed yet? Call us: {contacts.us}.",
        "Bring your sheet. What went well, what did not, and what you would like to change: all of it helps.",
        f"Plan version {plan.revision or 1}. {SUPPORTS}",
    )
    return Told("Appointment", lines)


def task(plan: Plan, prepare: Prepare, day: date) -> Told:
    """The day by which something is got ready."""
    open_to_see = neutral(prepare.text, plan.catalogue)
    title = f"To do: {prepare.text}" if open_to_see else "To do"
    text = f"By today: {_stop(prepare.text)}" if open_to_see else "By today: see your sheet."
    return Told(title, (text, version_line(plan, day)))


def away(plan: Plan, line: Away) -> Told:
    """Days away."""
    session = plan.session(line.session) if line.session else None
    if session and neutral(session.name, plan.catalogue):
        what = f"{session.name}, on the days shown."
    elif session:
        what = "what your sheet says, on the days shown."
    else:
        what = "nothing is planned."
    last = day_text(line.last)
    lines = (f"Away until {last}: {what} The plan is built around it. Nothing is lost.", version_line(plan, line.first))
    return Told("Away", lines)


def day_after(day: date) -> date:
    """The exclusive end of an entry whose last day this is (RFC 5545, 3.6.1: DTEND is not included)."""
    return day + timedelta(days=1)


def _stop(text: str) -> str:
    text = text.strip()
    return text if text.endswith((".", "!", "?", "…", "。")) else f"{text}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
