"""One exercise on its way to a step, as a finite machine: states, and what each kind of week does to them.

The states are the ladder's own (`planlang.planning.ladder`), told apart only as far as what follows
can differ. An exercise whose start waits for others passes through joint states first (`waiting`).
"""

from __future__ import annotations

from collections.abc import Hashable
from functools import cached_property, lru_cache
from typing import NamedTuple

from attrs import evolve, field

from planlang.model.exercise import Exercise
from planlang.planning.dayrules import within
from planlang.planning.ladder import Event, Ladder, State, Turn, advance
from planlang.planning.leeway.frame import Frame, WeekKey
from planlang.planning.leeway.origin import UnderWay
from planlang.planning.slots import Turns
from planlang.text.data import define


class Running(NamedTuple):
    """An exercise that has begun, or whose start waits for nothing but a training week; and whose turn it is."""

    turns: Turns
    state: State


def settled(ladder: Ladder, state: State) -> State:
    """The one state that stands for all from which the same follows."""
    if not state.gap or not (state.rested or state.gap > 1):
        return state
    longest = ladder.lines[-1].after
    rested = 1 if longest == 1 else min(state.rested, longest)
    # An easing that is to begin anew forgets the one before it, unless there may be none.
    back = state.back and any(line.weeks < 1 for line in ladder.lines)
    return State(state.c, 0, 0, back, 2, rested)


Steps = dict[tuple[State, Event], tuple[State, Turn | None]]
"""Where a ladder comes from each state, settled, and what is done on the way."""


@lru_cache(maxsize=64)
def steps_of(_: Ladder) -> Steps:
    """The steps of a ladder that are known so far: the same in every plan that has it."""
    return {}


def capped(ladder: Ladder, state: State) -> State:
    """A state of the whole ladder on one that may be cut short: further than its last step is all the same."""
    return state._replace(c=min(state.c, ladder.top), line=min(state.line, len(ladder.lines) - 1))


def turns_kept(frame: Frame, names: frozenset[str]) -> tuple[bool, ...]:
    """For each group of sessions, whether it matters to these exercises whose turn it is."""
    return tuple(
        len(group.members) > 1 and any(not names.isdisjoint(s.do) for s in group.members)
        for group in frame.timetable.groups
    )


def only(turns: Turns, kept: tuple[bool, ...]) -> Turns:
    """Whose turn it is, where it matters."""
    if True not in kept:  # nothing is in turn: the most usual
        return (0,) * len(kept)
    return tuple(turn if keep else 0 for turn, keep in zip(turns, kept, strict=True))


