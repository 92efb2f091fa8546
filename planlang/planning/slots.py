"""On which days of a calendar week which sessions fall: day rules, phases, turns, away days, visits.

All of it depends on the calendar week, on the training week whose lines are in force, and on whose
turn it is; never on how far a ladder has come.
"""

from __future__ import annotations

from collections import OrderedDict
from datetime import timedelta
from functools import cached_property

from attrs import evolve, field

from planlang.model.plan import Plan
from planlang.model.session import Days, Session
from planlang.planning.chooser import choose
from planlang.planning.dayrules import WEEK, Group, can_be_met, groups_of, within
from planlang.planning.slot import Slot, at_times, mark_visits, visits_in
from planlang.planning.weeks import Calendar
from planlang.text.data import define

PLANS_KEPT = 8
Turns = tuple[int, ...]
Lines = tuple[Days | None, ...]
Offsets = tuple[int, ...]


@define(frozen=True, slots=False, eq=False)
class Timetable:
    """The days of every session of a plan."""

    calendar: Calendar
    _patterns: dict[tuple[object, ...], tuple[Offsets, ...]] = field(factory=dict, init=False)
    _weeks: dict[tuple[object, ...], tuple[tuple[Slot, ...], Turns]] = field(factory=dict, init=False)

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """The sessions, those in turn put together."""
        return groups_of(self.calendar.plan)

    @property
    def first_turns(self) -> Turns:
        """Whose turn it is before the first week, one number a group."""
        return (0,) * len(self.groups)

    def group_of(self, session: Session) -> int:
        """The place of a session's group among the groups."""
        return next(i for i, group in enumerate(self.groups) if session in group.members)

    def training(
        self,
        week: int,
        training_week: int,
        turns: Turns,
        now: tuple[int, Turns] | None = None,
        skipped: frozenset[int] = frozenset(),
    ) -> tuple[tuple[Slot, ...], Turns]:
        """The slots of a calendar week under the lines of a training week, and whose turn it is after it.

        Days away are left out, or moved within the week where the session says so. Visits are marked. Weeks
        that are alike get the very same slots. Looking back: `now`: after this day (0 to 6) of the week it is these
        turns; `skipped`: days that hold the turn.
        """
        lines = self._lines(training_week)
        away = self.calendar.away_days.get(week, frozenset())
        if away or self._visited or now is not None or skipped:
            return self._training(week, training_week, turns, lines, away, now, skipped)
        alternate = any(line and line.every_second for line in lines)
        active = tuple(any_ for group in self.groups for any_ in group.active(training_week))
        key = (week % 2 if alternate else 0, turns, active, *map(id, lines))
        found = self._weeks.get(key)
        if found is None:
            found = self._weeks[key] = self._training(week, training_week, turns, lines, away)
        return found

    @cached_property
    def _visited(self) -> bool:
        """Whether any session has visits, which stand in weeks of the calendar."""
        return any(session.visits for session in self.calendar.plan.sessions)

    def _training(
        self,
        week: int,
        training_week: int,
        turns: Turns,
        lines: Lines,
        away: frozenset[int],
        now: tuple[int, Turns] | None = None,
        skipped: frozenset[int] = frozenset(),
    ) -> tuple[tuple[Slot, ...], Turns]:
        slots: list[Slot] = []
        after = list(turns)
        for i, (group, line, days) in enumerate(zip(self.groups, lines, self._held(week, lines, away), strict=True)):
            if line is None:
                continue
            active = group.active(training_week)
            if line.you_choose:
                count = min(line.low or 1, 7 - len(away))
                picked, after[i] = _turns(group, active, after[i], (_first_free(away),) * count)
                # One entry a session, for as many as are its turn.
                for session in dict.fromkeys(s for s, _ in picked):
                    own = sum(1 for s, _ in picked if s is session)
                    slots.append(Slot(session, _first_free(away), untimed=True, count=own))
                continue
            if skipped and len(group.members) > 1:
                days = tuple(d for d in days if d not in skipped)
            told = days if now is None else tuple(d for d in days if d <= now[0])
            picked, after[i] = _turns(group, active, after[i], told)
            if now is not None:
                ahead, after[i] = _turns(group, active, now[1][i], days[len(told) :])
                picked += ahead
            for session, day in picked:
                slots.extend(at_times(session, day))
        return self._visits(week, training_week, slots), tuple(after)

    def contacts(self, week: int, training_week: int) -> tuple[Slot, ...]:
        """The visits of a week without sessions, as contact only."""
        return self._visits(week, training_week, [])

    def away(self, week: int, training_week: int) -> tuple[Slot, ...]:
        """What the away lines of a wholly away week name, on its own days within each line."""
        slots: list[Slot] = []
        dates = [self.calendar.start_of(week) + timedelta(days=d) for d in WEEK]
        for line in self.calendar.lines_of(week):
            session = self.calendar.plan.session(line.session) if line.session else None
            if session is None:
                continue
            days = [d for d in WEEK if line.first <= dates[d] <= line.last]
            taken = {s.offset for s in slots if s.session is session}
            rule = self.groups[self.group_of(session)].any_line(training_week)
            if rule is None or rule.you_choose:
                count = min((rule.low or 1) if rule else 1, len(days))
                if not taken:
                    slots.append(Slot(session, days[0], untimed=True, count=count))
                continue
            for day in self._days(rule, week, ()):
                if day in days and day not in taken:
                    slots.extend(at_times(session, day))
        return tuple(sorted(slots, key=lambda s: s.when))

    def possible_days(self, session: Session, week: int) -> frozenset[int]:
        """The offsets on which a session could fall in a calendar week under some placement of rest."""
        days: set[int] = set()
        place = self.group_of(session)
        for training_week in self.calendar.may_be(week):
            if within(session.window, training_week):
                days.update(self._pattern(week, self._lines(training_week))[place])
        return frozenset(days)

    def _lines(self, training_week: int) -> Lines:
        return tuple(group.line(training_week) for group in self.groups)

    def _pattern(self, week: int, lines: Lines) -> tuple[Offsets, ...]:
        """Each group's days before anything is away; fixed days first, then in order. None for `you choose`."""
        parity = week % 2 if any(line and line.every_second for line in lines) else 0
        key = (parity, *map(id, lines))
        if key in self._patterns:
            return self._patterns[key]
        found: list[Offsets] = [()] * len(lines)
        planned = [i for i, line in enumerate(lines) if line and not line.you_choose]
        by_choice = [i for i in planned if not _is_fixed(lines[i])]
        for i in [i for i in planned if _is_fixed(lines[i])] + by_choice:
            line = lines[i]
            if line is not None:
                found[i] = self._days(line, week, self._others(i, found))
        self._patterns[key] = tuple(found)
        return self._patterns[key]

    def _others(self, place: int, days: list[Offsets]) -> Offsets:
        """The days so far of the groups that train a muscle which this one trains, in order, repeats kept."""
        works = self.groups[place].works
        near = (own for i, own in enumerate(days) if i != place and works & self.groups[i].works)
        return tuple(sorted(day for own in near for day in own))

    def _days(self, line: Days, week: int, others: Offsets) -> Offsets:
        if not can_be_met(line):
            return ()  # a contradiction; the session is left out
        if line.every_second:
            return tuple(d for d in WEEK if (7 * (week - 1) + d) % 2 == 0)
        if line.fixed:
            return tuple(sorted({self._offset(day) for day in line.fixed}))
        allowed = tuple(sorted(self._offset(day) for day in line.among)) or WEEK
        return choose(line.low or 1, allowed, line.between or 0, others) or ()

    def _offset(self, weekday: int) -> int:
        return (weekday - self.calendar.starts.weekday()) % 7

    def _held(self, week: int, lines: Lines, away: frozenset[int]) -> list[Offsets]:
        """The days that are left of each group in a week, those moved among them."""
        pattern = self._pattern(week, lines)
        if not away:
            return list(pattern)
        held = [tuple(d for d in days if d not in away) for days in pattern]
        for i, (line, group) in enumerate(zip(lines, self.groups, strict=True)):
            gone = len(pattern[i]) - len(held[i])
            if not gone or line is None or group.lead.if_not_done != "move within the week":
                continue
            taken = {day for days in held for day in days}  # moving never puts two sessions on one day
            among = {self._offset(day) for day in line.among} or set(WEEK)
            free = tuple(sorted(among - away - taken))
            for count in range(gone, 0, -1):
                moved = choose(count, free, line.between or 0, self._others(i, held), held[i])
                if moved:
                    held[i] = tuple(sorted(held[i] + moved))
                    break
        return held

    def _visits(self, week: int, training_week: int, slots: list[Slot]) -> tuple[Slot, ...]:
        """The slots with the visits of a calendar week marked; a visit that finds no session is contact only."""
        found = slots
        for session in self.calendar.plan.sessions:
            due = visits_in(session, week)
            if not due and not (session.visits and not session.do):
                continue
            own = [s for s in found if s.session is session]
            marked = mark_visits(session, due, own) if own else self._contacts_of(session, week, training_week, due)
            found = [s for s in found if s.session is not session] + marked
        return tuple(found)

    def _contacts_of(self, session: Session, week: int, training_week: int, due: int) -> list[Slot]:
        away = self.calendar.away_days.get(week, frozenset())
        if len(away) == 7 or not due:
            return []
        rule = self.groups[self.group_of(session)].any_line(training_week)
        days = self._days(rule, week, ()) if rule and not rule.you_choose else ()
        slots = [slot for d in days if d not in away for slot in at_times(session, d)]
        if slots:
            return [evolve(slot, visit=True, contact=True) for slot in slots[:due]]
        return [Slot(session, _first_free(away), untimed=True, count=due, visit=True, contact=True)]


_KEPT: OrderedDict[int, Timetable] = OrderedDict()


def timetable_of(plan: Plan) -> Timetable:
    """The timetable of a plan that has a start and a length, kept for the plans asked for last: it knows no rest."""
    kept = _KEPT.get(id(plan))
    if kept is None or kept.calendar.plan is not plan:
        kept = _KEPT[id(plan)] = Timetable(Calendar(plan))
        if len(_KEPT) > PLANS_KEPT:
            _KEPT.popitem(last=False)
    return kept


def _is_fixed(line: Days | None) -> bool:
    return line is not None and bool(line.fixed or line.every_second)


def _first_free(away: frozenset[int]) -> int:
    return next(day for day in WEEK if day not in away)


def _turns(group: Group, active: list[bool], turn: int, days: Offsets) -> tuple[list[tuple[Session, int]], int]:
    """Who takes each day, and whose turn it is after them."""
    picked: list[tuple[Session, int]] = []
    size = len(group.members)
    for day in days:
        while not active[turn]:
            turn = (turn + 1) % size
        picked.append((group.members[turn], day))
        turn = (turn + 1) % size
    return picked, turn
