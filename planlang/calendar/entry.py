"""One calendar entry, before it is written."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from enum import StrEnum

from attrs import field

from planlang.text.data import frozen


class Kind(StrEnum):
    """What an entry is about. The words are part of an entry's identity: never change one."""

    SESSION = "session"
    SPARE = "spare"
    AWAY = "away"
    AWAY_SESSION = "away session"
    CONTACT = "contact"
    EASIER_WEEK = "easier week"
    DAILY = "daily"
    TARGET = "target"
    REVIEW = "review"
    TASK = "task"
    GONE = "gone"


def _instant(when: date) -> date:
    """Two times of one zone compare as wall clocks, which an hour that comes twice puts in the wrong order."""
    return when.astimezone(UTC) if isinstance(when, datetime) else when


@frozen
class Entry:
    """An entry with its time: from `starts` to `ends`, the end exclusive.

    All-day entries carry dates, all others instants with a zone (a whole or a part of a day is never
    floating). Raises ValueError where the end is not after the start or the two are of different types.
    """

    kind: Kind
    uid: str
    starts: date
    ends: date = field()
    summary: str
    description: str
    location: str | None = None
    cancelled: bool = False
    moves: int = 0  # how many things in a diary have moved it: its sequence number is so much higher

    @ends.validator
    def _in_order(self, attribute: object, value: date) -> None:
        if isinstance(self.starts, datetime) is not isinstance(value, datetime):
            raise ValueError("an entry begins and ends with a date, or begins and ends with an instant")
        if isinstance(self.starts, datetime) and self.starts.tzinfo is None:
            raise ValueError("an entry's time needs a zone")
        if _instant(value) <= _instant(self.starts):
            raise ValueError("an entry ends after it begins")

    @property
    def all_day(self) -> bool:
        """True where the entry stands for whole days."""
        return not isinstance(self.starts, datetime)

    @property
    def first_day(self) -> date:
        """The day on which it begins, by its own zone's clock."""
        return self.starts.date() if isinstance(self.starts, datetime) else self.starts

    @property
    def last_day(self) -> date:
        """The last day that it touches, by its own zone's clock."""
        if isinstance(self.ends, datetime):
            return (self.ends - timedelta(microseconds=1)).date()
        return self.ends - timedelta(days=1)


@frozen
class Moves:
    """What in a diary has moved entries: the first days of its easier weeks, and how many things in all."""

    rests: tuple[date, ...] = ()
    total: int = 0

    def of_gone(self, entry: Entry, so_far: int) -> int:
        """How many have moved an entry that is no longer there, `so_far` those of its last version.

        The easier weeks up to it; where they alone are no news to whoever has that version, all there are.
        """
        before = sum(day <= entry.first_day for day in self.rests)
        return before if before >= so_far + (not entry.cancelled) else self.total


UNMOVED = Moves()
