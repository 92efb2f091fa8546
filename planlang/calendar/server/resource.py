"""One entry as a server keeps it (RFC 4791, 4.1: one UID a resource), with the marks by which it is known again.

Servers write what they are given anew, in their own order: bytes never compare equal. So an entry carries a digest of
what it said when we wrote it. Where what it says now has another digest, somebody else has changed it.
"""

from __future__ import annotations

import hashlib
import json
import unicodedata
from datetime import UTC, date, datetime
from functools import lru_cache
from zoneinfo import ZoneInfo

import icalendar

from planlang.calendar.entry import Entry
from planlang.calendar.folding import fold
from planlang.calendar.previous import entry_of
from planlang.calendar.writing import PRODUCT, Stamp, check, event
from planlang.calendar.zone import zone_block
from planlang.text.data import frozen

CALENDAR_MARK = "X-PLANLANG-CALENDAR"
DIGEST_MARK = "X-PLANLANG-DIGEST"
# What a program may put in on its own says nothing that a person meant.
UNSAID = {"BEGIN", "END", "DTSTAMP", "SEQUENCE", "CREATED", "LAST-MODIFIED", "CLASS"}
TIMES = ("DTSTART", "DTEND")


@frozen
class Wanted:
    """An entry that is to stand on the server, with the mark of its plan's calendar. `digest` is of what it says."""

    entry: Entry
    zone: ZoneInfo | None
    stamp: Stamp
    calendar: str
    digest: str

    @property
    def sequence(self) -> int:
        """Its sequence number."""
        return self.stamp.sequence + self.entry.moves

    def data(self) -> bytes:
        """The whole resource as it is sent."""
        made = event(self.entry, self.stamp)
        made.add(CALENDAR_MARK, self.calendar)
        made.add(DIGEST_MARK, self.digest)
        whole = icalendar.Calendar()
        whole.add("prodid", PRODUCT)
        whole.add("version", "2.0")
        if self.zone and any("TZID" in made[name].params for name in TIMES):
            whole.add_component(_block(self.zone, self.entry.first_day.year, self.entry.last_day.year))
        whole.add_component(made)
        data = b"".join(fold(line) for line in whole.content_lines() if line)
        check(data, (self.entry,), self.stamp)
        return data


@frozen
class Kept:
    """An event that stands on the server. `entry` is None where it holds what no entry of ours can.

    `calendar`: the mark of the plan's calendar, `digest`: of what it says now, `written`: of what it said when we
    wrote it; both marks are None where nobody of us wrote it.
    """

    href: str
    etag: str | None
    uid: str
    calendar: str | None
    digest: str
    written: str | None
    sequence: int
    entry: Entry | None

    @property
    def touched(self) -> bool:
        """True where somebody else has changed it since we wrote it."""
        return self.digest != self.written


def wanted(entry: Entry, zone: ZoneInfo | None, stamp: Stamp, calendar: str) -> Wanted:
    """An entry ready to be compared and sent."""
    return Wanted(entry, zone, stamp, calendar, digest_of(event(entry, stamp)))


@lru_cache(maxsize=64)
def _block(zone: ZoneInfo, first: int, last: int) -> icalendar.Timezone:
    """The zone block of whole years, which many entries share."""
    return zone_block(zone, date(first, 1, 1), date(last, 12, 31))


def kept(href: str, etag: str | None, data: str | bytes) -> Kept | None:
    """An event as a server gave it; None where the resource holds no event that can be read, or more than one."""
    try:
        events = icalendar.Calendar.from_ical(data).events
        if len(events) != 1:
            return None
        one = events[0]
        uid, digest = str(one["UID"]), digest_of(one)
    except (ValueError, KeyError, IndexError, TypeError, AttributeError):
        return None
    try:
        entry, sequence = entry_of(one), int(one.decoded("SEQUENCE")) if "SEQUENCE" in one else 0
    except (ValueError, KeyError, TypeError, AttributeError):
        entry, sequence = None, 0
    return Kept(href, etag, uid, _mark(one, CALENDAR_MARK), digest, _mark(one, DIGEST_MARK), sequence, entry)


def _mark(event: icalendar.Event, name: str) -> str | None:
    return str(event[name]).strip() if name in event else None


def digest_of(event: icalendar.Event) -> str:
    """A digest of everything in an event that a person may have meant: text, times, repeats, alarms, guests."""
    said = sorted(_said(event))
    parts = sorted(sorted(_said(part)) for part in event.subcomponents)
    return hashlib.sha256(json.dumps([said, parts], ensure_ascii=True).encode("ascii")).hexdigest()[:32]


def _said(component: icalendar.Component) -> list[list[str]]:
    found = [["BEGIN", str(component.name)]]
    for name, value in component.property_items(recursive=False):
        upper = str(name).upper()
        if upper in UNSAID or upper.startswith("X-"):
            continue
        if component.name == "VEVENT" and upper == "DURATION":  # another way to say DTEND
            found.append(["DTEND", _instant(component.decoded("DTSTART") + component.decoded("DURATION"))])
        else:
            found.append([upper, _instant(component.decoded(upper)) if upper in TIMES else _plain(value)])
    return found


def _instant(when: date) -> str:
    """A day, or an instant in UTC: a server may say the same instant by another zone."""
    return when.astimezone(UTC).isoformat() if isinstance(when, datetime) and when.tzinfo else when.isoformat()


def _plain(value: object) -> str:
    """A value with the same line ends and the same letters however they are put together."""
    to_ical = getattr(value, "to_ical", None)
    text = to_ical().decode("utf-8", "replace") if to_ical else str(value)
    if not isinstance(text, str):
        text = str(text)
    return unicodedata.normalize("NFC", text.replace("\\N", "\\n")).strip()
