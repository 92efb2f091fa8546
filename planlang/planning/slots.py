"""On which days of a calendar week which sessions fall: day rules, phases, turns, away days, visits.

All of it depends on the calendar week, on the training week whose lines are in force, and on whose
turn it is; never on how far a ladder has come.
"""

from __future__ import annotations

from datetime import time, timedelta
from functools import cached_property

from attrs import define, evolve, field, frozen

from planlang.model.exercise import Window
from planlang.model.session import Days, Session
from planlang.planning.chooser import choose, spaced
from planlang.planning.weeks import Calendar

WEEK = tuple(range(7))
Turns = tuple[int, ...]


@frozen
class Slot:
    """A session on one day of a week. `offset`: 0 to 6 from the week's first day.

    `at`: the time of day, None where none is said. `count` sessions without a day of their own where
    the person chooses (`untimed`). `contact`: a visit without exercise.
    """

    session: Session
    offset: int
    at: time | None = None
    untimed: bool = False
    count: int = 1
    visit: bool = False
    contact: bool = False


@frozen
class Group:
    """Sessions that share days in turn; the first has the `days` lines. Most hold one session."""

    members: tuple[Session, ...]
    works: frozenset[str] = field(eq=False)

    @property
    def lead(self) -> Session:
        """The session whose days they are."""
        return self.members[0]


def line_in_force(session: Session, training_week: int) -> Days | None:
    """The `days` line for a training week: one with training weeks of its own goes before one without.

    None outside the session's training weeks, and in the weeks between of `once every n weeks`.
    """
    if session.window and training_week not in session.window:
        return None
    lines = session.days
    line = next((d for d in lines if d.window and training_week in d.window), None)
    line = line or next((d for d in lines if not d.window), None)
    if line and line.every_weeks > 1 and (training_week - first_week(session, line)) % line.every_weeks:
        return None
    return line


def first_week(session: Session, line: Days) -> int:
    """The first training week in which a line of a session holds."""
    starts = [min((a for a, _ in w.ranges), default=1) for w in (session.window, line.window) if w]
    return max(starts, default=1)


def can_be_met(line: Days) -> bool:
    """False for a day rule that no set of days meets (`4 a week with 1 day between`)."""
    if line.fixed:
        return not line.between or spaced(line.fixed, line.between)
    if line.you_choose or line.every_second:
        return True
    if line.low is None or line.low < 1:
        return False
    return choose(line.low, line.among or WEEK, line.between or 0) is not None


def stands(session: Session, lead: Session, training_week: int) -> bool:
    """True where the lines, by themselves, put the session in a training week."""
    here = session.window is None or training_week in session.window
    return here and line_in_force(lead, training_week) is not None


def within(window: Window | None, training_week: int) -> bool:
    """True where there is no window or the training week lies in it."""
    return window is None or training_week in window


