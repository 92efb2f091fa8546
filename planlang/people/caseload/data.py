"""One line a person: why they are on the list, when something was last told, what is next."""

from __future__ import annotations

from datetime import date
from enum import IntEnum

from planlang.text.data import frozen


class Why(IntEnum):
    """Why somebody is on the list, the most pressing first."""

    CANNOT_BE_READ = 0
    OPEN_FLAG = 1
    FLARE = 2
    FALL = 3
    PAST_ITS_DATES = 4
    OVER_THE_LIMIT = 5
    TARGET_NOT_ALWAYS = 6
    NO_NEWS = 7
    TWO_PLANS = 8


@frozen
class Reason:
    """One reason in words, with the day that it is about, if any."""

    why: Why
    text: str
    day: date | None = None


@frozen
class Person:
    """A person by code. reasons: the most pressing first, or none. next_review: the next date on which they are due."""

    code: str
    reasons: tuple[Reason, ...] = ()
    last_entry: date | None = None
    next_review: date | None = None
    files: tuple[str, ...] = ()

    @property
    def order(self) -> tuple[int, date, str]:
        """What the list is put in order by: the most pressing reason, the older day first, then the code."""
        if not self.reasons:
            return len(Why), self.next_review or date.max, self.code
        first = self.reasons[0]
        return first.why, first.day or date.max, self.code


@frozen
class Caseload:
    """Everybody, in order. as_of: the day looked back from; rules: how many rules about diaries ran."""

    as_of: date | None
    people: tuple[Person, ...]
    rules: int = 0
    off: tuple[str, ...] = ()

    @property
    def listed(self) -> tuple[Person, ...]:
        """Those for whom there is a reason."""
        return tuple(p for p in self.people if p.reasons)
