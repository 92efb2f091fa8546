"""What is done in each kind of week, at which step: every exercise of a plan on its way through the weeks."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from attrs import evolve, field

from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.model.quantity import UNITS
from planlang.planning.dayrules import within
from planlang.planning.ladder import FRESH, Event, Ladder, State, Turn, advance, ladder_of
from planlang.planning.past import Looking
from planlang.planning.slot import Slot
from planlang.planning.slots import Timetable, Turns
from planlang.planning.starts import Starts
from planlang.planning.week import Done, WeekKind
from planlang.planning.weeks import DAY
from planlang.text.data import define, frozen


@frozen
class ToDo:
    """What one week holds: everything done, by name in the order of the file, and the sessions' slots."""

    done: dict[str, Done]
    slots: tuple[Slot, ...] = ()


@define
class Course:
    """One exercise or activity and how far it has come.

    free: an activity that stands in no session, done on days or as a weekly quota; began: its first
    training week; highest: the highest step done at its own level; latest: what was done in the
    latest training week, None where it was not done in it.
    """

    exercise: Exercise
    ladder: Ladder
    free: bool
    state: State = FRESH
    began: int | None = None
    highest: int = -1
    latest: Done | None = None
    held_spare: bool = False
    name: str = field(init=False)
    made: dict[tuple[int, bool, bool, bool, bool], Done] = field(factory=dict)

    def __attrs_post_init__(self) -> None:
        self.name = self.exercise.name

    def advance(self, event: Event, counts: bool = True) -> Turn | None:
        """One week on; too little of one that does not count was done."""
        if event is Event.REST and self.held_spare:
            self.state = self.state._replace(gap=0, rested=0)  # the spare week ended the gap before it
        self.held_spare = False
        self.state, turn = advance(self.ladder, self.state, event, counts)
        return turn

    def train(self, turn: Turn, held: bool = True) -> Done:
        """What is done in a training week; a step of which no session was held has not been reached."""
        own = not (turn.easing or turn.lighter)
        first = own and held and turn.step > self.highest
        self.highest = turn.step if first else self.highest
        return self.at(turn.step, turn.easing, turn.lighter, own, first)

    def at(
        self, step: int, easing: bool = False, lighter: bool = False, own: bool = False, first: bool = False
    ) -> Done:
        """The exercise done at a step (-1 the easier one); made once for all weeks that do the same."""
        key = step, easing, lighter, own, first
        found = self.made.get(key)
        if found is None:
            exercise = self.exercise
            written = exercise.easier if step < 0 else None
            dose = (written or exercise.steps[max(step, 0)]).dose
            most = ceiling(exercise, dose)
            found = Done(exercise.name, step, dose, easing, lighter, own=own, first=first, at_most=most)
            self.made[key] = found
        return found


