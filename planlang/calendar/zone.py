"""The zone block of a calendar, made from the zone's own changes over the dates that the calendar covers.

RFC 5545, 3.6.5: an observance begins at a wall-clock time of the offset before it. Where the zone
has yearly rules there is one STANDARD and one DAYLIGHT, each with a yearly rule that every reader
knows (the n-th weekday of a month); else one observance for each change. Never an RDATE.
"""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

from planlang.text.data import frozen

DAY = timedelta(days=1)
WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
LOOK_AHEAD = 8  # years beyond the dates, only to choose between two rules that fit all of them


@frozen
class State:
    """What a zone says at an instant."""

    offset: timedelta
    saving: timedelta
    name: str


@frozen
class Change:
    """A change of offset: `at` is the first instant (UTC) of the new state."""

    at: datetime
    old: State
    new: State

    @property
    def onset(self) -> datetime:
        """The instant as a wall clock that still shows the old offset."""
        return (self.at + self.old.offset).replace(tzinfo=None)


@frozen
class YearlyRule:
    """The n-th weekday (Monday 0) of a month at a wall-clock time; n = -1 is the last."""

    month: int
    weekday: int
    nth: int
    at: time

    def onset(self, year: int) -> datetime:
        """The wall-clock onset in a year."""
        days = monthrange(year, self.month)[1]
        first = (self.weekday - date(year, self.month, 1).weekday()) % 7 + 1
        day = first + 7 * (self.nth - 1) if self.nth > 0 else first + 7 * ((days - first) // 7)
        return datetime.combine(date(year, self.month, day), self.at)


def state(zone: ZoneInfo, instant: datetime) -> State:
    """The state of the zone at an instant with a zone of its own."""
    local = instant.astimezone(zone)
    return State(local.utcoffset() or timedelta(0), local.dst() or timedelta(0), local.tzname() or "")


def changes(zone: ZoneInfo, first: date, last: date) -> list[Change]:
    """Every change of offset from the beginning of the first day to the end of the last (UTC days)."""
    return list(_changes(zone, _midnight(first), _midnight(last) + DAY))


def _changes(zone: ZoneInfo, start: datetime, end: datetime) -> Iterator[Change]:
    before = state(zone, start)
    while start < end:
        after = state(zone, start + DAY)
        if after.offset != before.offset:
            low, high = start, start + DAY
            while high - low > timedelta(seconds=1):
                middle = low + timedelta(seconds=(high - low) // timedelta(seconds=2))
                low, high = (middle, high) if state(zone, middle).offset == before.offset else (low, middle)
            yield Change(high, state(zone, low), state(zone, high))
        before, start = after, start + DAY


def zone_block(zone: ZoneInfo, first: date, last: date) -> Timezone:
    """The VTIMEZONE of a zone for entries from the first date to the last, both included.

    Deterministic: the same zone data and dates give the same block, whatever today is.
    """
    block = Timezone()
    block.add("tzid", zone.key)
    # A year before, so that the rule in force on the first day has already begun.
    known = changes(zone, date(first.year - 1, 1, 1), last + DAY)
    pair = _yearly(zone, known, first.year - 1, last + DAY)
    if pair:
        for change, rule in pair:
            part = _observance(change.onset, change.old, change.new, _is_daylight(change.new, change.old))
            day = f"{rule.nth}{WEEKDAYS[rule.weekday]}"
            part.add("rrule", {"freq": "yearly", "bymonth": rule.month, "byday": day})
            block.add_component(part)
        return block
    near = [change for change in known if change.at >= _midnight(first) - DAY]
    begin = near[0].old if near else state(zone, _midnight(first))
    onset = datetime.combine(first - 2 * DAY, time()) if known else datetime(1970, 1, 1)
    others = [change.new for change in near]
    daylight = any(_is_daylight(begin, other) for other in others)
    block.add_component(_observance(onset, begin, begin, daylight))
    for change in near:
        block.add_component(_observance(change.onset, change.old, change.new, _is_daylight(change.new, change.old)))
    return block


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time(), UTC)


def _is_daylight(now: State, other: State) -> bool:
    """Zone data may call winter the exception (a negative saving): the later clock is DAYLIGHT all the same."""
    return now.saving > other.saving


def _observance(onset: datetime, old: State, new: State, daylight: bool) -> TimezoneDaylight | TimezoneStandard:
    part = TimezoneDaylight() if daylight else TimezoneStandard()
    part.add("dtstart", onset)
    part.add("tzoffsetfrom", old.offset)
    part.add("tzoffsetto", new.offset)
    part.add("tzname", new.name)
    return part


def _yearly(zone: ZoneInfo, known: list[Change], start: int, last: date) -> list[tuple[Change, YearlyRule]] | None:
    """The two yearly rules that give exactly the changes known from a year's start to a last day, STANDARD first.

    None where no two rules do.
    """
    end = last.year
    into_daylight = [c for c in known if _is_daylight(c.new, c.old)]
    into_standard = [c for c in known if not _is_daylight(c.new, c.old)]
    pair = []
    for group in (into_standard, into_daylight):
        if not group or any((c.old, c.new) != (group[0].old, group[0].new) for c in group):
            return None
        rule = _fit(zone, group, end)
        if rule is None or group[0].onset != rule.onset(start):
            return None
        pair.append((group[0], rule))
    made = sorted(
        (rule.onset(year) - change.old.offset, change.new.offset)
        for change, rule in pair
        for year in range(start, end + 1)
    )
    end_of_dates = datetime.combine(last + DAY, time())
    truth = [(c.at.replace(tzinfo=None), c.new.offset) for c in known]
    return pair if [m for m in made if m[0] < end_of_dates] == truth else None


def _fit(zone: ZoneInfo, group: list[Change], end: int) -> YearlyRule | None:
    """The rule that gives each onset of a group; of two, the one that holds longer."""
    one = group[0].onset
    nths = {-1, (one.day - 1) // 7 + 1} - {5}
    candidates = [YearlyRule(one.month, one.weekday(), nth, one.time()) for nth in sorted(nths)]
    fitting = [r for r in candidates if all(r.onset(c.onset.year) == c.onset for c in group)]
    if len(fitting) < 2:
        return fitting[0] if fitting else None
    later = changes(zone, date(end, 1, 1), date(end + LOOK_AHEAD, 12, 31))
    onsets = [c.onset for c in later if c.new == group[0].new]
    return max(fitting, key=lambda rule: sum(rule.onset(onset.year) == onset for onset in onsets))
