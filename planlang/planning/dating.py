"""From what a week holds to its sittings, with dates and times, and to what it asks in all."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta, tzinfo
from fractions import Fraction

from attrs import field

from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.planning.clock import change_days, span_of
from planlang.planning.doing import ToDo
from planlang.planning.load import SessionLoad, activity_minutes, session_load, sets_of, times_a_day
from planlang.planning.slot import Slot
from planlang.planning.week import Done, Sitting, Week, WeekKind
from planlang.planning.weeks import DAY, Calendar
from planlang.planning.zones import zone
from planlang.text.data import define

Over = datetime | Callable[[], datetime] | None
Row = tuple[Slot, timedelta, int, int | None, tuple[str, ...]]
"""A session of a week: its slot, the days to it, its order among those of its name, its minutes, what is done."""


@define
class _Total:
    """Minutes, sets and load so far."""

    minutes: Fraction = Fraction(0)
    sets: dict[str, int] = field(factory=dict)
    load: Fraction | None = None

    def add(self, share: SessionLoad, count: int) -> None:
        self.minutes += share.minutes * count
        for muscle, sets in share.sets:
            self.sets[muscle] = self.sets.get(muscle, 0) + sets * count
        if share.load is not None:
            self.load = (self.load or 0) + share.load * count

    def add_activity(self, exercise: Exercise, done: Done, days: int) -> None:
        self.minutes += activity_minutes(done.dose, days)
        sets = sets_of(done.dose) * times_a_day(done.dose) * days
        for muscle in exercise.works if sets else ():
            self.sets[muscle] = self.sets.get(muscle, 0) + sets


@define
class Dating:
    """Puts dates, times and totals to weeks."""

    plan: Plan
    calendar: Calendar
    zone: tzinfo | None = field(init=False)
    changes: frozenset[date] = field(init=False)
    exercises: dict[str, Exercise] = field(init=False)
    in_sessions: frozenset[str] = field(init=False)
    shares: dict[tuple[object, ...], SessionLoad] = field(factory=dict)
    asked: dict[tuple[object, ...], tuple[tuple[Slot, ...], list[Row], _Total]] = field(factory=dict)

    def __attrs_post_init__(self) -> None:
        self.zone = zone(self.plan.zone) if self.plan.zone else None
        days = 7 * self.calendar.length
        self.changes = change_days(self.zone, self.calendar.starts, days) if self.zone else frozenset()
        self.exercises = {e.name: e for e in self.plan.exercises}
        self.in_sessions = frozenset(name for s in self.plan.sessions for name in s.do)

    def week(self, number: int, kind: WeekKind, training_week: int | None, todo: ToDo) -> Week:
        """The calendar week. Gentle work is shown and not counted; a visit without exercise counts no minutes."""
        exercises: dict[str, Done] = {}
        activities: dict[str, Done] = {}
        for name, done in todo.done.items():
            exercise = self.exercises.get(name)
            if exercise is None or not exercise.activity or done.gentle:
                exercises[name] = done
            else:
                activities[name] = done
        rows, total = self._asked(todo, activities, self.calendar.days_here(number))
        starts = self.calendar.start_of(number)
        sittings = tuple([self._sitting(starts, row) for row in rows])
        if any(s.moved_from for s in sittings):
            sittings = tuple(sorted(sittings, key=lambda s: s.day))
        return Week(
            number,
            starts,
            kind,
            training_week,
            exercises,
            activities,
            sittings,
            total.minutes,
            dict(total.sets),
            total.load,
        )

    def _asked(self, todo: ToDo, activities: dict[str, Done], days: int) -> tuple[list[Row], _Total]:
        """The sessions of a week and what it asks in all, reckoned once for weeks that do the same."""
        key = (id(todo.slots), days, *((name, done.step, done.gentle) for name, done in todo.done.items()))
        kept = self.asked.get(key)
        if kept is None:
            total = _Total()
            rows = self._rows(todo, total)
            for name, done in activities.items():
                if name not in self.in_sessions:
                    total.add_activity(self.exercises[name], done, days)
            kept = self.asked[key] = todo.slots, rows, total
        return kept[1], kept[2]

    def _rows(self, todo: ToDo, total: _Total) -> list[Row]:
        rows: list[Row] = []
        orders: dict[str, int] = {}
        asked: dict[int, tuple[SessionLoad, int]] = {}  # most sessions of a week ask the same
        for slot in sorted(todo.slots, key=lambda s: s.when):
            session = slot.session
            names = () if slot.contact else tuple(n for n in session.do if n in todo.done)
            if not names and not slot.visit:
                continue  # nothing of it has begun, or all of it is over
            orders[session.name] = order = orders.get(session.name, 0) + 1
            if slot.gone:
                continue  # the others of its name keep their places in the week
            share = self._share(slot, names, todo.done)
            if names:
                asked[id(share)] = share, asked.get(id(share), (share, 0))[1] + slot.count
            rows.append((slot, slot.offset * DAY, order, share.slot, names))
        for share, count in asked.values():
            total.add(share, count)
        return rows

    def _sitting(self, starts: date, row: Row) -> Sitting:
        slot, offset, order, minutes, names = row
        day = slot.moved or starts + offset
        begins, ends = self._times(slot, day, minutes)
        moved_from = starts + offset if slot.moved else None
        return Sitting(
            slot.session.name,
            day,
            order,
            begins,
            ends,
            minutes,
            names,
            slot.visit,
            slot.count,
            slot.untimed,
            moved_from,
        )

    def _share(self, slot: Slot, names: tuple[str, ...], done: dict[str, Done]) -> SessionLoad:
        key = (slot.session.name, *((n, done[n].step) for n in names))
        found = self.shares.get(key)
        if found is None:
            found = session_load(slot.session, [(self.exercises[n], done[n].dose) for n in names])
            self.shares[key] = found
        return found

    def _times(self, slot: Slot, day: date, minutes: int | None) -> tuple[datetime | None, Over]:
        at = slot.at
        if at is None or slot.untimed:
            return None, None
        begins = datetime.combine(day, at, self.zone)
        if minutes is not None and type(minutes) is not int:
            return begins, lambda: span_of(day, at, int(minutes), self.zone)[1] or begins
        if day in self.changes:
            return span_of(day, at, minutes, self.zone)
        return begins, begins + timedelta(minutes=minutes) if minutes is not None else None
