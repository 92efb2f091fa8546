"""A session on one day of a week, and the visits among the sessions of a week."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time

from attrs import evolve

from planlang.model.session import Session
from planlang.text.data import frozen


@frozen
class Slot:
    """A session on one day of a week. `offset`: 0 to 6 from the week's first day.

    `at`: the time of day, None where none is said. `count` sessions without a day of their own where
    the person chooses (`untimed`). `contact`: a visit without exercise. Looking back, `moved`: the day it was moved
    to; `gone`: what goes on in an easier week took its place.
    """

    session: Session
    offset: int
    at: time | None = None
    untimed: bool = False
    count: int = 1
    visit: bool = False
    contact: bool = False
    moved: date | None = None
    gone: bool = False

    @property
    def when(self) -> tuple[int, bool, time]:
        """What slots of a week are put in order by."""
        return self.offset, self.at is not None, self.at or time.min


def at_times(session: Session, day: int) -> list[Slot]:
    """A session on a day, once for each of its times."""
    return [Slot(session, day, at) for at in sorted(session.times)] or [Slot(session, day)]


def visits_in(session: Session, week: int) -> int:
    """How many visits a session has in a calendar week."""
    return sum(count for visit in session.visits for number, count in visit.weeks if number == week)


def mark_visits(session: Session, due: int, own: Iterable[Slot]) -> list[Slot]:
    """The slots of a session with the first `due` of them visits; with nothing to do it stands for visits only."""
    marked: list[Slot] = []
    for slot in sorted(own, key=lambda s: s.when):
        here = min(due, slot.count)
        due -= here
        if here:
            marked.append(evolve(slot, count=here, visit=True, contact=not session.do))
        if slot.count > here and session.do:
            marked.append(evolve(slot, count=slot.count - here))
    return marked
