"""A session that was not done, moved within its week where the plan says so: never next to one of the same muscles.

Its new day holds no other session, is not away, keeps the session's own days between, and has on neither side a day
that trains a muscle of it. Where there is no such day it stays where it was.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from attrs import evolve

from planlang.model.diary import What
from planlang.model.plan import Plan
from planlang.planning.chooser import choose
from planlang.planning.clock import span_of
from planlang.planning.dayrules import WEEK
from planlang.planning.past import Held, Outcome, Past
from planlang.planning.slots import timetable_of
from planlang.planning.week import Sitting, Week, WeekKind, Weeks
from planlang.text.data import frozen

DAY = timedelta(days=1)
MOVES = "move within the week"
Place = tuple[int, str, int]
"""A session's calendar week, name and order among those of its name."""


@frozen
class Moved:
    """Where a session stands now, where it stood, and how many times it has been moved for it."""

    day: date
    was: date
    times: int


def moved_within(past: Past, before: Mapping[Place, Moved]) -> dict[Place, Moved]:
    """The sessions that stand on another day of their week because they were not done, up to the day looked back from.

    `before`: those known a while earlier. One that was made up before the day proposed stands where it was done.
    """
    found = {}
    held = {(h.week, h.name, h.order): h for h in past.held}
    for place, moved in before.items():
        now = held.get(place)
        if now is None:
            continue
        if now.outcome in (Outcome.DONE, Outcome.PART) and now.on and moved.was < now.on < moved.day:
            moved = Moved(now.on, moved.was, moved.times + 1)
        found[place] = moved
    for place, one in sorted(held.items()):
        if place not in found and _is_to_move(past.plan, one):
            day = _free_day(past, one, found)
            if day is not None and one.day is not None:
                found[place] = Moved(day, one.day, 1)
    return found


def with_moved(weeks: Weeks, moved: Mapping[Place, Moved]) -> Weeks:
    """The weeks with the moved sessions on their new days."""
    if not moved:
        return weeks
    numbers = {number for number, _, _ in moved}
    return evolve(weeks, weeks=tuple(_week(w, moved) if w.number in numbers else w for w in weeks.weeks))


def _week(week: Week, moved: Mapping[Place, Moved]) -> Week:
    sittings = [_on(s, moved.get((week.number, s.name, s.order))) for s in week.sittings]
    return evolve(week, sittings=tuple(sorted(sittings, key=lambda s: s.day)))


def _on(sitting: Sitting, moved: Moved | None) -> Sitting:
    if moved is None or sitting.any_day:
        return sitting
    begins, ends = sitting.starts, sitting.ends
    if begins is not None:
        begins, ends = span_of(moved.day, begins.timetz().replace(tzinfo=None), sitting.minutes, begins.tzinfo)
    return evolve(sitting, day=moved.day, moved_from=sitting.moved_from or sitting.day, starts=begins, over=ends)


def _is_to_move(plan: Plan, held: Held) -> bool:
    session = plan.session(held.name)
    told = held.entry is not None and held.entry.what is What.NOT_DONE
    return bool(session and session.if_not_done == MOVES and told and held.day and not session.visits)


def _free_day(past: Past, held: Held, moved: Mapping[Place, Moved]) -> date | None:
    week = past.weeks.weeks[held.week - 1]
    assert held.entry is not None
    assert held.day is not None
    if week.kind not in (WeekKind.TRAINING, WeekKind.SPARE):
        return None
    calendar = timetable_of(past.plan).calendar
    after = max(held.entry.known_on, held.day)
    taken = _taken(past, held, moved)
    works = _works(past.plan, held.exercises)
    away = calendar.away_days.get(week.number, frozenset())
    session = past.plan.session(held.name)
    rule = next((g for g in timetable_of(past.plan).groups if session in g.members), None)
    line = rule.any_line(week.training_week or calendar.training_weeks) if rule else None
    among = {(day - week.starts.weekday()) % 7 for day in line.among} if line and line.among else set(WEEK)
    free = tuple(
        offset
        for offset in WEEK
        if offset in among - away
        and (day := week.starts + offset * DAY) > after
        and day not in taken
        and not any(works & taken.get(beside, frozenset()) for beside in (day - DAY, day + DAY))
    )
    own = tuple(
        sorted((s.day - week.starts).days for s in week.sittings if s.name == held.name and s.order != held.order)
    )
    kept = tuple(o for o in own if 0 <= o < 7)
    chosen = choose(1, free, line.between or 0 if line else 0, (), kept)
    return week.starts + chosen[0] * DAY if chosen else None


def _taken(past: Past, held: Held, moved: Mapping[Place, Moved]) -> dict[date, frozenset[str]]:
    """The days on which sessions stand, this one aside, each with the muscles that it trains."""
    found: dict[date, frozenset[str]] = {}
    for week in past.weeks.weeks[max(held.week - 2, 0) : held.week + 1]:
        for sitting in week.sittings:
            place = (week.number, sitting.name, sitting.order)
            if place == (held.week, held.name, held.order) or sitting.any_day:
                continue
            day = moved[place].day if place in moved else sitting.day
            found[day] = found.get(day, frozenset()) | _works(past.plan, sitting.exercises)
    return found


def _works(plan: Plan, names: Iterable[str]) -> frozenset[str]:
    return frozenset(muscle for name in names if (e := plan.exercise(name)) for muscle in e.works)
