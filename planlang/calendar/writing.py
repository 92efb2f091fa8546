"""Entries as the bytes of a calendar file, and the same bytes read back and compared."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import icalendar

from planlang.calendar.entry import Entry
from planlang.calendar.folding import LIMIT, fold, unfold
from planlang.calendar.zone import zone_block
from planlang.text.data import frozen

PRODUCT = "-//planlang//exercise calendar//EN"
NAME = "Exercise"
CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff]")  # and halves of characters, which UTF-8 has no form for
LINE_ENDS = re.compile("\r\n|[\r\n\v\f\x1c-\x1e\x85\u2028\u2029]")


class Garbled(Exception):
    """The file read back is not what was to be written: a fault of this program, never of the plan."""


@frozen
class Stamp:
    """What all entries of one version share: when the plan was written, and the sequence number before any move."""

    written: date
    sequence: int

    @property
    def instant(self) -> datetime:
        """DTSTAMP: the start of the day on which the plan was written, in UTC. No clock is read."""
        return datetime.combine(self.written, time(), UTC)


def plain(text: str, one_line: bool = False) -> str:
    """A text without control characters (RFC 5545, 3.1: TEXT holds none), line ends as LF, or none at all."""
    text = LINE_ENDS.sub(" " if one_line else "\n", text).replace("\t", " ")
    return CONTROL.sub("", text) if one_line else "\n".join(CONTROL.sub("", line) for line in text.split("\n"))


def to_bytes(entries: Sequence[Entry], zone: ZoneInfo | None, stamp: Stamp, uid: str = "", about: str = "") -> bytes:
    """The calendar of these entries. The same input gives the same bytes.

    `uid` is the calendar's own, `about` what it says of itself. `zone` is needed where an entry has a time.

    Raises Garbled where reading back gives something else.
    """
    calendar = icalendar.Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("x-wr-calname", NAME)
    if uid:
        calendar.add("uid", uid)
    if about:
        calendar.add("x-wr-caldesc", about)
    local = [entry for entry in entries if _spoken(entry)]
    if zone and local:
        first, last = min(e.first_day for e in local), max(e.last_day for e in local)
        calendar.add_component(zone_block(zone, first, last))
    for entry in entries:
        calendar.add_component(event(entry, stamp))
    data = b"".join(fold(line) for line in calendar.content_lines() if line)
    check(data, entries, stamp)
    return data


def event(entry: Entry, stamp: Stamp) -> icalendar.Event:
    """The VEVENT of an entry."""
    made = icalendar.Event()
    made.add("uid", entry.uid)
    made.add("dtstamp", stamp.instant)
    made.add("sequence", stamp.sequence + entry.moves)
    starts, ends = _times(entry)
    made.add("dtstart", starts)
    made.add("dtend", ends)
    made.add("summary", plain(entry.summary, one_line=True))
    made.add("description", plain(entry.description))
    if entry.location:
        made.add("location", plain(entry.location, one_line=True))
    made.add("class", "PRIVATE")
    made.add("status", "CANCELLED" if entry.cancelled else "CONFIRMED")
    free = entry.all_day or entry.cancelled
    made.add("transp", "TRANSPARENT" if free else "OPAQUE")
    if free:
        made.add("x-microsoft-cdo-busystatus", "FREE")  # some programs block the day on an all-day entry without it
    return made


def _times(entry: Entry) -> tuple[date, date]:
    """Start and end as they are written: local time with its zone, or UTC where the local time is not the only one."""
    starts, ends = entry.starts, entry.ends
    if isinstance(starts, datetime) and isinstance(ends, datetime) and not _spoken(entry):
        return starts.astimezone(UTC), ends.astimezone(UTC)
    return starts, ends


def _spoken(entry: Entry) -> bool:
    """True where a wall clock says both times of an entry without doubt.

    Readers differ about a time that a clock change skips or repeats (RFC 5545, 3.3.5): those are written in UTC.
    """
    return all(
        isinstance(t, datetime)
        and getattr(t.tzinfo, "key", "UTC") not in ("UTC", "Etc/UTC")
        and t.utcoffset() == t.replace(fold=1 - t.fold).utcoffset()
        for t in (entry.starts, entry.ends)
    )


def check(data: bytes, entries: Iterable[Entry], stamp: Stamp) -> None:
    """Reads the bytes as a stranger would and compares. Raises Garbled."""
    for row in data.split(b"\r\n"):
        if len(row) > LIMIT or b"\r" in row or b"\n" in row:
            raise Garbled(f"a line is too long or ends wrongly: {row[:40]!r}")
        row.decode("utf-8")
    for line in unfold(data):
        if CONTROL.search(line):
            raise Garbled("a control character is left")
    calendar = icalendar.Calendar.from_ical(data)
    names = [str(part.name) for part in calendar.subcomponents]
    zones = {str(part["TZID"]) for part in calendar.walk("VTIMEZONE")}
    used = {str(e[p].params["TZID"]) for e in calendar.events for p in ("DTSTART", "DTEND") if "TZID" in e[p].params}
    if zones != used or names != sorted(names, reverse=True):
        raise Garbled("the zone blocks are not those that the entries use, or do not stand before them")
    wanted, found = [_facts(e, stamp) for e in entries], [_read(e) for e in calendar.events]
    if len({uid for uid, *_ in found}) != len(found):
        raise Garbled("two entries have the same UID")
    if wanted != found:
        first = next((w for w, f in zip(wanted, found, strict=False) if w != f), None)
        raise Garbled(f"an entry reads back differently: {first}")


def _facts(entry: Entry, stamp: Stamp) -> tuple[object, ...]:
    starts, ends = _times(entry)
    status = "CANCELLED" if entry.cancelled else "CONFIRMED"
    place = plain(entry.location, one_line=True) if entry.location else ""
    texts = (plain(entry.summary, one_line=True), plain(entry.description), place)
    return (entry.uid, _point(starts), _point(ends), *texts, status, stamp.sequence + entry.moves, stamp.instant)


def _read(made: icalendar.Event) -> tuple[object, ...]:
    texts = (str(made["SUMMARY"]), str(made["DESCRIPTION"]), str(made.get("LOCATION", "")))
    points = (_point(made.decoded("DTSTART")), _point(made.decoded("DTEND")))
    return (str(made["UID"]), *points, *texts, str(made["STATUS"]), made.decoded("SEQUENCE"), made.decoded("DTSTAMP"))


def _point(when: date) -> object:
    """A date, or an instant with the wall clock that shows it."""
    if isinstance(when, datetime):
        return when.replace(tzinfo=None), when.utcoffset() or timedelta(0)
    return when
