"""Which session each line of a diary is about: lines matched with the sessions that were due."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from attrs import field

from planlang.model.diary import Diary, Entry, What
from planlang.model.plan import Plan
from planlang.planning.past import Held, Outcome
from planlang.planning.week import WeekKind, Weeks
from planlang.text.data import define

WEEK = timedelta(days=7)
TAKEN = {What.DONE: Outcome.DONE, What.PART: Outcome.PART}


@define(eq=False)
class Slot:
    """A session that was due, while it is looked for in the diary. Of `any_day` ones the day is None."""

    week: int
    starts: date
    name: str
    order: int
    day: date | None
    exercises: tuple[str, ...]
    group: int
    moved_from: date | None = None
    entry: Entry | None = None

    def far(self, entry: Entry) -> int:
        """How many days an entry's day is from this one's; days of one's own choosing are all as near."""
        return abs((entry.day - self.day).days) if self.day else 0


@define(eq=False)
class Matched:
    """Every session due with what became of it, lines about sessions that were not due, lines left over."""

    held: list[Held] = field(factory=list)
    extra: list[Entry] = field(factory=list)
    unmatched: list[Entry] = field(factory=list)


def matched(plan: Plan, diary: Diary, weeks: Weeks, as_of: date, stilled: frozenset[date] = frozenset()) -> Matched:
    """The sessions that were due in the weeks that have begun by `as_of`, each with its line of the diary.

    A line belongs to the session of its name on its day, a moved one's new day among these, else to one in turn with it
    on that day. Of the others, those of sessions done come first: to the nearest one of their calendar week of which
    nothing else is written, else to one said not to be done on a day before, which was made up; else nothing was due.
    """
    groups = _groups(plan)
    slots = [s for s in _slots(weeks, groups) if s.starts <= as_of]
    first = weeks.weeks[0].starts if weeks.weeks else date.max
    lines = [e for e in diary.entries if first <= e.day <= as_of and e.day < first + len(weeks.weeks) * WEEK]
    told = [e for e in lines if e.what in TAKEN] + [e for e in lines if e.what is What.NOT_DONE]
    told, surplus = _as_often_as_held(plan, slots, [e for e in told if e.name in groups])
    left = _on_the_day(slots, told, weeks, groups)
    done = _in_the_week(slots, [e for e in left if e.what in TAKEN], weeks, groups)
    not_done = [e for e in left if e.what is What.NOT_DONE and e.day not in stilled]
    found = Matched()
    found.unmatched = _in_the_week(slots, not_done, weeks, groups) + surplus
    found.held = [_held(slot, as_of) for slot in slots]
    found.extra = [e for e in lines if e.what is What.EXTRA] + done
    return found


def _as_often_as_held(plan: Plan, slots: list[Slot], told: list[Entry]) -> tuple[list[Entry], list[Entry]]:
    """The lines of each session and day, as many as it is held on a day; and those beyond, which count nowhere."""
    most: dict[tuple[str, date], int] = {}
    for slot in slots:
        if slot.day is not None:
            most[slot.name, slot.day] = most.get((slot.name, slot.day), 0) + 1
    times = {s.name: max(1, len(s.times)) for s in plan.sessions}
    kept: list[Entry] = []
    surplus: list[Entry] = []
    so_far: dict[tuple[str, date], int] = {}
    for entry in told:
        key = entry.name or "", entry.day
        so_far[key] = so_far.get(key, 0) + 1
        (kept if so_far[key] <= max(times.get(key[0], 1), most.get(key, 0)) else surplus).append(entry)
    return kept, surplus


def moves(diary: Diary, weeks: Weeks, as_of: date) -> Mapping[tuple[str, date], tuple[date, ...]]:
    """By session and the day it was due on, the days that sessions were moved to; moved twice, the last of them."""
    to: dict[tuple[str, date], list[date]] = {}
    for entry in diary.of(What.MOVED):
        if entry.day <= as_of and entry.to is not None:
            to.setdefault((entry.name or "", entry.day), []).append(entry.to)
    if not to:
        return {}
    days = {(s.name, s.moved_from or s.day): s.count for week in weeks.weeks for s in week.sittings if not s.any_day}
    found = {}
    for (name, day), first in to.items():
        ends = []
        for end in first:
            been = {day}
            while (name, end) in to and (name, end) not in days and end not in been:
                been.add(end)
                end = to[name, end][0]
            ends.append(end)
        found[name, day] = tuple(ends)
    return found


