"""A calendar that follows what happened: what is to come stands as the diary leaves it, what is over as it was.

An entry that is over stands as it was known the day before its last day, so that no later line of a diary changes it;
one to come stands as it is known now. All of it follows from the plan and the diary: no former calendar is needed,
and easier weeks taken one by one end in the same calendar as all at once.
"""

from __future__ import annotations

from datetime import date, timedelta

from planlang.calendar.counting import Counting
from planlang.calendar.entry import Entry, Kind, Moves
from planlang.calendar.events import in_order, of_dates, of_week
from planlang.calendar.identity import Identities
from planlang.calendar.known import Known, until
from planlang.model.diary import What
from planlang.planning.past import Past
from planlang.planning.slots import timetable_of
from planlang.planning.stretches import rest_weeks
from planlang.planning.telling.telling import Contacts, Telling
from planlang.planning.week import Week, WeekKind
from planlang.text.data import frozen
from planlang.text.languages.words import Words

DAY = timedelta(days=1)
AT_ONCE = (What.MOVED, What.NOT_DONE, What.REST)
"""Lines that move what is to come on the day on which they are known."""


@frozen
class Followed:
    """The entries of a plan as its diary leaves them, and what in the diary has moved entries."""

    entries: tuple[Entry, ...]
    moves: Moves


def followed(past: Past, contacts: Contacts, key: bytes | None, words: Words) -> Followed:
    """The entries of a plan that is looked back on, by date; discreet as the plan says."""
    plan = past.plan
    counting = Counting(plan, key)
    kept: dict[str, Entry] = {}
    state: Known | None = None
    days = _turning_days(past)
    for day, to in zip(days, [*days[1:], None], strict=True):
        state = Known.at(past, day, state.moved if state else {})
        counting.add(state)
        telling = Telling(state.weeks, contacts, words)
        for entry in _over_within(state, telling, counting, day, to):
            kept[entry.uid] = entry
    assert state is not None
    telling = Telling(state.weeks, contacts, words)
    for week in state.weeks.weeks:
        if week.kind is WeekKind.REST and week.starts <= past.as_of:
            kept.pop(Identities(plan, key).of(Kind.DAILY, "", week.number), None)
            easier = next(of_week(telling, Identities(plan, key), week, counting.of))
            kept.setdefault(easier.uid, easier)
    for entry in of_dates(telling, Identities(plan, key)):
        kept[entry.uid] = entry
    rests = tuple(w.starts for w in state.weeks.weeks if w.kind is WeekKind.REST)
    return Followed(in_order(kept.values(), telling), Moves(rests, counting.highest + 1))


def _over_within(state: Known, telling: Telling, counting: Counting, after: date, to: date | None) -> list[Entry]:
    """The entries that are over after a day and by another one, None: ever; and those just made up."""
    found = []
    ids = Identities(state.plan, counting.key)
    made_up = {counting.uid(week, s) for week in state.weeks.weeks for s in week.sittings if state.is_made_up(week, s)}
    for week in state.weeks.weeks:
        if _touches(week, after, to) or any(state.is_made_up(week, s) for s in week.sittings):
            for entry in of_week(telling, ids, week, counting.of):
                if (entry.last_day > after and (to is None or entry.last_day <= to)) or entry.uid in made_up:
                    found.append(entry)
    return found


def _touches(week: Week, after: date, to: date | None) -> bool:
    days = [week.starts, week.starts + 6 * DAY, *(s.day for s in week.sittings if s.moved_from)]
    return max(days) > after and (to is None or min(days) <= to)


def _turning_days(past: Past) -> list[date]:
    """The days after which the calendar may have been another: week ends, and days on which something moves it."""
    plan, diary = past.plan, past.diary
    timetable = timetable_of(plan)
    calendar = timetable.calendar
    first = calendar.starts - DAY
    if past.as_of <= first:
        return [past.as_of]
    last = min(past.as_of, calendar.starts + (7 * calendar.length - 1) * DAY)
    each = [first + n * DAY for n in range((last - first).days + 1)]
    if any(len(group.members) > 1 for group in timetable.groups):
        return sorted({*each, past.as_of})  # whose turn it is may change with any day
    days = {*each[::7], past.as_of}
    days |= {e.known_on for e in diary.of(*AT_ONCE) if first < e.known_on <= past.as_of}
    resting: frozenset[int] | None = None
    for day in each:
        now = rest_weeks(calendar, until(diary, day), day)
        if now != resting:
            days.add(day)
            resting = now
    return sorted(days)
