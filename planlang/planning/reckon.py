"""The one reckoning: from a plan and a placement of rest to its calendar weeks."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta, tzinfo
from fractions import Fraction

from attrs import define, field, frozen

from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.model.quantity import UNITS
from planlang.planning.clock import change_days, span_of
from planlang.planning.faults import placement_faults, plan_faults
from planlang.planning.ladder import FRESH, Event, Ladder, State, Turn, advance, ladder_of
from planlang.planning.load import SessionLoad, activity_minutes, session_load, sets_of, times_a_day
from planlang.planning.slots import Slot, Timetable, Turns, within
from planlang.planning.starts import Starts
from planlang.planning.week import Done, Sitting, Week, WeekKind, Weeks
from planlang.planning.weeks import LONGEST_PLAN, Calendar
from planlang.planning.zones import zone

DAY = timedelta(days=1)
LAST_DAY = date(9999, 1, 1)


def reckon(plan: Plan, rest: frozenset[int] = frozenset()) -> Weeks:
    """The calendar weeks of a plan, with rest in the given calendar weeks, and what was found.

    A plan without a start or a length has no weeks. Raises ValueError where `rest` names a week
    outside the plan or one that is away: that is the caller's error, not the writer's.
    """
    if plan.starts is None or plan.weeks is None or plan.weeks < 1:
        return Weeks(plan, (), 0, ())
    if plan.weeks > LONGEST_PLAN or plan.starts > LAST_DAY - timedelta(weeks=LONGEST_PLAN):
        return Weeks(plan, (), 0, plan_faults(plan, None))
    calendar = Calendar(plan)
    for week in sorted(rest):
        if not 1 <= week <= calendar.length:
            raise ValueError(f"week {week} is not one of the plan's {calendar.length} weeks")
        if week in calendar.away_weeks:
            raise ValueError(f"week {week} is an away week; an easier week is never placed on it")
    timetable = Timetable(calendar)
    reckoner = _Reckoner(plan, calendar, timetable)
    kinds = calendar.kinds(rest)
    weeks = tuple(reckoner.week(n, kind, training) for n, (kind, training) in enumerate(kinds, 1))
    trained = sum(1 for kind, _ in kinds if kind is WeekKind.TRAINING)
    begins = {c.exercise.name: c.began for c in reckoner.courses}
    dropped = calendar.training_weeks - trained
    found = plan_faults(plan, timetable) + placement_faults(plan, calendar, weeks, dropped, begins)
    return Weeks(plan, weeks, dropped, found, begins)


@define
class _Course:
    """One exercise or activity on its way through the weeks."""

    exercise: Exercise
    ladder: Ladder
    free: bool  # an activity that stands in no session: done on days, or as a weekly quota
    state: State = FRESH
    began: int | None = None
    highest: int = -1
    latest: Done | None = None  # as done in the latest training week, None where it was not
    held_spare: bool = False

    def advance(self, event: Event) -> Turn | None:
        if event is Event.REST and self.held_spare:
            self.state = self.state._replace(gap=0, rested=0)  # the spare week ended the gap before it
        self.held_spare = False
        self.state, turn = advance(self.ladder, self.state, event)
        return turn


@frozen
class _Todo:
    """What a week is given before dates are put to it."""

    done: dict[str, Done]
    slots: tuple[Slot, ...] = ()


@define
class _Reckoner:
    plan: Plan
    calendar: Calendar
    timetable: Timetable
    courses: tuple[_Course, ...] = field(init=False)
    starts: Starts = field(init=False)
    turns: Turns = field(init=False)
    training_week: int = 0
    zone: tzinfo | None = field(init=False)
    changes: frozenset[date] = field(init=False)
    exercises: dict[str, Exercise] = field(init=False)
    loads: dict[tuple[object, ...], SessionLoad] = field(factory=dict)

    def __attrs_post_init__(self) -> None:
        plan = self.plan
        in_sessions = {name for s in plan.sessions for name in s.do}
        # An exercise without a step is a finding of the reader's, and is done nowhere.
        with_steps = [e for e in plan.exercises if e.steps]
        self.courses = tuple(
            _Course(e, ladder_of(e, plan.rest), e.activity and e.name not in in_sessions) for e in with_steps
        )
        self.exercises = {e.name: e for e in with_steps}
        self.starts = Starts(plan)
        self.turns = self.timetable.first_turns
        self.zone = zone(plan.zone) if plan.zone else None
        days = 7 * self.calendar.length
        self.changes = change_days(self.zone, self.calendar.starts, days) if self.zone else frozenset()

    def week(self, number: int, kind: WeekKind, training_week: int | None) -> Week:
        """The next calendar week. Weeks are asked for in order, each once."""
        if training_week is not None:
            self.training_week = training_week
            todo = self._training(number, training_week)
        elif kind is WeekKind.REST:
            todo = self._rest(number)
        elif kind is WeekKind.AWAY:
            todo = self._away(number)
        else:
            todo = self._spare(number)
        return self._dated(number, kind, training_week, todo)

    @property
    def _line(self) -> int:
        """The training week whose lines hold in a week that is none: the last one, else the first."""
        return max(self.training_week, 1)

    def _training(self, number: int, training_week: int) -> _Todo:
        slots, self.turns = self.timetable.training(number, training_week, self.turns)
        named = {name for slot in slots if not slot.contact for name in slot.session.do}
        here = [(c.free or c.exercise.name in named) and within(c.exercise.window, training_week) for c in self.courses]
        eased = any(
            present and c.ladder.is_eased(c.state, training_week) for c, present in zip(self.courses, here, strict=True)
        )
        reached = {c.exercise.name: c.highest for c in self.courses}
        done: dict[str, Done] = {}
        for course, present in zip(self.courses, here, strict=True):
            if course.began is None and present:
                present = self.starts.may_begin(course.exercise, training_week, eased, reached)
                course.began = training_week if present else None
            turn = course.advance(course.ladder.event(training_week) if present else Event.WITHOUT)
            course.latest = self._done(course, turn) if turn else None
            if course.latest:
                done[course.exercise.name] = course.latest
        self._count(number, slots, done)
        return _Todo(done, slots)

    def _done(self, course: _Course, turn: Turn) -> Done:
        own = not (turn.easing or turn.lighter)
        first = own and turn.step > course.highest
        if first:
            course.highest = turn.step
        return self._at_step(course, turn.step, turn.easing, turn.lighter, own, first)

    def _at_step(
        self,
        course: _Course,
        step: int,
        easing: bool = False,
        lighter: bool = False,
        own: bool = False,
        first: bool = False,
    ) -> Done:
        exercise = course.exercise
        written = exercise.easier if step < 0 else exercise.steps[step]
        dose = (written or exercise.steps[0]).dose
        return Done(exercise.name, step, dose, easing, lighter, own=own, first=first, at_most=ceiling(exercise, dose))

    def _count(self, number: int, slots: Iterable[Slot], done: dict[str, Done]) -> None:
        if not self.starts.weeks:
            return
        sessions = [
            (s.count, [self.exercises[name] for name in s.session.do if name in done]) for s in slots if not s.contact
        ]
        days = self._days_here(number)
        for course in self.courses:
            if course.free and course.exercise.name in done:
                sessions.append((1 if course.exercise.weekly else days, [course.exercise]))
        self.starts.count(sessions)

    def _days_here(self, number: int) -> int:
        return 7 - len(self.calendar.away_days.get(number, ()))

    def _rest(self, number: int) -> _Todo:
        done = self._still_do()
        for course in self.courses:
            course.advance(Event.REST)
            goes_on = course.free and not course.exercise.weekly and course.latest
            if goes_on and course.exercise.name not in done:
                done[course.exercise.name] = self._at_step(course, 0)
        return _Todo(done, self.timetable.contacts(number, self._line))

    def _still_do(self) -> dict[str, Done]:
        found: dict[str, Done] = {}
        for line in self.plan.rest.still_do if self.plan.rest else ():
            exercise = self.plan.exercise(line.name)
            most = ceiling(exercise, line.dose) if exercise else None
            found.setdefault(line.name, Done(line.name, None, line.dose, gentle=True, at_most=most))
        return found

    def _away(self, number: int) -> _Todo:
        slots = self.timetable.away(number, self._line)
        named = {name for slot in slots for name in slot.session.do}
        done: dict[str, Done] = {}
        for course in self.courses:
            if course.exercise.name in named:
                # Done as written: it moves nothing, and is no week without the exercise either.
                eased = course.ladder.eased(course.state)
                step = eased[0] if eased else course.ladder.last_done(course.state)
                done[course.exercise.name] = self._at_step(course, step, easing=bool(eased))
            else:
                course.advance(Event.WITHOUT)
        return _Todo(done, slots)

    def _spare(self, number: int) -> _Todo:
        if not self.training_week or (self.plan.rest and self.plan.rest.spare_empty):
            return _Todo({}, self.timetable.contacts(number, self._line))
        slots, self.turns = self.timetable.training(number, self.training_week, self.turns)
        named = {name for slot in slots if not slot.contact for name in slot.session.do}
        done: dict[str, Done] = {}
        for course in self.courses:
            latest = course.latest
            if latest is None or latest.step is None or not (course.free or course.exercise.name in named):
                continue
            eased = course.ladder.eased(course.state) if course.state.rested else ()
            if eased:
                done[course.exercise.name] = self._at_step(course, eased[0], easing=True)
            else:
                done[course.exercise.name] = self._at_step(course, latest.step, latest.easing, latest.lighter)
            course.held_spare = True
        return _Todo(done, slots)

    def _dated(self, number: int, kind: WeekKind, training_week: int | None, todo: _Todo) -> Week:
        starts = self.calendar.start_of(number)
        sittings: list[Sitting] = []
        orders: dict[str, int] = {}
        minutes = Fraction(0)
        sets: dict[str, int] = {}
        load: Fraction | None = None
        for slot in sorted(todo.slots, key=_when):
            names = () if slot.contact else tuple(n for n in slot.session.do if n in todo.done)
            if not names and not slot.visit:
                continue
            share = self._share(slot, names, todo.done)
            orders[slot.session.name] = orders.get(slot.session.name, 0) + 1
            sittings.append(self._sitting(slot, names, starts + slot.offset * DAY, orders[slot.session.name], share))
            if names:
                minutes += share.minutes * slot.count
                for muscle, number_of in share.sets:
                    sets[muscle] = sets.get(muscle, 0) + number_of * slot.count
                if share.load is not None:
                    load = (load or 0) + share.load * slot.count
        exercises: dict[str, Done] = {}
        activities: dict[str, Done] = {}
        for name, done in todo.done.items():
            exercise = self.exercises.get(name)
            if exercise is None or not exercise.activity or done.gentle:
                exercises[name] = done
                continue
            activities[name] = done
            if name not in {n for slot in todo.slots for n in slot.session.do}:
                days = self._days_here(number)
                minutes += activity_minutes(done.dose, days)
                each = sets_of(done.dose) * times_a_day(done.dose) * days
                for muscle in exercise.works if each else ():
                    sets[muscle] = sets.get(muscle, 0) + each
        return Week(number, starts, kind, training_week, exercises, activities, tuple(sittings), minutes, sets, load)

    def _share(self, slot: Slot, names: tuple[str, ...], done: dict[str, Done]) -> SessionLoad:
        key = (slot.session.name, *((n, done[n].step) for n in names))
        found = self.loads.get(key)
        if found is None:
            found = session_load(slot.session, [(self.exercises[n], done[n].dose) for n in names])
            self.loads[key] = found
        return found

    def _sitting(self, slot: Slot, names: tuple[str, ...], day: date, order: int, share: SessionLoad) -> Sitting:
        starts: datetime | None = None
        ends: datetime | None = None
        if slot.at is not None and not slot.untimed:
            if day in self.changes:
                starts, ends = span_of(day, slot.at, share.slot, self.zone)
            else:
                starts = datetime.combine(day, slot.at, self.zone)
                ends = starts + timedelta(minutes=share.slot) if share.slot is not None else None
        return Sitting(
            slot.session.name, day, order, starts, ends, share.slot, names, slot.visit, slot.count, slot.untimed
        )


def _when(slot: Slot) -> tuple[int, bool, tuple[int, int]]:
    return slot.offset, slot.at is not None, (slot.at.hour, slot.at.minute) if slot.at else (0, 0)


def ceiling(exercise: Exercise, dose: Dose) -> Fraction | None:
    """The most of an activity in a week in which it is done at a dose, in the dose's own unit; None without one."""
    most, size = exercise.at_most, dose.size
    if most is None or size is None or not size.amounts:
        return None
    if most.percent_above is not None:
        return size.amounts[0].low * (1 + most.percent_above / 100)
    limit = most.amount.size if most.amount else None
    if limit is None or not limit.amounts or UNITS[limit.unit].dimension != UNITS[size.unit].dimension:
        return None
    return limit.amounts[0].low * UNITS[limit.unit].factor / UNITS[size.unit].factor
