"""What every text for a person is told from: the plan, its course, whom to call, and the words of a language."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar, cast

from attrs import field

from planlang.model.plan import Plan
from planlang.planning.telling.course import Course
from planlang.planning.week import Weeks
from planlang.text.data import define, frozen
from planlang.text.languages.line import Line
from planlang.text.languages.words import Words, in_english

T = TypeVar("T", bound=Line | list[Line])


@frozen
class Contacts:
    """Whom to call, as the clinic's own file gives it; absent numbers are said in words, never guessed."""

    emergency: str | None = None
    same_day: str | None = None
    clinic: str | None = None


@define(frozen=True, eq=False)
class Telling:
    """A reckoned plan that is told to its person. `on_sheet`: on the sheet itself, which calendars point to."""

    weeks: Weeks
    contacts: Contacts = Contacts()
    words: Words = field(factory=in_english)
    on_sheet: bool = False
    course: Course = field(init=False)
    _kept: dict[object, Line | list[Line]] = field(factory=dict, init=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "course", Course(self.weeks))

    def once(self, key: object, made: Callable[[], T]) -> T:
        """What is the same on many days, made once."""
        found = self._kept.get(key)
        if found is None:
            found = self._kept[key] = made()
        return cast(T, found)

    @property
    def plan(self) -> Plan:
        """The plan."""
        return self.weeks.plan

    @property
    def us(self) -> Line:
        """How to reach the clinic."""
        if self.contacts.clinic:
            return as_number(self.contacts.clinic)
        return self.words.say("call.us-ask" if self.on_sheet else "call.us-on-sheet")


def as_number(text: str) -> Line:
    """A telephone number: of no language, and never turned round."""
    return Line(((text, None),))
