"""The calendar that was given out before: what is gone from it is cancelled, and a change needs a new revision."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime
from zoneinfo import ZoneInfo

import icalendar
from attrs import evolve

from planlang.calendar.entry import UNMOVED, Entry, Kind, Moves
from planlang.calendar.writing import PRODUCT
from planlang.text.data import frozen
from planlang.text.languages.words import Words

ASIDE = re.compile(r" \([^()]*\)$")  # `(easier)`, `(visit)`
STAMPED = ("DTSTAMP", "SEQUENCE")
A_REVISION = 1000  # sequence numbers that one revision of a plan takes


class NotOurs(Exception):
    """The file given as the previous calendar is not one, or not this plan's; the text says which and what to do."""


@frozen
class Previous:
    """A calendar that was written before.

    `contents` gives each UID the entry's lines without stamp and sequence, `sequences` its sequence number.
    """

    uid: str
    sequences: dict[str, int]
    contents: dict[str, tuple[str, ...]]
    live: dict[str, Entry]
    cancelled: dict[str, Entry]

    @property
    def sequence(self) -> int:
        """The highest sequence number of its entries."""
        return max(self.sequences.values(), default=0)

    def gone(
        self,
        now: Iterable[Entry],
        uid: str,
        zone: ZoneInfo | None,
        words: Words,
        moves: Moves = UNMOVED,
        base: int = 0,
    ) -> tuple[Entry, ...]:
        """Cancellations for what is no longer there, those of former versions carried on. By date.

        `uid` is that of the new calendar, `moves` what in a diary has moved its entries, `base` the sequence number
        of those that nothing moved. Raises NotOurs where the old one is of another plan.
        """
        if self.uid != uid:
            raise NotOurs(
                "it is another plan's, or the title, the person's code or the calendar key has changed. Then remove the"
                " old calendar from the phone by hand, and compile without --previous"
            )
        uids = {entry.uid for entry in now}
        known = {**self.live, **self.cancelled}
        found = (
            evolve(cancel(entry, zone, words), moves=moves.of_gone(entry, self.sequences[uid] - base))
            for uid, entry in known.items()
            if uid not in uids
        )
        return tuple(sorted(found, key=lambda e: (e.first_day, e.starts.isoformat(), e.uid)))

    def clashes(self, data: bytes, sequence: int) -> bool:
        """True where programs would not take a new calendar's changes: it says something else with no higher number.

        `sequence` is that of its entries before anything moved them. An entry that is new needs one that has moved it,
        or a higher revision of the plan.
        """
        new = icalendar.Calendar.from_ical(data)
        contents, sequences = _contents(new), _sequences(new)
        if sequence // A_REVISION < self.sequence // A_REVISION:
            return True
        fresh = sequence > self.sequence
        return any(
            sequences[uid] <= self.sequences.get(uid, 0 if fresh else sequence) and said != self.contents.get(uid)
            for uid, said in contents.items()
        )


def cancel(entry: Entry, zone: ZoneInfo | None, words: Words) -> Entry:
    """The entry, cancelled: it says what is off and nothing of what was to be done, nor how easy it would have been."""
    starts, ends = entry.starts, entry.ends
    if zone and isinstance(starts, datetime) and isinstance(ends, datetime):
        starts, ends = starts.astimezone(zone), ends.astimezone(zone)
    what = ASIDE.sub("", entry.summary)
    summary = entry.summary if entry.cancelled else words.say("gone.title", what=what)
    text = words.say("gone.line")
    return evolve(entry, starts=starts, ends=ends, summary=summary, description=text, location=None, cancelled=True)


def read_previous(data: bytes) -> Previous:
    """A calendar written before. Raises NotOurs where it is none of this program's, or damaged."""
    try:
        calendar = icalendar.Calendar.from_ical(data)
    except (ValueError, KeyError, IndexError) as fault:
        raise NotOurs("it is not a calendar file, or it is damaged") from fault
    if str(calendar.get("PRODID", "")) != PRODUCT:
        raise NotOurs("it was not written by planlang compile")
    try:
        entries = {str(e["UID"]): entry_of(e) for e in calendar.events}
        sequences = _sequences(calendar)
    except (ValueError, KeyError, TypeError, AttributeError) as fault:
        raise NotOurs("some of its entries are damaged") from fault
    return Previous(
        str(calendar.get("UID", "")),
        sequences,
        _contents(calendar),
        {uid: entry for uid, entry in entries.items() if not entry.cancelled},
        {uid: entry for uid, entry in entries.items() if entry.cancelled},
    )


def _sequences(calendar: icalendar.Calendar) -> dict[str, int]:
    return {str(e["UID"]): int(e.decoded("SEQUENCE")) for e in calendar.events}


def _contents(calendar: icalendar.Calendar) -> dict[str, tuple[str, ...]]:
    return {
        str(e["UID"]): tuple(str(e.content_line(n, v)) for n, v in e.property_items() if n not in STAMPED)
        for e in calendar.events
    }


def entry_of(event: icalendar.Event) -> Entry:
    """A written event as an entry. Raises KeyError or ValueError where it lacks what every entry has."""
    starts: date = event.decoded("DTSTART")
    ends: date = event.decoded("DTEND")
    return Entry(
        Kind.GONE,
        str(event["UID"]),
        starts,
        ends,
        str(event["SUMMARY"]),
        str(event["DESCRIPTION"]),
        str(event["LOCATION"]) if "LOCATION" in event else None,
        cancelled=str(event.get("STATUS", "")) == "CANCELLED",
    )
