"""If it flares: what an easier week is, said before one is needed, and as large as the week itself."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.people.sheet.blocks import Block, Para
from planlang.people.sheet.this_week import as_blocks
from planlang.planning.telling.standing import flare_line
from planlang.planning.telling.telling import Telling
from planlang.planning.telling.whole_days import easier
from planlang.planning.week import Week, WeekKind


def flare(telling: Telling, eased: Telling, week: Week) -> Iterator[Block]:
    """The blocks under "If it flares". `eased`: the plan with a rest week in this week or the next that may be one."""
    if week.kind is WeekKind.REST:
        yield Para(telling.words.say("flares.now", week=telling.words.say("week.title")), strong=True)
        return
    yield Para(flare_line(telling, week.starts), strong=True)
    resting = next((w for w in eased.weeks.weeks[week.number - 1 :] if w.kind is WeekKind.REST), None)
    if resting is None:
        return
    said = flare_line(telling, week.starts)
    yield from as_blocks(line for line in easier(eased, resting, "flares.part") if line != said)
