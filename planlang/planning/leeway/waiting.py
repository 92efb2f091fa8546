"""An exercise that waits for others: the joint state of all that can keep it waiting, until it begins.

`after n weeks of K` waits for sessions of other exercises, and never ends in a week in which any exercise
is eased. So the state tells of the others what decides that: whether each has begun, whether it would be
eased, for how long; not how far it has come, unless the length of an easing or a start by reach hangs on
it. Exercises that can never differ in this stand in the state once.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from functools import cached_property, partial
from typing import Any, NamedTuple

from attrs import evolve

from planlang.model.exercise import Exercise
from planlang.planning.dayrules import within
from planlang.planning.ladder import FRESH, Event, Ladder
from planlang.planning.leeway.frame import Frame, Held
from planlang.planning.leeway.machine import Machine, capped, only, settled, turns_kept
from planlang.planning.leeway.origin import UnderWay
from planlang.planning.leeway.tracks import Other, Track, track_of
from planlang.planning.slots import Turns
from planlang.planning.starts import Starts, is_of
from planlang.text.data import define, frozen


def waits(exercise: Exercise) -> bool:
    """True for a start that others decide."""
    return exercise.start is not None and exercise.start.of is not None


class Waiting(NamedTuple):
    """Before the start. counts: weeks of each kind that a start waits for, no more than it needs.

    others: where each of the others stands, by its number on its track.
    """

    turns: Turns
    counts: tuple[int, ...]
    others: tuple[int, ...]


@frozen
class Same:
    """Exercises that stand alike in every week. ladder: shortened to what the joint state needs; wanted: the step
    up to which it matters how far they have come, -1 where it doesn't.
    """

    members: tuple[Exercise, ...]
    free: bool
    ladder: Ladder
    wanted: int


@define(eq=False, slots=False)
class WaitingMachine(Machine):
    """A machine whose exercise waits; once it has begun the states are those of its own ladder."""

    @cached_property
    def sames(self) -> tuple[Same, ...]:
        """The other exercises that matter, those alike put together."""
        return tuple(_sames(self.frame, self.exercise, self.starts))

    @cached_property
    def tracks(self) -> tuple[Track, ...]:
        """Where each of the others can stand."""
        return tuple(track_of(same.ladder, same.wanted) for same in self.sames)

    @cached_property
    def starts(self) -> Starts:
        """The reckoning's own reading of starts; its counts are set before each use."""
        return Starts(self.frame.plan)

    @cached_property
    def most(self) -> dict[str, int]:
        """For each kind that counts, the most weeks that any start waits for: what is beyond changes nothing."""
        waiting = [self.exercise, *(e for same in self.sames for e in same.members)]
        found: dict[str, int] = {}
        for start in (e.start for e in waiting):
            if start and start.of is not None and start.reach is None:
                found[start.of] = max(found.get(start.of, 0), start.weeks or 0)
        return found

    @property
    def names(self) -> frozenset[str]:
        """The exercises that the states tell of."""
        return frozenset([self.exercise.name, *(e.name for same in self.sames for e in same.members)])

    @cached_property
    def all_turns(self) -> tuple[bool, ...]:
        """The turns that matter to any of the exercises."""
        return turns_kept(self.frame, self.names)

    def first(self) -> Hashable:
        """Where everything stands at the first week that is looked at; work done before the plan counts."""
        origin = self.frame.origin
        own = origin.stand(self.exercise.name)
        if own.begun:
            return self.running(own.state)
        so_far = {**self.starts.weeks, **origin.counts}
        counts = tuple(min(so_far[of], most) for of, most in self.most.items())
        others = tuple(self._other(same, track) for same, track in zip(self.sames, self.tracks, strict=True))
        return Waiting(only(self.frame.turns, self.all_turns), counts, others)

    def _other(self, same: Same, track: Track) -> int:
        """Where the others of one kind stand, by number."""
        stand = self.frame.origin.stand(same.members[0].name)
        state = settled(same.ladder, capped(same.ladder, stand.state))
        return track.number_of(Other(stand.begun, state, min(stand.highest, same.wanted)))

    def mark(self, training_week: int) -> Hashable:
        """What a training week is for each exercise that matters."""
        return (
            self._event(training_week),
            *(
                (
                    within(same.members[0].window, training_week),
                    same.ladder.event(training_week),
                    _may_count(same.members[0], training_week),
                )
                for same in self.sames
            ),
        )

    def rested(self, state: Hashable) -> Hashable:
        """A state after a rest week."""
        if not isinstance(state, Waiting):
            return super().rested(state)
        others = tuple([t.after(n, Event.REST) for t, n in zip(self.tracks, state.others, strict=True)])
        return Waiting(state.turns, state.counts, others)

    def been_away(self, state: Hashable, done: frozenset[str]) -> Hashable:
        """A state after an away week."""
        if not isinstance(state, Waiting):
            return super().been_away(state, done)
        others = tuple(
            n if same.members[0].name in done else track.after(n, Event.WITHOUT)
            for same, track, n in zip(self.sames, self.tracks, state.others, strict=True)
        )
        return Waiting(state.turns, state.counts, others)

    def trained(self, state: Hashable, week: int, training_week: int) -> Hashable:
        """A state after a training week, in which the exercise may begin; the day where its step is reached."""
        if not isinstance(state, Waiting):
            return super().trained(state, week, training_week)
        frame, t = self.frame, training_week
        held = frame.held(week, t, state.turns)
        turns = only(held.turns, self.all_turns)
        here = self._here(week, t, held)
        eased = False
        tracks, standing = self.tracks, state.others
        for track, n, is_here in zip(tracks, standing, here, strict=True):
            if is_here and track.eased[n] and t >= track.ladder.keep_until:
                eased = True
                break
        reached = self._reached(standing) if self.starts.wanted else {}
        for of, count in zip(self.most, state.counts, strict=True):
            self.starts.weeks[of] = count
        day = frame.day_of(self.exercise.name, week, held) if within(self.exercise.window, t) else None
        known = frame.under_way(week)
        rests = known is not None and self.exercise.name in known.halted
        if day is not None and not rests and self.starts.may_begin(self.exercise, t, eased, reached):
            run = self.run if known is None else partial(self.run_on, known)
            return run(FRESH, only(turns, self.turns), self.ladder.event(t), day)
        others: list[int] = []
        done: list[int] = []
        events = self._events(t)
        for i, (track, n, is_here) in enumerate(zip(tracks, standing, here, strict=True)):
            if is_here and not track.others[n].begun:
                is_here = self.starts.may_begin(self.sames[i].members[0], t, eased, reached)
            key = n, events[i] if is_here else Event.WITHOUT, is_here
            after = track.moved.get(key) if known is None else _known(known, self.sames[i], track, *key)
            others.append(track.after(*key) if after is None else after)
            if is_here:
                done.append(i)
        gained = self._gained(week, held, tuple(done))
        most = self.most.values()
        counts = tuple([min(now + gain, top) for now, gain, top in zip(state.counts, gained, most, strict=True)])
        return Waiting(turns, counts, tuple(others))

    def _reached(self, others: tuple[int, ...]) -> dict[str, int]:
        return {
            e.name: track.others[n].highest
            for same, track, n in zip(self.sames, self.tracks, others, strict=True)
            for e in same.members
        }

    @cached_property
    def kept(self) -> dict[Hashable, Any]:
        """What comes again in many states: who is there in a week, what a week counts for."""
        return {}

    def _events(self, training_week: int) -> tuple[Event, ...]:
        """What a training week is for each of the others."""
        key = "events", training_week
        found: tuple[Event, ...] | None = self.kept.get(key)
        if found is None:
            found = self.kept[key] = tuple([track.ladder.event(training_week) for track in self.tracks])
        return found

    def _here(self, week: int, training_week: int, held: Held) -> tuple[bool, ...]:
        key = "here", training_week, id(held)
        found: tuple[bool, ...] | None = self.kept.get(key)
        if found is None:
            found = self.kept[key] = tuple(self._is_here(same, week, training_week, held) for same in self.sames)
        return found

    def _gained(self, week: int, held: Held, done: tuple[int, ...]) -> tuple[int, ...]:
        """What a week adds to each of the counts, where these of the others are done in it."""
        key = "gained", id(held), self.frame.calendar.days_here(week), done
        found: tuple[int, ...] | None = self.kept.get(key)
        if found is None:
            self.starts.weeks = dict.fromkeys(self.starts.weeks, 0)
            self._count(week, held, {e.name for i in done for e in self.sames[i].members})
            found = self.kept[key] = tuple(self.starts.weeks[of] for of in self.most)
        return found

    def _is_here(self, same: Same, week: int, training_week: int, held: Held) -> bool:
        first = same.members[0]
        known = self.frame.under_way(week)
        if known is not None and first.name in known.halted:
            return False
        return within(first.window, training_week) and (same.free or first.name in held.days)

    def _count(self, week: int, held: Held, done: set[str]) -> None:
        """Counts the week, as the reckoning does."""
        frame = self.frame
        known = frame.under_way(week)
        if known is not None:
            here = {name: frame.courses[name].exercise for name in done}
            self.starts.count((n, [here[name] for name in names if name in here]) for n, names in known.held)
            return
        sessions = [
            (slot.count, [frame.courses[name].exercise for name in slot.session.do if name in done])
            for slot in held.slots
            if not slot.contact
        ]
        days = frame.calendar.days_here(week)
        for name in done:
            course = frame.courses[name]
            if course.free:
                sessions.append((1 if course.exercise.weekly else days, [course.exercise]))
        self.starts.count(sessions)


