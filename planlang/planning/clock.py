"""Sessions as instants: wall-clock times in the plan's zone, and the times that a clock change spoils."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import lru_cache

NOON = time(12)
DAY = timedelta(days=1)


@lru_cache(maxsize=64)
def change_days(zone: tzinfo, first: date, days: int) -> frozenset[date]:
    """The days, of so many from the first, on or next to which the zone's offset changes."""
    found: set[date] = set()
    before = datetime.combine(first - DAY, NOON, zone).utcoffset()
    for n in range(days):
        day = first + n * DAY
        now = datetime.combine(day, NOON, zone).utcoffset()
        if now != before:
            found |= {day - DAY, day}
        before = now
    return frozenset(found)


def is_missing(local: datetime) -> bool:
    """True for a wall-clock time that a clock change skips."""
    back = local.astimezone(UTC).astimezone(local.tzinfo)
    return back.replace(tzinfo=None) != local.replace(tzinfo=None)


def is_double(local: datetime) -> bool:
    """True for a wall-clock time that comes twice on its day."""
    return local.utcoffset() != local.replace(fold=1).utcoffset() and not is_missing(local)


def span_of(day: date, at: time, minutes: int | None, zone: tzinfo | None) -> tuple[datetime, datetime | None]:
    """Start and end of a session. Across a clock change the end is so many minutes later as a watch counts them."""
    starts = datetime.combine(day, at, zone)
    if minutes is None:
        return starts, None
    length = timedelta(minutes=minutes)
    if zone is None:
        return starts, starts + length
    return starts, (starts.astimezone(UTC) + length).astimezone(zone)
