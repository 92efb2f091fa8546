"""A plan's weeks as they stood at the end of a day, by what its diary told until then."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from attrs import evolve

from planlang.model.diary import Diary
from planlang.model.plan import Plan
from planlang.planning.looking_back import past_of
from planlang.planning.moving import Moved, Place, moved_within, with_moved
from planlang.planning.past import Looking, Past
from planlang.planning.reckon import reckon
from planlang.planning.week import Sitting, Week, Weeks
from planlang.text.data import define

DAY = timedelta(days=1)


def until(diary: Diary, day: date) -> Diary:
    """What of a diary was known by the end of a day."""
    return evolve(diary, entries=tuple(e for e in diary.entries if e.known_on <= day))


@define(eq=False)
class Known:
    """What was known at the end of a day.

    weeks: as they then were to come, sessions not done on their new days. planned: with the same easier weeks and
    nothing else of the diary. moved: the sessions that stand on another day because they were not done. made_up: those
    of them that had just been done, before the day proposed.
    """

    plan: Plan
    day: date
    rest: frozenset[int]
    weeks: Weeks
    planned: Weeks
    moved: Mapping[Place, Moved]
    made_up: frozenset[Place] = frozenset()

    @classmethod
    def at(cls, past: Past, day: date, before: Mapping[Place, Moved]) -> Known:
        """What was known at the end of a day, `before` being the sessions moved by then."""
        plan = past.plan
        then = past if day == past.as_of else past_of(plan, until(past.diary, day), day)
        moved = moved_within(then, before)
        made_up = frozenset(p for p, m in moved.items() if p in before and m.times > before[p].times)
        weeks = with_moved(_to_come(then), moved)
        return cls(plan, day, then.rest, weeks, reckon(plan, then.rest), moved, made_up)

    def is_made_up(self, week: Week, sitting: Sitting) -> bool:
        """True for a moved session that had just been done, before the day proposed."""
        return (week.number, sitting.name, sitting.order) in self.made_up


def _to_come(past: Past) -> Weeks:
    """The weeks looked back on. A week counts against its exercises once it is over: until then it may still be done.

    What took a session's place on a day stands beside the session, which others of its week are told after.
    """
    looking, weeks = past.looking, past.weeks
    open_week = past.week if _is_open(past) else None
    if open_week is not None:
        calm = _without(looking, open_week)
        if calm != looking:
            looking, weeks = calm, reckon(past.plan, past.rest, calm)
    if not looking.stilled:
        return weeks
    whole = reckon(past.plan, past.rest, evolve(looking, stilled=frozenset())).weeks
    return evolve(weeks, weeks=tuple(_with_all(w, o) for w, o in zip(weeks.weeks, whole, strict=True)))


def _is_open(past: Past) -> bool:
    starts = past.plan.starts
    return starts is not None and starts <= past.as_of and (past.as_of - starts).days % 7 != 6


def _without(looking: Looking, week: int) -> Looking:
    """What a diary says of the weeks that are over."""
    return evolve(
        looking,
        uncounted={n: w - {week} for n, w in looking.uncounted.items() if w - {week}},
        held={number: held for number, held in looking.held.items() if number != week},
    )


def _with_all(week: Week, whole: Week) -> Week:
    there = {(s.name, s.order) for s in week.sittings}
    more = tuple(s for s in whole.sittings if (s.name, s.order) not in there)
    return evolve(week, sittings=tuple(sorted((*week.sittings, *more), key=lambda s: s.day))) if more else week