def _known(known: UnderWay, same: Same, track: Track, number: int, event: Event, begins: bool) -> int:
    """Where one of the others stands after a week that is under way."""
    name = same.members[0].name
    event = Event.REST if name in known.halted else event
    return track.after(number, event, begins, name not in known.uncounted, known.days.get(name, 0) is not None)


def _may_count(exercise: Exercise, training_week: int) -> bool:
    start = exercise.start
    return start is None or start.training_week is None or training_week >= start.training_week


def _sames(frame: Frame, exercise: Exercise, starts: Starts) -> Iterator[Same]:
    """The exercises that can keep this one waiting, put together where they can't differ."""
    lines = frame.courses[exercise.name].ladder.lines
    relevant = _relevant(frame, exercise, any(line.weeks > 0 for line in lines))
    wanted: dict[str, int] = {}
    for one in (exercise, *relevant):
        step = starts.wanted.get(one.name)
        if one.start and one.start.of and step is not None:
            wanted[one.start.of] = max(wanted.get(one.start.of, -1), step)
    known = frame.origin.under_way
    found: dict[Hashable, list[Exercise]] = {}
    ladders: dict[Hashable, tuple[Ladder, int]] = {}
    for one in relevant:
        course = frame.courses[one.name]
        ladder = _shortened(course.ladder, wanted.get(one.name, -1))
        inside = tuple(one.name in session.do for session in frame.plan.sessions)
        stand = frame.origin.stand(one.name)
        key: Hashable = (
            (course.free, one.weekly, inside, one.window, one.start, ladder, wanted.get(one.name, -1)),
            (stand.begun, stand.state, stand.highest),
            known and (one.name in known.halted, one.name in known.uncounted, known.days.get(one.name, -1)),
        )
        found.setdefault(key, []).append(one)
        ladders[key] = ladder, wanted.get(one.name, -1)
    for key, members in found.items():
        ladder, step = ladders[key]
        yield Same(tuple(members), frame.courses[members[0].name].free, ladder, step)


def _relevant(frame: Frame, exercise: Exercise, easing: bool) -> list[Exercise]:
    """All others where any may be eased; else only what starts wait for, and what those wait for."""
    all_others = [course.exercise for name, course in frame.courses.items() if name != exercise.name]
    if easing:
        return all_others
    needed: list[Exercise] = []
    asked = [exercise]
    while asked:
        start = asked.pop().start
        if start is None or start.of is None:
            continue
        for other in all_others:
            if is_of(other, start.of) and other not in needed:
                needed.append(other)
                asked.append(other)
    return [e for e in all_others if e in needed]


def _shortened(ladder: Ladder, wanted: int) -> Ladder:
    """The ladder cut where further steps change neither how long an easing lasts nor a start by reach."""
    ramps = [line for line in ladder.lines if line.after > 1 and line.weeks > 0]
    long_enough = max((ladder.floor + line.lower for line in ramps), default=0)
    last = max(long_enough, wanted, 0)
    kept = ladder.begins[: last + 1]
    return evolve(ladder, begins=kept, floor=ladder.floor if last else 0)
