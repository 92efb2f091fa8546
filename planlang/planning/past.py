"""What a diary says of a plan's weeks so far: which were easier ones, what became of each session, what counts."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from enum import StrEnum
from types import MappingProxyType

from attrs import field

from planlang.model.diary import Diary, Entry
from planlang.model.plan import Plan
from planlang.planning.week import Weeks
from planlang.text.data import frozen

NOTHING: Mapping[str, frozenset[int]] = MappingProxyType({})


class Outcome(StrEnum):
    """What became of a session that was due. `ahead`: its day has not come."""

    DONE = "done"
    PART = "part"
    NOT_DONE = "not done"
    BLANK = "blank"
    AHEAD = "ahead"


@frozen
class Held:
    """One session that was due: in which calendar week, the how-manieth of its name there (from 1), on which day.

    day: the day it was due on, moved ones on the day they were moved to; None where the person picks the days.
    on: when it was done. done: the exercises done in it. entry: what was written of it.
    """

    week: int
    name: str
    order: int
    day: date | None
    outcome: Outcome
    on: date | None = None
    done: tuple[str, ...] = ()
    exercises: tuple[str, ...] = ()
    moved_from: date | None = None
    entry: Entry | None = None

    @property
    def due(self) -> bool:
        """Whether it counts among those due so far."""
        return self.outcome is not Outcome.AHEAD


@frozen
class Looking:
    """What the reckoning takes from a diary; empty where nothing happened otherwise than planned.

    rest: calendar weeks that were easier ones. uncounted: by exercise, training weeks in which too little of it was
    done for it to go up. halted: by exercise, weeks in which its joint rested. stilled: days whose sessions were
    replaced by what goes on in an easier week. turns: by calendar week, whose turn it was after it, where told; now:
    up to which day the week under way is told, and whose turn it is after that day; sat: by group of sessions in turn
    and day, which of them was done then. moved: by (session, day it was due on) the day it was moved to, one for each
    of that day. held: by calendar week, how many sessions (days) were held, or are still ahead, with what was done in
    them.
    """

    rest: frozenset[int] = frozenset()
    uncounted: Mapping[str, frozenset[int]] = NOTHING
    halted: Mapping[str, frozenset[int]] = NOTHING
    stilled: frozenset[date] = frozenset()
    turns: Mapping[int, tuple[int, ...]] = MappingProxyType({})
    now: tuple[date, tuple[int, ...]] | None = None
    sat: Mapping[tuple[int, date], str] = MappingProxyType({})
    moved: Mapping[tuple[str, date], tuple[date, ...]] = MappingProxyType({})
    held: Mapping[int, tuple[tuple[int, tuple[str, ...]], ...]] = MappingProxyType({})


@frozen
class Past:
    """A plan's weeks so far, as its diary tells them up to `as_of`.

    week: the calendar week that holds `as_of`, 1 before the plan and one past the last after it. looking: what the
    reckoning takes from it. held: every session that was due in weeks that have begun. extra: what was done beside
    the plan. unmatched: what was said not to be done where nothing was due. weeks: the plan reckoned with all of this.
    """

    plan: Plan = field(repr=False)
    diary: Diary = field(repr=False)
    as_of: date
    week: int
    looking: Looking
    held: tuple[Held, ...] = ()
    extra: tuple[Entry, ...] = ()
    unmatched: tuple[Entry, ...] = ()
    weeks: Weeks = field(kw_only=True, repr=False)

    @property
    def rest(self) -> frozenset[int]:
        """The calendar weeks that were easier ones, the one under way among them."""
        return self.looking.rest

    @property
    def first_open_week(self) -> int:
        """The first calendar week in which an easier week may still fall: the one under way, unless it is over with
        `as_of` or is an easier one already.
        """
        starts = self.plan.starts
        over = starts is not None and self.as_of >= starts and (self.as_of - starts).days % 7 == 6
        return self.week + (over or self.week in self.rest)

    @property
    def done(self) -> int:
        """Sessions done, wholly or in part."""
        return sum(h.outcome in (Outcome.DONE, Outcome.PART) for h in self.held)

    @property
    def due(self) -> int:
        """Sessions due so far: in easier weeks none are."""
        return sum(h.due for h in self.held)

    @property
    def blank(self) -> int:
        """Sessions due of which nothing is written."""
        return sum(h.outcome is Outcome.BLANK for h in self.held)
