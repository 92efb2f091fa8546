"""Publishing: a calendar on a server made to say what a plan says, and taken back again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Protocol

from attrs import evolve, field

from planlang.calendar.entry import Entry
from planlang.calendar.making import Made
from planlang.calendar.previous import cancel
from planlang.calendar.server.difference import Difference, Doing, Step, difference
from planlang.calendar.server.faults import Conflict, ServerFault
from planlang.calendar.server.place import Place
from planlang.calendar.server.resource import Kept, Wanted, wanted
from planlang.calendar.writing import NAME
from planlang.text.data import define, frozen


class Server(Protocol):
    """What is asked of a server. All raise ServerFault; those that write one event raise Conflict."""

    def calendars(self) -> tuple[Place, ...]:
        """The user's calendars."""

    def make(self, id: str, name: str) -> Place:
        """A new calendar."""

    def events(self, place: Place) -> tuple[Kept, ...]:
        """Every event of a calendar."""

    def is_empty(self, place: Place) -> bool:
        """True where a calendar holds nothing."""

    def create(self, place: Place, uid: str, data: bytes) -> None:
        """Writes an event that is not there."""

    def change(self, event: Kept, data: bytes) -> None:
        """Writes an event anew, if it is still the version that was read."""

    def remove(self, event: Kept) -> None:
        """Removes an event, if it is still the version that was read."""

    def remove_calendar(self, place: Place) -> None:
        """Removes a calendar."""


@frozen
class Found:
    """A person's calendar on a server, if there is one: what it holds, and whether its address says that we made it."""

    place: Place | None
    events: tuple[Kept, ...] = ()
    made_by_us: bool = False


@define
class Course:
    """How far the writing came.

    `met`: steps left out, each with why: something else stood there by then. `stopped`: why the rest was not done.
    `emptied`: the calendar itself is gone.
    """

    steps: Sequence[Step]
    done: list[Step] = field(factory=list)
    met: list[tuple[Step, str]] = field(factory=list)
    stopped: str | None = None
    emptied: bool = False


def find(server: Server, collection: str, mark: str) -> Found:
    """The person's calendar. Where a server gave it another address, it is one of our name with this plan's events."""
    there = server.calendars()
    for place in there:
        if place.id == collection:
            return Found(place, server.events(place), made_by_us=True)
    for place in there:
        if place.name == NAME:
            events = server.events(place)
            if any(event.calendar == mark for event in events):
                return Found(place, events)
    return Found(None)


def to_do(made: Made, found: Found, today: date | None) -> Difference:
    """What has to be written so that the server holds a finished calendar. What ended before `today` is over."""

    def ready(entry: Entry) -> Wanted:
        return wanted(entry, made.zone, made.stamp, made.uid)

    def cancelling(entry: Entry, sequence: int) -> Wanted:
        moves = made.moves.of_gone(entry, sequence - made.sequence)
        return ready(evolve(cancel(entry, made.zone, made.words), moves=moves))

    return difference([ready(e) for e in made.entries], found.events, made.uid, cancelling, today)


def withdrawal(found: Found, mark: str, changed_too: bool) -> tuple[tuple[Step, ...], tuple[Kept, ...]]:
    """What removes every event of a plan, its past too; and the events that the person has changed and so are left."""
    ours = [event for event in found.events if event.calendar == mark]
    left = tuple(event for event in ours if event.touched and not changed_too)
    return tuple(Step(Doing.REMOVE, None, event) for event in ours if event not in left), left


def written(
    server: Server, found: Found, collection: str, steps: Sequence[Step], one_done: Callable[[], object]
) -> Course:
    """Does the steps one by one; a server that stops answering ends it, and the next run goes on from there."""
    course = Course(steps)
    try:
        place = found.place
        if place is None and steps:
            place = server.make(collection, NAME)
        for step in steps:
            assert place is not None
            _do(server, place, step, course)
            one_done()
    except ServerFault as fault:
        course.stopped = str(fault)
    return course


def emptied(server: Server, found: Found, course: Course) -> None:
    """Removes the calendar that we made, if nothing at all is left in it."""
    if found.place is None or not found.made_by_us or course.stopped or course.met:
        return
    try:
        if server.is_empty(found.place):
            server.remove_calendar(found.place)
            course.emptied = True
    except ServerFault as fault:
        course.stopped = str(fault)


def _do(server: Server, place: Place, step: Step, course: Course) -> None:
    try:
        if step.wanted is None:
            assert step.kept is not None
            server.remove(step.kept)
        elif step.kept is None:
            server.create(place, step.wanted.entry.uid, step.wanted.data())
        else:
            server.change(step.kept, step.wanted.data())
    except Conflict as fault:
        course.met.append((step, str(fault)))
    else:
        course.done.append(step)
