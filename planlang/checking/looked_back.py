"""An earlier plan's weeks as they were: looked back on with its diary, where there is one."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from attrs import evolve

from planlang.model.diary import Diary
from planlang.model.plan import Plan
from planlang.model.reading import read_diary
from planlang.planning.looking_back import TAKEN, can_look_back, past_of
from planlang.planning.reckon import reckon
from planlang.planning.week import Week
from planlang.text.source import Source


def weeks_of(plan: Plan, diaries: Iterable[Source], before: date | None = None) -> tuple[Week, ...]:
    """The weeks of an earlier plan. Without a diary they are as planned, no easier week taken.

    With one they end with the last week in which something was done: what is not written was not done as far as
    anybody knows. `before`: the first day of what follows; what the diary says from then on is not of this plan.
    """
    planned = reckon(plan).weeks
    diary = _of(plan, diaries, before)
    if diary is None or not can_look_back(plan):
        return planned
    last = diary.last
    assert last is not None
    past = past_of(plan, diary, min(last, before - timedelta(days=1)) if before else last)
    done = {held.week for held in past.held if held.outcome in TAKEN} | _weeks_told(plan, diary)
    if not done:
        return ()
    return tuple(week for week in past.weeks.weeks if week.number <= max(done))


def _of(plan: Plan, diaries: Iterable[Source], before: date | None) -> Diary | None:
    """The diaries of the plan's person as one, with what they tell of the plan's own days; None where they don't."""
    if plan.code is None or plan.starts is None or plan.weeks is None:
        return None
    end = min(plan.starts + timedelta(weeks=plan.weeks), before or date.max)
    read = [found for source in diaries if (found := read_diary(source, plan.catalogue)[0]) is not None]
    entries = [e for diary in read if diary.code == plan.code for e in diary.entries if plan.starts <= e.day < end]
    if not entries:
        return None
    return evolve(read[0], code=plan.code, entries=tuple(sorted(entries, key=lambda e: e.day)), steps=())


def _weeks_told(plan: Plan, diary: Diary) -> set[int]:
    """The calendar weeks of which the diary tells a walk or an exercise by itself."""
    from planlang.model.diary import What

    assert plan.starts is not None
    told = diary.of(What.WALKED, What.DID_EXERCISE, What.EXTRA)
    return {(entry.day - plan.starts).days // 7 + 1 for entry in told}