@define(eq=False, slots=False)
class Machine:
    """States by number, 0 the first, and their successors.

    step: the step (index) that ends the way; None where it goes on to the plan's end. A week in
    which it is reached leads to `reached(day)`, a number below 0 that tells the day of the week.
    """

    frame: Frame
    exercise: Exercise
    step: int | None
    ladder: Ladder = field(init=False)
    steps: Steps = field(init=False)
    turns: tuple[bool, ...] = field(init=False)
    states: list[Hashable] = field(factory=list, init=False)
    numbers: dict[Hashable, int] = field(factory=dict, init=False)
    rests: dict[int, int] = field(factory=dict, init=False)
    _away: dict[frozenset[str], dict[int, int]] = field(factory=dict, init=False)
    _kinds: dict[WeekKey, list[Kind]] = field(factory=dict, init=False)
    _told: dict[tuple[int, int, Turns], tuple[Turns, Event, int | None]] = field(factory=dict, init=False)
    """Of a training week: whose turn it is after it, what it is for the exercise, and on which day that is done."""

    def __attrs_post_init__(self) -> None:
        ladder = self.frame.courses[self.exercise.name].ladder
        if self.step is not None:
            ladder = evolve(ladder, begins=ladder.begins[: self.step + 1])
        self.ladder = ladder
        self.steps = steps_of(ladder)
        self.turns = turns_kept(self.frame, frozenset([self.exercise.name]))
        self.number_of(self.first())

    @property
    def names(self) -> frozenset[str]:
        """The exercises that the states tell of."""
        return frozenset([self.exercise.name])

    def first(self) -> Hashable:
        """The state before the first week that is looked at."""
        return self.running(self.frame.origin.stand(self.exercise.name).state)

    def running(self, state: State) -> Hashable:
        """A ladder's own state there, told apart only as far as this machine does."""
        return Running(only(self.frame.turns, self.turns), settled(self.ladder, capped(self.ladder, state)))

    def number_of(self, state: Hashable) -> int:
        """A state's number; a new state gets the next."""
        found = self.numbers.get(state)
        if found is None:
            found = self.numbers[state] = len(self.states)
            self.states.append(state)
        return found

    def rest(self, number: int) -> int:
        """The state after a rest week."""
        after = self.rests.get(number)
        if after is None:
            after = self.rests[number] = self.number_of(self.rested(self.states[number]))
        return after

    def away(self, number: int, done: frozenset[str]) -> int:
        """The state after an away week in which these exercises are done as written."""
        table = self._away.setdefault(done, {})
        after = table.get(number)
        if after is None:
            after = table[number] = self.number_of(self.been_away(self.states[number], done))
        return after

    def kinds(self, week: int) -> list[Kind]:
        """The kinds of training week that a calendar week can be, the earliest training week first."""
        key = self.frame.keys[week]
        if key not in self._kinds:
            self._kinds[key] = self._kinds_like(week)
        return self._kinds[key]

    def _kinds_like(self, week: int) -> list[Kind]:
        found: dict[Hashable, Kind] = {}
        last = self.frame.calendar.training_weeks
        for t, mark in enumerate(self.marks, 1):
            kind = found.get(mark)
            if kind is None:
                kind = found[mark] = Kind(self, week, t)
            kind.backwards |= 1 << (last - t)
        return list(found.values())

    @cached_property
    def marks(self) -> list[Hashable]:
        """For each training week what sets it apart from others: two with one mark do the same to every state."""
        lines = self.frame.lines
        return [(lines[t], self.mark(t)) for t in range(1, self.frame.calendar.training_weeks + 1)]

    def mark(self, training_week: int) -> Hashable:
        """The part of a training week's mark that is this exercise's own."""
        return self._event(training_week)

    def _event(self, training_week: int) -> Event:
        """What a training week with a session of it is for the exercise."""
        start = self.exercise.start
        begun = start is None or start.training_week is None or training_week >= start.training_week
        inside = within(self.exercise.window, training_week)
        return self.ladder.event(training_week) if begun and inside else Event.WITHOUT

    def rested(self, state: Hashable) -> Hashable:
        """A state after a rest week."""
        assert isinstance(state, Running)
        return self._moved(state, state.turns, Event.REST)

    def been_away(self, state: Hashable, done: frozenset[str]) -> Hashable:
        """A state after an away week; what is done in it as written moves nothing, and is no week without it."""
        assert isinstance(state, Running)
        if self.exercise.name in done:
            return state
        return self._moved(state, state.turns, Event.WITHOUT)

    def trained(self, state: Hashable, week: int, training_week: int) -> Hashable:
        """A state after a training week; the day as a plain number where the step is reached."""
        assert isinstance(state, Running)
        key = week, training_week, state.turns
        told = self._told.get(key)
        if told is None:
            held = self.frame.held(week, training_week, state.turns)
            day = self.frame.day_of(self.exercise.name, week, held)
            told = self._told[key] = only(held.turns, self.turns), self._event(training_week), day
        known = self.frame.under_way(week)
        return self.run(state.state, *told) if known is None else self.run_on(known, state.state, *told)

    def run_on(self, known: UnderWay, state: State, turns: Turns, event: Event, day: int | None) -> Hashable:
        """The same for a week that is under way: by what was done of it so far."""
        name = self.exercise.name
        event = Event.REST if name in known.halted else event if day is not None else Event.WITHOUT
        after, turn = advance(self.ladder, state, event, name not in known.uncounted)
        held = day is not None and known.days.get(name, day) is not None
        if turn and held and self.step is not None and turn.step >= self.step:
            return day
        return Running(turns, settled(self.ladder, after))

    def run(self, state: State, turns: Turns, event: Event, day: int | None) -> Hashable:
        """The ladder one training week on; the day where its step is reached."""
        if day is None:
            event = Event.WITHOUT
        after, turn = self._step(state, event)
        if turn and day is not None and self.step is not None and turn.step >= self.step:
            return day
        return Running(turns, after)

    def _moved(self, state: Running, turns: Turns, event: Event) -> Running:
        return Running(turns, self._step(state.state, event)[0])

    def _step(self, state: State, event: Event) -> tuple[State, Turn | None]:
        """The ladder one week on, settled, and what is done in it."""
        key = state, event
        found = self.steps.get(key)
        if found is None:
            after, turn = advance(self.ladder, state, event)
            found = self.steps[key] = settled(self.ladder, after), turn
        return found


@define(eq=False)
class Kind:
    """Training weeks that do the same to every state: in calendar weeks of one key, under lines of one mark.

    backwards: bit T - t is set for each such training week t, so that a shift by the place of a
    calendar week gives the numbers of rest weeks with which it is one of them.
    """

    machine: Machine
    week: int
    training_week: int
    backwards: int = 0
    table: dict[int, int] = field(factory=dict)

    def after(self, number: int) -> int:
        """The state after such a week, or `reached(day)`; worked out when first asked."""
        found = self.table.get(number)
        if found is None:
            machine = self.machine
            state = machine.trained(machine.states[number], self.week, self.training_week)
            found = self.table[number] = reached(state) if isinstance(state, int) else machine.number_of(state)
        return found


def reached(day: int) -> int:
    """How a machine says that the step is reached on a day (0 to 6) of a week."""
    return -1 - day
