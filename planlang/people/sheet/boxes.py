"""Boxes for what was done this week: one a session and day, and one for the next morning where that is asked."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from planlang.model.say import name_text
from planlang.people.sheet.blocks import Block, Boxes, Para
from planlang.people.sheet.this_week import shown
from planlang.planning.telling.telling import Telling
from planlang.planning.week import Week
from planlang.text.languages.line import Line


def boxes(telling: Telling, week: Week) -> Iterator[Block]:
    """The table of boxes; nothing where nothing is due."""
    words = telling.words
    days = [week.starts + timedelta(days=n) for n in range(7)]
    due: dict[str, set[date]] = {}
    for sitting in week.sittings:
        if sitting.exercises:
            due.setdefault(sitting.name, set()).update(days if sitting.any_day else (sitting.day,))
    rows: list[Line] = [shown(telling, name) for name in due]
    open_days = list(due.values())
    asked = telling.plan.agreed is not None and telling.plan.agreed.diary == "yes"
    for name in week.activities:
        rows.append(words.plan(name_text(name)))
        open_days.append(set(days))
    if not rows:
        return
    if asked and due:
        rows.append(words.say("done.morning"))
        open_days.append(set().union(*due.values()))
    yield Para(words.say("done.help"))
    moving = {s.name for s in telling.plan.sessions if s.if_not_done == "move within the week"}
    if any(s.name in moving and s.name in due and not s.any_day for s in week.sittings):
        yield Para(words.say("done.other-day"))
    yield Boxes(
        (words.say("done.what"), *(words.day_of_week(day) for day in days)),
        tuple(rows),
        tuple(tuple(day in some for day in days) for some in open_days),
    )
