"""Flares, illnesses and pauses of a diary as stretches of days, and the easier weeks that follow from them."""

from __future__ import annotations

from datetime import date, timedelta

from planlang.model.diary import STRETCHES, Diary, Entry, What
from planlang.planning.weeks import Calendar
from planlang.text.data import frozen

DAY = timedelta(days=1)
ENOUGH = 4
"""Days of a calendar week inside a flare, an illness or a pause that make it an easier one."""


@frozen
class Stretch:
    """What goes on from `first` to `last`, both included; `over` is False where it still goes on."""

    what: What
    first: date
    last: date
    over: bool
    entry: Entry


def stretches(diary: Diary, as_of: date) -> tuple[Stretch, ...]:
    """Every stretch that has begun by `as_of`; one that is not over goes on to it.

    The day on which it is over is its last. A flare in a flare of another joint is a stretch of its own; the first
    `over` of its kind ends all that are open.
    """
    found: list[Stretch] = []
    for what, ending in STRETCHES.items():
        ends = sorted(e.day for e in diary.of(ending) if e.day <= as_of)
        for entry in diary.of(what):
            if entry.day > as_of:
                continue
            end = next((day for day in ends if day >= entry.day), None)
            found.append(Stretch(what, entry.day, end or as_of, end is not None, entry))
    return tuple(sorted(found, key=lambda s: (s.first, s.last, s.what)))


def days_in(found: tuple[Stretch, ...]) -> frozenset[date]:
    """Every day inside a stretch. The day on which one is over is a day of getting going again, and not in it."""
    days: set[date] = set()
    for one in found:
        last = one.last - DAY if one.over and one.last > one.first else one.last
        day = one.first
        while day <= last:
            days.add(day)
            day += DAY
    return frozenset(days)


def rest_weeks(calendar: Calendar, diary: Diary, as_of: date) -> frozenset[int]:
    """The calendar weeks that were easier ones: said so, or with four days inside a stretch. Away weeks never."""
    inside = days_in(stretches(diary, as_of))
    counts: dict[int, int] = {}
    for day in inside:
        week = (day - calendar.starts).days // 7 + 1
        counts[week] = counts.get(week, 0) + 1
    found = {week for week, days in counts.items() if days >= ENOUGH}
    found |= {
        (e.day - calendar.starts).days // 7 + 1 for e in diary.of(What.REST) if e.joint is None and e.day <= as_of
    }
    return frozenset(w for w in found if 1 <= w <= calendar.length) - calendar.away_weeks
