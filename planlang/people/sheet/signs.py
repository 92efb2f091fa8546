"""Whom to call, and when: every sign that the plan carries, those that stand on the sheet only included."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planlang.model.carried import carried, replaced_joint
from planlang.model.records import Sign
from planlang.people.sheet.blocks import Block, Items, Para, Section
from planlang.planning.telling.standing import help_lines, said_already
from planlang.planning.telling.telling import Telling, as_number
from planlang.text.languages.line import Line

URGENCY = ("emergency", "today", "tell us")


def calls(telling: Telling, day: date) -> Iterator[Block]:
    """Whom to call, and the line of the most urgent signs."""
    words, contacts = telling.words, telling.contacts
    if contacts.emergency:
        lines = [words.say("call.list-emergency", number=as_number(contacts.emergency))]
    else:
        lines = [words.say("call.list-emergency-local")]
    if contacts.same_day:
        lines.append(words.say("call.list-today", number=as_number(contacts.same_day)))
    lines.append(words.say("call.list-us", us=telling.us))
    yield Items(tuple(lines))
    yield from (Para(line, strong=i == 0) for i, line in enumerate(help_lines(telling, day)))


def signs(telling: Telling, day: date) -> Iterator[Block]:
    """The signs by urgency, the plan's own among them."""
    words, contacts = telling.words, telling.contacts
    known = _ordered(telling, day)
    numbers = {"emergency": contacts.emergency, "today": contacts.same_day, "tell us": contacts.clinic}
    for action in URGENCY:
        lines = [*_carried(telling, known, action), *_own(telling, known, action)]
        if not lines:
            continue
        title = words.say(f"signs.{'us' if action == 'tell us' else action}")
        number = numbers[action]
        if number:
            title = words.say("signs.with-number", title=title, number=as_number(number))
        yield Section(title, (Items(tuple(line.capital() for line in lines)),), action.replace(" ", "-"))
    yield Para(words.say("signs.not-a-full-list"))


def _ordered(telling: Telling, day: date) -> tuple[Sign, ...]:
    """Those that matter most after an operation come first after one."""
    found = carried(telling.plan, day)
    if not telling.plan.operations:
        return found
    return tuple(sorted(found, key=lambda sign: not sign.first_after_operation))


def _carried(telling: Telling, known: tuple[Sign, ...], action: str) -> Iterator[Line]:
    words = telling.words
    for sign in known:
        said = words.data(f"sign.{sign.name}", sign.words)
        if sign.do == action:
            if sign.replaced_joint and replaced_joint(telling.plan):
                joint = words.data(f"sign.{sign.name}.replaced", sign.replaced_joint)
                said = words.say("signs.replaced", sign=said, joint=joint)
            yield said
        if sign.worse and sign.worse.do == action:
            worse = words.data(f"sign.{sign.name}.worse", sign.worse.words)
            yield words.say("signs.worse", sign=said, worse=worse)


def _own(telling: Telling, known: tuple[Sign, ...], action: str) -> Iterator[Line]:
    words = telling.words
    as_urgent = [s for s in known if URGENCY.index(s.do) <= URGENCY.index(action)]
    for own in telling.plan.signs:
        if own.action != action or said_already(own.text, as_urgent):
            continue
        yield words.say("signs.before", sign=own.text) if own.before else words.plan(own.text)
