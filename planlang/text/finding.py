"""The one kind of thing that is ever reported about a text."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from enum import StrEnum

from attrs import field

from planlang.text.data import frozen
from planlang.text.source import Source, Span


class Level(StrEnum):
    """How much a finding weighs; the worst first."""

    UNSAFE = "unsafe"
    UNREALISTIC = "unrealistic"
    INCOMPLETE = "incomplete"
    ADVICE = "advice"


ORDER = {level: i for i, level in enumerate(Level)}


@frozen
class Related:
    """A further place that belongs to a finding, with what it says there."""

    message: str
    span: Span | None = None
    source: Source | None = field(default=None, eq=False)


@frozen
class Waived:
    """The waiver that holds for a finding."""

    reason: str
    by: str
    until: date


@frozen
class Finding:
    """Something wrong, doubtful or worth asking, at a place in a source (or without one).

    `help` says what to do instead; it may be a function, called only when the finding is shown.
    """

    rule: str
    level: Level
    message: str
    span: Span | None = None
    source: Source | None = field(default=None, eq=False, repr=False)
    help: str | Callable[[], str] = ""
    related: tuple[Related, ...] = ()
    sources: tuple[str, ...] = ()
    waived: Waived | None = None
    blocks: bool = False
    """True where what goes to the person must be refused, whatever the level."""

    @property
    def advice(self) -> str:
        """The help as text."""
        return self.help() if callable(self.help) else self.help


def unreadable(message: str, span: Span | None, source: Source, help: str | Callable[[], str] = "") -> Finding:
    """A text, or a part of one, that can't be read."""
    return Finding("unreadable", Level.UNSAFE, message, span, source, help, blocks=True)


def contradiction(
    message: str,
    span: Span | None,
    source: Source,
    help: str = "",
    related: tuple[Related, ...] = (),
    harmful: bool = False,
) -> Finding:
    """Two things said that can't both hold. `harmful`: in pain, rest, screening, operation, dose or date."""
    level = Level.UNSAFE if harmful else Level.INCOMPLETE
    return Finding("contradiction", level, message, span, source, help, related, blocks=harmful)


def unreckonable(message: str, span: Span | None, source: Source, help: str = "") -> Finding:
    """Something that is read but can't be reckoned as written."""
    return Finding("unreckonable", Level.INCOMPLETE, message, span, source, help)