@define(frozen=True, slots=False, eq=False)
class Timetable:
    """The days of every session of a plan."""

    calendar: Calendar
    _patterns: dict[tuple[object, ...], tuple[tuple[int, ...] | None, ...]] = field(factory=dict, init=False)

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """The sessions in the order of the file, those in turn put together."""
        plan = self.calendar.plan
        works = {e.name: e.works for e in plan.exercises}
        lead_of = self.leads
        found: dict[str, list[Session]] = {}
        for session in plan.sessions:
            found.setdefault(lead_of[session.name].name, []).append(session)
        groups = []
        for lead, members in found.items():
            first = next(s for s in members if s.name == lead)
            ordered = (first, *(s for s in members if s is not first))
            muscles = frozenset(m for s in ordered for e in s.do for m in works.get(e, ()))
            groups.append(Group(ordered, muscles))
        return tuple(groups)

    @cached_property
    def leads(self) -> dict[str, Session]:
        """For each session's name the session whose days it has: itself, or the one it is in turn with."""
        sessions = {s.name: s for s in self.calendar.plan.sessions}
        partners: dict[str, set[str]] = {name: {name} for name in sessions}
        for session in sessions.values():
            other = session.in_turn_with
            if other in partners and partners[other] is not partners[session.name]:
                joined = partners[session.name] | partners[other]
                for name in joined:
                    partners[name] = joined
        leads: dict[str, Session] = {}
        for name in sessions:
            together = [s for n, s in sessions.items() if n in partners[name]]
            leads[name] = next((s for s in together if s.days), together[0])
        return leads

    @property
    def first_turns(self) -> Turns:
        """Whose turn it is before the first week, one number a group."""
        return (0,) * len(self.groups)

    def training(self, week: int, training_week: int, turns: Turns) -> tuple[tuple[Slot, ...], Turns]:
        """The slots of a calendar week under the lines of a training week, and whose turn it is after it.

        Days away are left out, or moved within the week where the session says so. Visits are marked.
        """
        lines = tuple(line_in_force(g.lead, training_week) for g in self.groups)
        away = self.calendar.away_days.get(week, frozenset())
        held = self._held(week, lines, away)
        slots: list[Slot] = []
        after = list(turns)
        for i, (group, line, days) in enumerate(zip(self.groups, lines, held, strict=True)):
            if line is None:
                continue
            active = [within(s.window, training_week) for s in group.members]
            if not any(active):
                continue
            if line.you_choose:
                count = min(line.low or 1, 7 - len(away))
                free = next(d for d in WEEK if d not in away)
                picked, after[i] = _turns(group, active, after[i], (free,) * count)
                for session in dict.fromkeys(s for s, _ in picked):
                    own = sum(1 for s, _ in picked if s is session)
                    slots.append(Slot(session, free, untimed=True, count=own))
                continue
            picked, after[i] = _turns(group, active, after[i], days)
            for session, day in picked:
                slots.extend(_at_times(session, day))
        return self._visits(week, training_week, tuple(slots)), tuple(after)

    def contacts(self, week: int, training_week: int) -> tuple[Slot, ...]:
        """The visits of a week without sessions, as contact only."""
        return self._visits(week, training_week, ())

    def away(self, week: int, training_week: int) -> tuple[Slot, ...]:
        """What the away lines of a wholly away week name, on its own days within each line."""
        slots: list[Slot] = []
        dates = [self.calendar.start_of(week) + timedelta(days=d) for d in WEEK]
        for line in self.calendar.lines_of(week):
            session = self.calendar.plan.session(line.session) if line.session else None
            if session is None:
                continue
            days = [d for d in WEEK if line.first <= dates[d] <= line.last]
            rule = self._any_line(self.leads[session.name], training_week)
            taken = {s.offset for s in slots if s.session is session}
            if rule is None or rule.you_choose:
                count = min((rule.low or 1) if rule else 1, len(days))
                if not taken:
                    slots.append(Slot(session, days[0], untimed=True, count=count))
                continue
            own = self._days(rule, week, ())
            slots.extend(slot for d in own or () if d in days and d not in taken for slot in _at_times(session, d))
        return tuple(sorted(slots, key=_when))

    def possible_days(self, session: Session, week: int) -> frozenset[int]:
        """The offsets on which a session could fall in a calendar week under some placement of rest."""
        days: set[int] = set()
        lead = self.leads[session.name]
        place = next(i for i, g in enumerate(self.groups) if g.lead is lead)
        for training_week in self.calendar.may_be(week):
            lines = tuple(line_in_force(g.lead, training_week) for g in self.groups)
            line = lines[place]
            if within(session.window, training_week) and line and not line.you_choose:
                days.update(self._pattern(week, lines)[place] or ())
        return frozenset(days)

    def _pattern(self, week: int, lines: tuple[Days | None, ...]) -> tuple[tuple[int, ...] | None, ...]:
        """The offsets of each group's days before anything is away; fixed days first, then in order."""
        parity = (7 * (week - 1)) % 2 if any(line and line.every_second for line in lines) else 0
        key = (parity, *map(id, lines))
        if key in self._patterns:
            return self._patterns[key]
        found: list[tuple[int, ...] | None] = [None] * len(lines)
        by_choice = [i for i, line in enumerate(lines) if line and not (line.fixed or line.every_second)]
        fixed = [i for i, line in enumerate(lines) if line and i not in by_choice]
        for i in fixed + by_choice:
            line, works = lines[i], self.groups[i].works
            if line is None or line.you_choose:
                continue
            others = [d for j, days in enumerate(found) if days and works & self.groups[j].works for d in days]
            found[i] = self._days(line, week, tuple(sorted(others)))
        self._patterns[key] = tuple(found)
        return self._patterns[key]

    def _days(self, line: Days, week: int, others: tuple[int, ...]) -> tuple[int, ...] | None:
        if not can_be_met(line):
            return None
        if line.every_second:
            return tuple(d for d in WEEK if (7 * (week - 1) + d) % 2 == 0)
        if line.fixed:
            return tuple(sorted({self._offset(day) for day in line.fixed}))
        allowed = tuple(sorted(self._offset(day) for day in line.among)) or WEEK
        return choose(line.low or 1, allowed, line.between or 0, others)

    def _offset(self, weekday: int) -> int:
        return (weekday - self.calendar.starts.weekday()) % 7

    def _held(self, week: int, lines: tuple[Days | None, ...], away: frozenset[int]) -> list[tuple[int, ...]]:
        """The days that are left of each group in a week, those moved among them."""
        pattern = self._pattern(week, lines)
        held = [tuple(d for d in days or () if d not in away) for days in pattern]
        if not away:
            return held
        for i, (line, days) in enumerate(zip(lines, pattern, strict=True)):
            group = self.groups[i]
            gone = len(days or ()) - len(held[i])
            if not gone or line is None or group.lead.if_not_done != "move within the week":
                continue
            taken = {d for days in held for d in days}
            among = {self._offset(day) for day in line.among} or set(WEEK)
            free = tuple(sorted(among - away - taken))
            others = tuple(
                sorted(d for j, own in enumerate(held) if j != i and group.works & self.groups[j].works for d in own)
            )
            for count in range(gone, 0, -1):
                moved = choose(count, free, line.between or 0, others, held[i])
                if moved:
                    held[i] = tuple(sorted(held[i] + moved))
                    break
        return held

    def _any_line(self, session: Session, training_week: int) -> Days | None:
        """A line for a week in which none need be in force: that of the training week, else the first."""
        return line_in_force(session, training_week) or next(iter(session.days), None)

    def _visits(self, week: int, training_week: int, slots: tuple[Slot, ...]) -> tuple[Slot, ...]:
        """The slots with the visits of a calendar week marked; a visit that finds no session is contact only.

        A session with nothing to do stands only for its visits.
        """
        found = list(slots)
        for session in self.calendar.plan.sessions:
            due = visits_in(session, week)
            if not due and not (session.visits and not session.do):
                continue
            own = sorted((s for s in found if s.session is session), key=_when)
            rest = [s for s in found if s.session is not session]
            marked: list[Slot] = []
            for slot in own:
                here = min(due, slot.count)
                due -= here
                if here:
                    marked.append(evolve(slot, count=here, visit=True, contact=not session.do))
                if slot.count > here and session.do:
                    marked.append(evolve(slot, count=slot.count - here))
            if due and not own:
                marked.extend(self._contacts_of(session, week, training_week, due))
            found = rest + marked
        return tuple(found)

    def _contacts_of(self, session: Session, week: int, training_week: int, due: int) -> list[Slot]:
        away = self.calendar.away_days.get(week, frozenset())
        if len(away) == 7:
            return []
        rule = self._any_line(self.leads[session.name], training_week)
        days = self._days(rule, week, ()) if rule and not rule.you_choose else None
        left = [d for d in days or () if d not in away]
        if left:
            slots = [slot for d in left for slot in _at_times(session, d)]
            return [evolve(slot, visit=True, contact=True) for slot in slots[:due]]
        free = next(d for d in WEEK if d not in away)
        return [Slot(session, free, untimed=True, count=due, visit=True, contact=True)]


def _at_times(session: Session, day: int) -> list[Slot]:
    return [Slot(session, day, at) for at in sorted(session.times)] or [Slot(session, day)]


def _when(slot: Slot) -> tuple[int, time]:
    return slot.offset, slot.at or time.min


def visits_in(session: Session, week: int) -> int:
    """How many visits a session has in a calendar week."""
    return sum(count for visit in session.visits for number, count in visit.weeks if number == week)


def _turns(group: Group, active: list[bool], turn: int, days: tuple[int, ...]) -> tuple[list[tuple[Session, int]], int]:
    """Who takes each day, and whose turn it is after them."""
    picked: list[tuple[Session, int]] = []
    size = len(group.members)
    for day in days:
        while not active[turn]:
            turn = (turn + 1) % size
        picked.append((group.members[turn], day))
        turn = (turn + 1) % size
    return picked, turn
