"""How many things in a diary have moved an entry: what its sequence number is higher by, never a clock.

Each easier week before it counts one, and each time that it has come to stand or to say otherwise by something else: a
move, a week that did not count, a session that was not done.
"""

from __future__ import annotations

from attrs import field

from planlang.calendar.entry import Kind
from planlang.calendar.events import SITTING_KIND
from planlang.calendar.identity import Identities
from planlang.calendar.known import Known
from planlang.model.plan import Plan
from planlang.planning.telling.course import Course
from planlang.planning.week import Sitting, Week, WeekKind
from planlang.text.data import define

Parts = tuple[Kind, str, int, int]
Otherwise = tuple[object, ...]
"""How an entry differs from what the same easier weeks alone would have brought; empty where it does not."""


@define(eq=False)
class Counting:
    """The counts so far; states are added in the order of their days."""

    plan: Plan
    key: bytes | None
    rest: frozenset[int] = frozenset()
    _rested: frozenset[int] = frozenset()
    _seen: dict[Parts, tuple[Otherwise, int]] = field(factory=dict)
    _uids: dict[Parts, str] = field(factory=dict)

    @property
    def highest(self) -> int:
        """The most that any entry has been moved."""
        return len(self.rest) + max((count for _, count in self._seen.values()), default=0)

    def add(self, state: Known) -> None:
        """What was known at the end of another day."""
        self._rested, self.rest = self.rest, state.rest
        if not self._seen and not state.moved and state.weeks.weeks == state.planned.weeks:
            return
        course, planned = Course(state.weeks), Course(state.planned)
        for week, same in zip(state.weeks.weeks, state.planned.weeks, strict=True):
            twins = {(s.name, s.order): s for s in same.sittings}
            for sitting in week.sittings:
                twin = twins.get((sitting.name, sitting.order))
                self._add(_parts(week, sitting), week, _otherwise(week, sitting, same, twin, course, planned))
            if week.kind is not WeekKind.REST and week.activities:
                self._add(_parts(week, None), week, _done_otherwise(tuple(week.activities), week, course, planned))

    def _add(self, parts: Parts, week: Week, now: Otherwise) -> None:
        before, count = self._seen.get(parts, ((), 0))
        # What a new easier week has moved has a higher number already.
        changed = now != before and _before(week, self.rest) == _before(week, self._rested)
        if now or parts in self._seen:
            self._seen[parts] = now, count + changed

    def of(self, week: Week, sitting: Sitting | None) -> int:
        """How many things have moved an entry of a week."""
        found = self._seen.get(_parts(week, sitting))
        return _before(week, self.rest) + (found[1] if found else 0)

    def uid(self, week: Week, sitting: Sitting) -> str:
        """The identity of a session."""
        parts = _parts(week, sitting)
        if parts not in self._uids:
            self._uids[parts] = Identities(self.plan, self.key).of(*parts)
        return self._uids[parts]


def _before(week: Week, rest: frozenset[int]) -> int:
    """The easier weeks before a week, itself among them."""
    return sum(r < week.number or (week.kind is WeekKind.REST and r == week.number) for r in rest)


def _parts(week: Week, sitting: Sitting | None) -> Parts:
    if sitting is None:
        kind = Kind.EASIER_WEEK if week.kind is WeekKind.REST else Kind.DAILY
        return kind, "", week.number, 1
    return SITTING_KIND[week.kind], sitting.name, week.training_week or week.number, sitting.order


def _otherwise(
    week: Week, sitting: Sitting, same: Week, twin: Sitting | None, course: Course, planned: Course
) -> Otherwise:
    if twin is None:
        return (sitting.day, sitting.exercises)
    found: Otherwise = ()
    if twin.day != sitting.day:
        found += ((sitting.day - twin.day).days,)
    if twin.exercises != sitting.exercises:
        found += (sitting.exercises,)
    if _first_in(week, sitting) != _first_in(same, twin):
        found += (tuple(sorted(_first_in(week, sitting))),)
    return found + _done_otherwise(sitting.exercises, week, course, planned)


def _done_otherwise(names: tuple[str, ...], week: Week, course: Course, planned: Course) -> Otherwise:
    """What is done otherwise than planned, told by what it is and by what it is lower than."""
    found: Otherwise = ()
    for name in names:
        done, same = course.done(name, week.number), planned.done(name, week.number)
        if done != same:
            found += (name, done)
        if done and done.easing:
            last = course.last_own(name, week.number)
            if last != planned.last_own(name, week.number):
                found += (name, "after", last)
    return found


def _first_in(week: Week, sitting: Sitting) -> set[str]:
    """The exercises of which a sitting is the first of its week: it says what is new."""
    before = [s for s in week.sittings if (s.day, str(s.starts)) < (sitting.day, str(sitting.starts))]
    return set(sitting.exercises) - {name for s in before for name in s.exercises}
