"""The sheet of one week of a reckoned plan, in one function."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta

from planlang.people.sheet.ahead import ahead
from planlang.people.sheet.blocks import Block, Items, Page, Para, Section, Sheet
from planlang.people.sheet.boxes import boxes
from planlang.people.sheet.exercises import exercises
from planlang.people.sheet.flare import flare
from planlang.people.sheet.lifted import in_weights
from planlang.people.sheet.signs import calls, signs
from planlang.people.sheet.this_week import this_week
from planlang.planning.reckon import reckon
from planlang.planning.telling.standing import version_line
from planlang.planning.telling.telling import Contacts, Telling
from planlang.planning.week import WeekKind, Weeks
from planlang.text.languages.words import Words

TELLS = 3  # lines of `tell` that are shown


def sheet(
    weeks: Weeks,
    number: int,
    contacts: Contacts,
    words: Words,
    large: bool = False,
    eased: Callable[[int], Weeks] | None = None,
) -> Sheet:
    """The sheet for calendar week `number` (from 1).

    `eased`: reckons the same plan with a rest week in the given one too, for what to do in a flare; unsaid: with no
    other rest week but that one.
    """
    rest = next((w.number for w in weeks.weeks[number - 1 :] if w.kind is not WeekKind.AWAY), None)
    if rest is None or weeks.weeks[rest - 1].kind is WeekKind.REST:
        resting = weeks
    else:
        resting = eased(rest) if eased else reckon(weeks.plan, frozenset((rest,)))
    telling = Telling(in_weights(weeks), contacts, words, on_sheet=True)
    gentle = Telling(in_weights(resting), contacts, words, on_sheet=True)
    week = telling.weeks.weeks[number - 1]
    last = week.starts + timedelta(days=6)
    say = words.say
    first_page = Page(
        (
            *_goal(telling),
            Section(say("week.title"), tuple(this_week(telling, week)), "week"),
            Section(say("flares.title"), tuple(flare(telling, gentle, week)), "flare"),
            Section(say("call.title"), tuple(calls(telling, week.starts)), "call"),
        ),
        (version_line(telling, week.starts),),
    )
    second = (
        Section(say("how.title"), tuple(exercises(telling, gentle, week, large)), "how"),
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
