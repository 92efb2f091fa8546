"""Whatever a person, a plan and a server do: nothing lost, nothing doubled, nobody else's event touched."""

from __future__ import annotations

import icalendar
from attrs import define, field
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.calendar.identity import collection_uid
from planlang.calendar.making import Made
from planlang.calendar.server.faults import Conflict, ServerFault
from planlang.calendar.server.place import Place
from planlang.calendar.server.publishing import emptied, find, to_do, withdrawal, written
from planlang.calendar.server.resource import Kept, kept
from tests.calendar.made import KEY, made_of, plan_of, text_of
from tests.strategies import examples

PLAN = plan_of(text_of("five-weeks"))
COLLECTION = collection_uid(PLAN, KEY)
VERSIONS: list[Made] = [
    made_of(text_of("five-weeks")),
    made_of(text_of("five-weeks", ("revision   1", "revision   2")), rest=[2]),
    made_of(text_of("five-weeks", ("revision   1", "revision   3"), ("Mon, Wed, Fri", "Mon, Wed"))),
    made_of(text_of("five-weeks", ("revision   1", "revision   4"))),
]
FOREIGN = (
    b"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nUID:theirs\r\nDTSTART:20270303T080000Z\r\nSUMMARY:Dentist\r\n"
    b"END:VEVENT\r\nEND:VCALENDAR\r\n"
)


@define
class Shelf:
    """A server in memory that stops answering after so many writings."""

    resources: dict[str, bytes] = field(factory=dict)
    versions: dict[str, int] = field(factory=dict)
    there: bool = False
    patience: int = 10**6

    def calendars(self) -> tuple[Place, ...]:
        return (Place(f"/me/{COLLECTION}/", "Exercise"),) if self.there else ()

    def make(self, id: str, name: str) -> Place:
        self.tick()
        assert not self.there
        self.there = True
        return Place(f"/me/{id}/", name)

    def events(self, place: Place) -> tuple[Kept, ...]:
        return tuple(k for h, d in self.resources.items() if (k := kept(h, str(self.versions[h]), d)))

    def is_empty(self, place: Place) -> bool:
        return not self.resources

    def tick(self) -> None:
        if self.patience <= 0:
            raise ServerFault("gone")
        self.patience -= 1

    def put(self, href: str, data: bytes) -> None:
        self.resources[href] = data
        self.versions[href] = self.versions.get(href, 0) + 1

    def create(self, place: Place, uid: str, data: bytes) -> None:
        self.tick()
        if f"{place.url}{uid}.ics" in self.resources:
            raise Conflict("taken")
        self.put(f"{place.url}{uid}.ics", data)

    def change(self, event: Kept, data: bytes) -> None:
        self.tick()
        if str(self.versions.get(event.href)) != event.etag:
            raise Conflict("changed")
        self.put(event.href, data)

    def remove(self, event: Kept) -> None:
        self.tick()
        if str(self.versions.get(event.href)) != event.etag:
            raise Conflict("changed")
        del self.resources[event.href]

    def remove_calendar(self, place: Place) -> None:
        self.tick()
        assert not self.resources
        self.there = False

    def published(self, made: Made, patience: int = 10**6) -> bool:
        """One run; True where it came to its end."""
        self.patience = patience
        found = find(self, COLLECTION, made.uid)
        todo = to_do(made, found, None)
        assert not todo.clashes
        return written(self, found, COLLECTION, todo.steps, lambda: None).stopped is None

    def touched(self, href: str, summary: str) -> None:
        """The person changes an event."""
        calendar = icalendar.Calendar.from_ical(self.resources[href])
        calendar.events[0]["SUMMARY"] = icalendar.vText(summary)
        self.put(href, calendar.to_ical())

    def said(self) -> dict[str, tuple[str, str]]:
        return {k.uid: (k.digest, str(k.sequence)) for k in self.events(Place("", ""))}


def said_after(*numbers: int) -> dict[str, tuple[str, str]]:
    shelf = Shelf()
    assert all(shelf.published(VERSIONS[n]) for n in numbers)
    return shelf.said()


@settings(max_examples=examples(20), deadline=None)
@given(st.lists(st.integers(0, 3), min_size=1, max_size=3, unique=True), st.data())
def test_wherever_runs_are_cut_off_the_last_one_ends_as_if_none_had_been(
    numbers: list[int], data: st.DataObject
) -> None:
    numbers.sort()
    shelf = Shelf()
    for number in numbers:
        for patience in data.draw(st.lists(st.integers(0, 25), max_size=2)):
            shelf.published(VERSIONS[number], patience)
        assert shelf.published(VERSIONS[number])
        before = dict(shelf.versions)
        assert shelf.published(VERSIONS[number])
        assert shelf.versions == before  # nothing is written twice
    assert shelf.said() == said_after(*numbers)


@settings(max_examples=examples(20), deadline=None)
@given(st.lists(st.integers(0, 3), min_size=2, max_size=4, unique=True), st.data())
def test_what_others_wrote_is_never_written_over(numbers: list[int], data: st.DataObject) -> None:
    numbers.sort()
    shelf = Shelf()
    theirs: dict[str, bytes] = {}
    for number in numbers:
        shelf.published(VERSIONS[number], data.draw(st.sampled_from([3, 10, 10**6])))
        if "/me/theirs.ics" not in theirs:
            shelf.put("/me/theirs.ics", FOREIGN)
            theirs["/me/theirs.ics"] = FOREIGN
        ours = sorted(h for h in shelf.resources if h not in theirs)
        for href in data.draw(st.lists(st.sampled_from(ours), max_size=2, unique=True)) if ours else ():
            shelf.touched(href, "Mine now")
            theirs[href] = shelf.resources[href]
    shelf.published(VERSIONS[numbers[-1]])
    assert {href: shelf.resources.get(href) for href in theirs} == theirs
    shelf.patience = 10**6
    found = find(shelf, COLLECTION, VERSIONS[0].uid)
    steps, left = withdrawal(found, VERSIONS[0].uid, False)
    course = written(shelf, found, COLLECTION, steps, lambda: None)
    emptied(shelf, found, course)
    assert shelf.resources == theirs
    assert {one.href for one in left} == set(theirs) - {"/me/theirs.ics"}