def _groups(plan: Plan) -> dict[str, int]:
    """Sessions in turn with one another bear one number."""
    groups = {s.name: i for i, s in enumerate(plan.sessions)}
    for session in plan.sessions:
        other = session.in_turn_with
        if other in groups:
            joined = {groups[session.name], groups[other]}
            groups = {name: min(joined) if of in joined else of for name, of in groups.items()}
    return groups


def _slots(weeks: Weeks, groups: dict[str, int]) -> Iterable[Slot]:
    for week in weeks.weeks:
        if week.kind is WeekKind.REST:
            continue  # easier weeks hold contacts only, and nothing is due in them
        for sitting in week.sittings:
            session = weeks.plan.session(sitting.name)
            if not sitting.exercises and session is not None and session.do:
                continue  # contact only
            for n in range(sitting.count):
                yield Slot(
                    week.number,
                    week.starts,
                    sitting.name,
                    sitting.order + n,
                    None if sitting.any_day else sitting.day,
                    sitting.exercises,
                    groups.get(sitting.name, -1),
                    sitting.moved_from,
                )


def _on_the_day(slots: list[Slot], told: list[Entry], weeks: Weeks, groups: dict[str, int]) -> list[Entry]:
    """Gives each line to the session of its name, or in turn with it, on its day; the lines that are left."""
    by_day: dict[date, list[Slot]] = {}
    for slot in slots:
        if slot.day is not None:
            by_day.setdefault(slot.day, []).append(slot)
    left = told
    for by_name in (True, False):
        remaining: list[Entry] = []
        for entry in left:
            group = groups.get(entry.name or "")
            here = (s for s in by_day.get(entry.day, ()) if s.entry is None)
            found = next((s for s in here if s.name == entry.name or (s.group == group and not by_name)), None)
            if found is None:
                remaining.append(entry)
            else:
                _give(found, entry, weeks)
        left = remaining
    return left


def _in_the_week(slots: list[Slot], told: list[Entry], weeks: Weeks, groups: dict[str, int]) -> list[Entry]:
    """Gives each line to the nearest open session of its week: of its name, else of one in turn with it.

    What was done also to one that was not done on a day before.
    """
    first = weeks.weeks[0].starts if weeks.weeks else date.min
    by_week: dict[int, list[Slot]] = {}
    for slot in slots:
        by_week.setdefault(slot.week, []).append(slot)
    left = told

    def own(slot: Slot, entry: Entry) -> bool:
        return slot.name == entry.name

    def in_turn(slot: Slot, entry: Entry) -> bool:
        return slot.group == groups.get(entry.name or "")

    def is_open(slot: Slot, entry: Entry) -> bool:
        return slot.entry is None

    def made_up(slot: Slot, entry: Entry) -> bool:
        before = slot.day is not None and slot.day < entry.day
        return before and slot.entry is not None and slot.entry.what is What.NOT_DONE and entry.what in TAKEN

    for free, alike in ((is_open, own), (is_open, in_turn), (made_up, own), (made_up, in_turn)):
        remaining: list[Entry] = []
        for entry in left:
            week = (entry.day - first).days // 7 + 1
            open_ones = [s for s in by_week.get(week, ()) if free(s, entry) and alike(s, entry)]
            found = min(open_ones, key=lambda s: (s.far(entry), s.day or s.starts), default=None)
            if found is None:
                remaining.append(entry)
                continue
            _give(found, entry, weeks)
        left = remaining
    return left


def _give(slot: Slot, entry: Entry, weeks: Weeks) -> None:
    slot.entry = entry
    if slot.name != entry.name and (session := weeks.plan.session(entry.name or "")):
        slot.name, slot.exercises = session.name, session.do


def _held(slot: Slot, as_of: date) -> Held:
    entry = slot.entry
    outcome = _outcome(slot, as_of)
    on: date | None = None
    done: tuple[str, ...] = ()
    if entry is not None and entry.what in TAKEN:
        on, done = entry.day, _done(slot, entry)
    return Held(slot.week, slot.name, slot.order, slot.day, outcome, on, done, slot.exercises, slot.moved_from, entry)


def _outcome(slot: Slot, as_of: date) -> Outcome:
    entry = slot.entry
    if entry is not None and entry.what in TAKEN:
        return Outcome.PART if entry.what is What.PART or entry.names else Outcome.DONE
    if entry is not None:
        return Outcome.NOT_DONE
    last = slot.day or slot.starts + WEEK - timedelta(days=1)
    return Outcome.AHEAD if last > as_of else Outcome.BLANK


def _done(slot: Slot, entry: Entry) -> tuple[str, ...]:
    """The exercises done: all but those left out; of a part, those that are named."""
    if entry.what is What.PART:
        return tuple(n for n in slot.exercises if n in entry.names)
    return tuple(n for n in slot.exercises if n not in entry.names)
