"""Plans read, reckoned and made into calendars, for the tests of this folder."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from pathlib import Path

from planlang.calendar.entry import Entry
from planlang.calendar.events import entries
from planlang.calendar.making import Made, make
from planlang.calendar.previous import Previous
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.planning.telling.standing import Contacts
from planlang.planning.week import Weeks
from planlang.text.source import Source

PLANS = Path(__file__).parent / "plans"
GOLDEN = Path(__file__).parent / "golden"
CLINIC = Contacts("112", "03 5550 0101", "03 5550 0100, weekdays 8 to 17")
KEY = b"a key for tests, kept nowhere"


def text_of(name: str, *changes: tuple[str, str]) -> str:
    """A plan of the folder `plans` with words replaced; each must be there."""
    text = (PLANS / f"{name}.plan").read_text("utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def plan_of(text: str) -> Plan:
    """A plan that reads without a finding."""
    plan, findings = read_plan(Source("made.plan", text))
    assert [f.message for f in findings] == []
    assert plan
    return plan


def weeks_of(text: str, rest: Iterable[int] = ()) -> Weeks:
    """A plan's text, read and reckoned."""
    return _reckoned(text, frozenset(rest))


@cache
def _reckoned(text: str, rest: frozenset[int]) -> Weeks:
    return reckon(plan_of(text), rest)


def made_of(text: str, rest: Iterable[int] = (), previous: Previous | None = None, key: bytes | None = KEY) -> Made:
    """A plan's text as a finished calendar."""
    made = make(weeks_of(text, rest), CLINIC, key, previous)
    assert isinstance(made, Made), made
    return made


def entries_of(text: str, rest: Iterable[int] = (), contacts: Contacts = CLINIC) -> tuple[Entry, ...]:
    """A plan's text as entries."""
    return _told(text, frozenset(rest), contacts)


@cache
def _told(text: str, rest: frozenset[int], contacts: Contacts) -> tuple[Entry, ...]:
    return entries(_reckoned(text, rest), contacts, KEY)


def beds(*changes: tuple[str, str]) -> str:
    """The plan of the two raised beds, changed."""
    return text_of("two-raised-beds", *changes)


def stairs(*changes: tuple[str, str]) -> str:
    """The plan of the stairs, changed."""
    return text_of("stairs", *changes)


def daily(zone: str, starts: str, weeks: int = 4, times: str = "07:30, 23:20", minutes: int = 35) -> str:
    """A plan with sessions every day."""
    return f"""plan "Every day"
  for P-001
  about knee osteoarthritis, left
  starts {starts}
  lasts {weeks} weeks
  zone {zone}
  written 2026-01-02
  revision 1
agreed 2026-01-02 calendar full, diary no
exercise bends
  kind mobility
  begin 2x10
  stay on this step because "it is enough"
session "Bends"
  days every day
  at {times} for {minutes} min
  do bends
"""
