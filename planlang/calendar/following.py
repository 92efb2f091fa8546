"""A calendar that follows what happened: what is to come stands as the diary leaves it, what is over as it was.

An entry that is over stands as it was known the day before its last day, so that no later line of a diary changes it;
one to come stands as it is known now. All of it follows from the plan and the diary: no former calendar is needed,
and easier weeks taken one by one end in the same calendar as all at once.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from attrs import evolve, field

from planlang.calendar.entry import Entry, Kind, Moves
from planlang.calendar.events import in_order, of_dates, of_week, uid_of
from planlang.calendar.identity import Identities
from planlang.model.diary import Diary, What
from planlang.model.plan import Plan
from planlang.planning.looking_back import past_of
from planlang.planning.moving import Moved, Place, moved_within, with_moved
from planlang.planning.past import Outcome, Past
from planlang.planning.reckon import reckon
from planlang.planning.slots import timetable_of
from planlang.planning.stretches import rest_weeks
from planlang.planning.telling.course import Course
from planlang.planning.telling.telling import Contacts, Telling
from planlang.planning.week import Sitting, Week, WeekKind, Weeks
from planlang.text.data import define, frozen
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
    kept: dict[str, Entry] = {}
    known: list[Known] = []
    days = _turning_days(past)
    for day, until in zip(days, [*days[1:], None], strict=True):
        state = Known.at(past, day, known[-1].moved if known else {}, contacts, words)
        known.append(state)
        for entry in state.entries(Identities(plan, key), day, until):
            kept[entry.uid] = entry
    last = known[-1]
    for week in last.weeks.weeks:
        if week.kind is WeekKind.REST and week.starts <= past.as_of:
            ids = Identities(plan, key)
            gone = ids.of(Kind.DAILY, "", week.number)
            kept.pop(gone, None)
            easier = next(of_week(last.telling, Identities(plan, key), week, last.count))
            kept.setdefault(easier.uid, easier)
    for entry in of_dates(last.telling, Identities(plan, key)):
        kept[entry.uid] = entry
    rests = tuple(w.starts for w in last.weeks.weeks if w.kind is WeekKind.REST)
    return Followed(in_order(kept.values(), last.telling), Moves(rests, last.total))


def _turning_days(past: Past) -> list[date]:
    """The days after which the calendar may have been another: week ends, and days on which something moves it."""
    plan, diary = past.plan, past.diary
    calendar = timetable_of(plan).calendar
    first = calendar.starts - DAY
    if past.as_of <= first:
        return [past.as_of]
    days = {first, past.as_of}
    days |= {e.known_on for e in diary.of(*AT_ONCE) if first < e.known_on <= past.as_of}
    end = min(past.as_of, calendar.starts + (7 * calendar.length - 1) * DAY)
    resting: frozenset[int] | None = None
    day = first
    while day <= end:
        if (day - first).days % 7 == 0:
            days.add(day)
        now = rest_weeks(calendar, until(diary, day), day)
        if now != resting:
            days.add(day)
            resting = now
        day += DAY
    return sorted(days)


def until(diary: Diary, day: date) -> Diary:
    """What of a diary was known by the end of a day."""
    return evolve(diary, entries=tuple(e for e in diary.entries if e.known_on <= day))


@define(eq=False)
class Known:
    """The calendar as it stood at the end of a day, by what was known then."""

    plan: Plan
    past: Past
    moved: dict[Place, Moved]
    weeks: Weeks
    planned: Weeks  # with the same easier weeks and nothing else of the diary
    telling: Telling
    made_up: frozenset[Place] = frozenset()  # moved sessions that were done by then, before the day proposed
    course: Course = field(init=False)
    planned_course: Course = field(init=False)

    def __attrs_post_init__(self) -> None:
        self.course, self.planned_course = Course(self.weeks), Course(self.planned)

    @classmethod
    def at(cls, past: Past, day: date, before: dict[Place, Moved], contacts: Contacts, words: Words) -> Known:
        """What was known at the end of a day, `before` being the sessions moved by then."""
        then = past if day == past.as_of else past_of(past.plan, until(past.diary, day), day)
        moved = moved_within(then, before)
        weeks = with_moved(then.weeks, moved)
        made_up = frozenset(p for p, m in moved.items() if p in before and m.times > before[p].times)
        planned = reckon(past.plan, then.rest)
        return cls(past.plan, then, moved, weeks, planned, Telling(weeks, contacts, words), made_up)

    @property
    def total(self) -> int:
        """How many things in the diary have moved any entry."""
        looking = self.past.looking
        slow = set().union(*looking.uncounted.values(), *looking.halted.values())
        moves = sum(e.day <= self.past.as_of for e in self.past.diary.of(What.MOVED))
        return len(self.past.rest) + moves + sum(m.times for m in self.moved.values()) + len(slow | self._slips())

    def entries(self, ids: Identities, after: date, to: date | None) -> Iterator[Entry]:
        """The entries that are over after a day and by another one, None: ever; and those just made up."""
        asked = Identities(ids.plan, ids.key)
        made_up = {uid_of(week, s, asked) for week in self.weeks.weeks for s in week.sittings if self._made_up(week, s)}
        for week in self.weeks.weeks:
            if self._touches(week, after, to) or any(self._made_up(week, s) for s in week.sittings):
                for entry in of_week(self.telling, ids, week, self.count):
                    if (entry.last_day > after and (to is None or entry.last_day <= to)) or entry.uid in made_up:
                        yield entry

    def _made_up(self, week: Week, sitting: Sitting) -> bool:
        return (week.number, sitting.name, sitting.order) in self.made_up

    @staticmethod
    def _touches(week: Week, after: date, to: date | None) -> bool:
        days = [week.starts, week.starts + 6 * DAY, *(s.day for s in week.sittings if s.moved_from)]
        return max(days) + DAY > after and (to is None or min(days) <= to)

    def count(self, week: Week, sitting: Sitting | None) -> int:
        """How many things in the diary have moved an entry: easier weeks before it, moves, weeks that did not count."""
        here = week.kind is WeekKind.REST
        moves = sum(r < week.number or (here and r == week.number) for r in self.past.rest)
        if sitting is None:
            return moves + (0 if here else self._slowed(week, tuple(week.activities)))
        place = (week.number, sitting.name, sitting.order)
        if place in self.moved:
            moves += self.moved[place].times
        moves += self._said_moves(sitting, self.moved.get(place))
        if self._as_planned(week, sitting):
            return moves
        return moves + max(1, self._slowed(week, sitting.exercises) or len(self._slips(week.number)))

    def _said_moves(self, sitting: Sitting, within: Moved | None) -> int:
        """How many lines of the diary move a session, one after another."""
        goal = within.was if within else sitting.day
        day, found = sitting.moved_from, 0
        lines = {(e.name, e.day): e.to for e in self.past.diary.of(What.MOVED)}
        while day is not None and day != goal and found < len(lines):
            day, found = lines.get((sitting.name, day)), found + 1
        return found

    def _as_planned(self, week: Week, sitting: Sitting) -> bool:
        """True where the same easier weeks alone would have brought the same session, its day aside."""
        same = self.planned.weeks[week.number - 1]
        twin = next((s for s in same.sittings if (s.name, s.order) == (sitting.name, sitting.order)), None)
        if twin is None or twin.exercises != sitting.exercises or twin.day != (sitting.moved_from or sitting.day):
            return False
        return all(self._done_as_planned(name, week.number) for name in sitting.exercises)

    def _done_as_planned(self, name: str, week: int) -> bool:
        done = self.course.done(name, week)
        if done != self.planned_course.done(name, week):
            return False
        return not (done and done.easing) or self.course.last_own(name, week) == self.planned_course.last_own(
            name, week
        )

    def _slowed(self, week: Week, names: tuple[str, ...]) -> int:
        """How many weeks that did not count, or in which a joint rested, have changed what is done of these."""
        if all(self._done_as_planned(name, week.number) for name in names):
            return 0
        looking = self.past.looking
        found: set[int] = set()
        for name in names:
            found |= {w for w in looking.uncounted.get(name, ()) if w < week.number}
            found |= {w for w in looking.halted.get(name, ()) if w <= week.number}
        return max(1, len(found))

    def _slips(self, before: int | None = None) -> set[int]:
        """The weeks in which one of the sessions that take turns was not done."""
        shared = {m.name for g in timetable_of(self.plan).groups if len(g.members) > 1 for m in g.members}
        slipped = (h for h in self.past.held if h.name in shared and h.outcome in (Outcome.NOT_DONE, Outcome.BLANK))
        return {h.week for h in slipped if before is None or h.week <= before}
