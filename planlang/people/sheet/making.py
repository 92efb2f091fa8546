"""The sheet of one week of a reckoned plan, in one function."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from planlang.people.sheet.ahead import ahead
from planlang.people.sheet.blocks import Block, Items, Page, Para, Section, Sheet
from planlang.people.sheet.boxes import boxes
from planlang.people.sheet.exercises import exercises
from planlang.people.sheet.flare import flare
from planlang.people.sheet.lifted import in_weights
from planlang.people.sheet.signs import calls, signs
from planlang.people.sheet.this_week import this_week
from planlang.planning.telling.standing import version_line
from planlang.planning.telling.telling import Contacts, Telling
from planlang.planning.week import Weeks
from planlang.text.languages.words import Words

TELLS = 3  # lines of `tell` that are shown


def sheet(weeks: Weeks, resting: Weeks, number: int, contacts: Contacts, words: Words, large: bool = False) -> Sheet:
    """The sheet for calendar week `number` (from 1).

    `resting`: the same plan with a rest week in `number`, or where that can't be (days away) the next one, for what to
    do in a flare.
    """
    telling = Telling(in_weights(weeks), contacts, words, on_sheet=True)
    eased = Telling(in_weights(resting), contacts, words, on_sheet=True)
    week = telling.weeks.weeks[number - 1]
    last = week.starts + timedelta(days=6)
    say = words.say
    first_page = Page(
        (
            *_goal(telling),
            Section(say("week.title"), tuple(this_week(telling, week)), "week"),
            Section(say("flares.title"), tuple(flare(telling, eased, week)), "flare"),
            Section(say("call.title"), tuple(calls(telling, week.starts)), "call"),
        ),
        (version_line(telling, week.starts),),
    )
    second = (
        Section(say("how.title"), tuple(exercises(telling, eased, week, large)), "how"),
        Section(say("signs.title"), tuple(signs(telling, week.starts)), "signs"),
        Section(say("next.title"), tuple(ahead(telling, week)), "next"),
        Section(say("done.title"), tuple(boxes(telling, week)), "done"),
    )
    return Sheet(
        title=say("sheet.title"),
        weeks=say("sheet.week", first=words.near(week.starts), last=words.day(last)),
        code=words.code,
        direction=words.direction,
        large=large,
        pages=(first_page, Page(tuple(s for s in second if s.blocks), (version_line(telling, week.starts),))),
    )


def _goal(telling: Telling) -> Iterator[Section]:
    goal, words = telling.plan.goal, telling.words
    blocks: list[Block] = []
    if goal:
        blocks.append(Para(words.plan(goal.title), strong=True))
        if goal.because:
            blocks.append(Para(words.say("goal.why", why=goal.because)))
    tells = telling.plan.tells[:TELLS]
    if tells:
        blocks.append(Items(tuple(words.plan(text) for text in tells)))
    if blocks:
        yield Section(words.say("goal.title"), tuple(blocks), "goal")
