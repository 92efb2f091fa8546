"""A diary: what happened, one thing a line. What is not written is blank, which is not the same as not done."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from fractions import Fraction

from attrs import field

from planlang.model.dose import Dose
from planlang.model.exercise import Joint
from planlang.model.known import BUILT_IN, Catalogue
from planlang.model.quantity import Quantity
from planlang.model.writing import Writing
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Source, Span


class What(StrEnum):
    """What an entry tells. The words are those of the language, as far as it has one."""

    DONE = "done"
    PART = "part"
    EXTRA = "extra"
    NOT_DONE = "not done"
    MOVED = "moved"
    REST = "rest"
    FLARE = "flare"
    FLARE_OVER = "flare over"
    ILLNESS = "illness"
    ILLNESS_OVER = "illness over"
    PAUSE = "pause"
    PAUSE_OVER = "pause over"
    PAIN = "pain"
    MORNING = "morning"
    WALKED = "walked"
    DID = "did"
    DID_EXERCISE = "did exercise"
    KEPT = "kept"
    MEASURED = "measured"
    TOLD = "told"
    ACTED = "acted"
    SIGN = "sign"
    FELL = "fell"
    GAVE_WAY = "gave way"
    CONFIDENCE = "confidence"
    WORRY = "worry"
    NOTE = "note"
    NEW = "new"


SESSIONS = frozenset((What.DONE, What.PART, What.NOT_DONE, What.MOVED))
"""What is told of a session that was due."""
STRETCHES = {What.FLARE: What.FLARE_OVER, What.ILLNESS: What.ILLNESS_OVER, What.PAUSE: What.PAUSE_OVER}
"""What goes on for days, and what ends it."""


@frozen
class Entry:
    """One thing that happened on a day.

    name: the session, exercise, measure, sign, or what is new (`medicine`, `operation`). text: what stands in quotes:
    a habit, a one-off, a note, what was told. names: of `done`, what was left out; of `part`, what was done. because:
    `flare`, `illness`, `life`, or None; then `text` may say more. to: the day moved to. joint: of a flare, or of rest
    for a joint. value: of a measure, or what was walked; scale: of a rating. days: of a habit. before, during,
    morning: pain out of 10; effort: out of `effort_of`. reported: when it was written down, if late. by: whose line.
    """

    day: date
    what: What
    name: str | None = None
    text: str | None = None
    names: tuple[str, ...] = ()
    because: str | None = None
    to: date | None = None
    joint: Joint | None = None
    dose: Dose | None = None
    value: Quantity | None = None
    scale: int | None = None
    days: int | None = None
    before: Fraction | None = None
    during: Fraction | None = None
    morning: Fraction | None = None
    effort: Fraction | None = None
    effort_of: int | None = None
    reported: date | None = None
    by: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)

    @property
    def known_on(self) -> date:
        """The day from which it was known: when it was written down."""
        return self.reported or self.day


@frozen
class Steps:
    """`steps from "phone.csv"`: a table of daily steps, and what it held once it was read (day, steps)."""

    file: str
    days: tuple[tuple[date, int], ...] = ()
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Diary:
    """A whole diary. `entries` by date, those of one day by kind and words: the order of the file makes no difference.

    `unread`: whether a line can't be read. `writings`: its quoted texts and comments.
    """

    code: str
    source: Source = field(eq=False, repr=False)
    entries: tuple[Entry, ...] = ()
    steps: tuple[Steps, ...] = ()
    unread: bool = False
    writings: tuple[Writing, ...] = field(default=(), eq=False, repr=False)
    catalogue: Catalogue = field(default=BUILT_IN, eq=False, repr=False)
    span: Span = field(default=NOWHERE, eq=False, repr=False)

    def of(self, *kinds: What) -> tuple[Entry, ...]:
        """The entries of these kinds, by date."""
        return tuple(entry for entry in self.entries if entry.what in kinds)

    @property
    def first(self) -> date | None:
        """The first day that it tells of; None where it tells of none."""
        return min(self._days(), default=None)

    @property
    def last(self) -> date | None:
        """The last day that it tells of, or on which something was written down."""
        return max(self._days(), default=None)

    def _days(self) -> list[date]:
        return [day for e in self.entries for day in (e.day, e.known_on)] + [d for s in self.steps for d, _ in s.days]