@define
class Doing:
    """Walks through the calendar weeks in order; each week is asked for once."""

    plan: Plan
    timetable: Timetable
    looking: Looking = Looking()
    courses: tuple[Course, ...] = field(init=False)
    starts: Starts = field(init=False)
    turns: Turns = field(init=False)
    training_week: int = 0
    still: dict[int, frozenset[int]] = field(factory=dict)
    counted: dict[tuple[object, ...], tuple[tuple[Slot, ...], tuple[str, ...]]] = field(factory=dict)

    def __attrs_post_init__(self) -> None:
        plan = self.plan
        in_sessions = {name for s in plan.sessions for name in s.do}
        # An exercise without a step is done nowhere: what it lacks is a finding already.
        self.courses = tuple(
            Course(e, ladder_of(e, plan.rest), e.activity and e.name not in in_sessions)
            for e in plan.exercises
            if e.steps
        )
        self.starts = Starts(plan)
        self.turns = self.timetable.first_turns
        for day in self.looking.stilled:
            week, offset = divmod((day - self.timetable.calendar.starts).days, 7)
            self.still[week + 1] = self.still.get(week + 1, frozenset()) | {offset}

    def week(self, number: int, kind: WeekKind, training_week: int | None) -> ToDo:
        """What the next calendar week holds."""
        if training_week is not None:
            self.training_week = training_week
            return self._training(number, training_week)
        if kind is WeekKind.REST:
            return self._rest(number)
        return self._away(number) if kind is WeekKind.AWAY else self._spare(number)

    @property
    def _lines_of(self) -> int:
        """The training week whose lines hold in a week that is none: the last one, else the first."""
        return max(self.training_week, 1)

    def _training(self, number: int, training_week: int) -> ToDo:
        slots = self._slots(number, training_week)
        named = _named(slots)
        here = [(c.free or c.name in named) and within(c.exercise.window, training_week) for c in self.courses]
        halted = [number in self.looking.halted.get(c.name, ()) for c in self.courses]
        if True in halted:
            here = [is_here and not rests for is_here, rests in zip(here, halted, strict=True)]
        eased, reached = False, dict[str, int]()
        if any(is_here and c.began is None for c, is_here in zip(self.courses, here, strict=True)):
            present = [c for c, is_here in zip(self.courses, here, strict=True) if is_here]
            eased = any(c.ladder.is_eased(c.state, training_week) for c in present)
            reached = {c.name: c.highest for c in self.courses}
        done: dict[str, Done] = {}
        for course, is_here, rests in zip(self.courses, here, halted, strict=True):
            if is_here and course.began is None:
                is_here = self.starts.may_begin(course.exercise, training_week, eased, reached)
                course.began = training_week if is_here else None
            counts = number not in self.looking.uncounted.get(course.name, ())
            event = course.ladder.event(training_week) if is_here else Event.REST if rests else Event.WITHOUT
            turn = course.advance(event, counts)
            course.latest = course.train(turn, self._held(number, course.name)) if turn else None
            if course.latest:
                done[course.name] = course.latest
        self._count(number, slots, done)
        return ToDo(done, slots)

    def _slots(self, number: int, training_week: int) -> tuple[Slot, ...]:
        """The slots of a week; looking back, marked where they were moved or something gentler took their place."""
        looking, first = self.looking, self.timetable.calendar.start_of(number)
        now = looking.now and ((looking.now[0] - first).days, looking.now[1])
        if now is not None and not 0 <= now[0] < 6:
            now = None
        still = self.still.get(number, frozenset())
        slots, turns = self.timetable.training(number, training_week, self.turns, now, still)
        self.turns = looking.turns.get(number, turns)
        if not (still or looking.moved or looking.sat):
            return slots
        moved = dict(looking.moved)
        return tuple(self._marked(slot, first + slot.offset * DAY, moved) for slot in slots)

    def _marked(self, slot: Slot, day: date, moved: dict[tuple[str, date], tuple[date, ...]]) -> Slot:
        if slot.untimed:
            return slot
        if self.looking.sat:
            instead = self.looking.sat.get((self.timetable.group_of(slot.session), day))
            session = self.plan.session(instead) if instead else None
            if session is not None and session is not slot.session:
                slot = evolve(slot, session=session, at=min(session.times, default=None))
        to = moved.get((slot.session.name, day), ())
        if to:
            moved[slot.session.name, day] = to[1:]
            slot, day = evolve(slot, moved=to[0]), to[0]
        if day not in self.looking.stilled:
            return slot
        return evolve(slot, contact=True) if slot.visit else evolve(slot, gone=True)

    def _held(self, number: int, name: str) -> bool:
        """Whether any session of an exercise was held in a week, or may still be; one that is not told was."""
        told = self.looking.held.get(number)
        return told is None or any(name in names for _, names in told)

    def _count(self, number: int, slots: tuple[Slot, ...], done: dict[str, Done]) -> None:
        """Counts the week for starts that wait for it."""
        if not self.starts.weeks:
            return
        told = self.looking.held.get(number)
        if told is not None:
            exercises = {c.name: c.exercise for c in self.courses if c.name in done}
            self.starts.count((count, [exercises[n] for n in names if n in exercises]) for count, names in told)
            return
        days = self.timetable.calendar.days_here(number)
        key = (id(slots), days, *done)
        kept = self.counted.get(key)
        if kept is None:
            kept = self.counted[key] = slots, self.starts.held(self._sessions(slots, done, days))
        self.starts.add(kept[1])

    def _sessions(self, slots: Iterable[Slot], done: dict[str, Done], days: int) -> list[tuple[int, list[Exercise]]]:
        """The sessions of a week, and the days of what is done on days, each with what is done in it."""
        exercises = {c.name: c.exercise for c in self.courses if c.name in done}
        sessions = [
            (s.count, [exercises[name] for name in s.session.do if name in exercises])
            for s in slots
            if not (s.contact or s.gone)
        ]
        for course in self.courses:
            if course.free and course.name in done:
                sessions.append((1 if course.exercise.weekly else days, [course.exercise]))
        return sessions

    def _rest(self, number: int) -> ToDo:
        done = self._still_do()
        for course in self.courses:
            course.advance(Event.REST)
            goes_on = course.free and not course.exercise.weekly and course.latest
            if goes_on and course.name not in done:
                done[course.name] = course.at(0)
        return ToDo(done, self.timetable.contacts(number, self._lines_of))

    def _still_do(self) -> dict[str, Done]:
        found: dict[str, Done] = {}
        for line in self.plan.rest.still_do if self.plan.rest else ():
            exercise = self.plan.exercise(line.name)
            most = ceiling(exercise, line.dose, gentle=True) if exercise else None
            found.setdefault(line.name, Done(line.name, None, line.dose, gentle=True, at_most=most))
        return found

    def _away(self, number: int) -> ToDo:
        slots = self.timetable.away(number, self._lines_of)
        named = _named(slots)
        done: dict[str, Done] = {}
        for course in self.courses:
            if course.name in named:
                # Done as written: it moves nothing, and is no week without the exercise either.
                eased = course.ladder.eased(course.state)
                step = eased[0] if eased else course.ladder.last_done(course.state)
                done[course.name] = course.at(step, easing=bool(eased))
            else:
                course.advance(Event.WITHOUT)
        return ToDo(done, slots)

    def _spare(self, number: int) -> ToDo:
        if not self.training_week or (self.plan.rest and self.plan.rest.spare_empty):
            return ToDo({}, self.timetable.contacts(number, self._lines_of))
        slots = self._slots(number, self.training_week)
        named = _named(slots)
        done: dict[str, Done] = {}
        for course in self.courses:
            latest = course.latest
            if latest is None or latest.step is None or not (course.free or course.name in named):
                continue
            eased = course.ladder.eased(course.state) if course.state.rested else ()
            if eased:
                done[course.name] = course.at(eased[0], easing=True)
            else:
                done[course.name] = course.at(latest.step, latest.easing, latest.lighter)
            course.held_spare = True
        return ToDo(done, slots)


def _named(slots: Iterable[Slot]) -> set[str]:
    return {name for slot in slots if not (slot.contact or slot.gone) for name in slot.session.do}


def ceiling(exercise: Exercise, dose: Dose, gentle: bool = False) -> Fraction | None:
    """The most of an activity in a week in which it is done at a dose, in the dose's own unit; None without one.

    What `still do` names has no aim, so a ceiling above the aim says nothing of it.
    """
    most, size = exercise.at_most, dose.size
    if most is None or size is None or not size.amounts:
        return None
    if most.percent_above is not None:
        return None if gentle else size.amounts[0].low * (1 + most.percent_above / 100)
    limit = most.amount.size if most.amount else None
    if limit is None or not limit.amounts or UNITS[limit.unit].dimension != UNITS[size.unit].dimension:
        return None
    return limit.amounts[0].low * UNITS[limit.unit].factor / UNITS[size.unit].factor
