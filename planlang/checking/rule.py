"""A rule, whole: every part of the table that rules are written by."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Literal

from attrs import field

from planlang.model.records import Ground
from planlang.text.data import frozen
from planlang.text.finding import Level

Strength = Literal["guideline", "trial", "cohort", "consensus", "common practice", "arithmetic"]


@frozen
class Setting:
    """A named threshold in base units of its dimension, the unit it is shown in, and the bounds a clinic must keep."""

    name: str
    value: Fraction
    unit: str
    least: Fraction
    most: Fraction
    means: str


@frozen
class Applies:
    """What a rule is for; what is empty narrows nothing. Ages in years; `files`: plan, template, library, diary."""

    conditions: tuple[str, ...] = ()
    operations: tuple[str, ...] = ()
    from_age: int | None = None
    below_age: int | None = None
    files: tuple[str, ...] = ("plan", "template")


@frozen
class Case:
    """One thing that a rule flags, as code. `subject`: ["one"|"each"|"first", code, condition].

    `underline`: codes of places, the first that is known is underlined; `related`: [place, pieces].
    """

    subject: list[Any]
    flags: list[Any]
    message: list[Any]
    help: list[Any]
    underline: list[Any] = field(factory=list)
    related: list[Any] = field(factory=list)
    slots: int = 2
    never_waived: bool = False


@frozen
class Spoken:
    """A rule's expressions as they were written, for `explain`."""

    looks_at: str
    flags_when: str
    reckons: tuple[tuple[str, str], ...] = ()
    message: str = ""
    help: str = ""


@frozen
class Rule:
    """One rule. `asks`: statements that it asks for; `ask_facts`: the facts, as `owner's name`."""

    name: str
    pack: str
    title: str
    level: Level
    strength: Strength
    cases: tuple[Case, ...]
    spoken: tuple[Spoken, ...]
    why: str
    limits: str
    sources: tuple[Ground, ...]
    since: str
    reviewed: str
    contested: bool = False
    applies: Applies = Applies()
    settings: tuple[Setting, ...] = ()
    words: tuple[tuple[str, tuple[tuple[str, tuple[str, ...]], ...]], ...] = ()
    gives_way_to: tuple[str, ...] = ()
    aliases: tuple[str, ...] = ()
    never_waived: bool = False
    flagged: tuple[str, ...] = ()
    clean: tuple[str, ...] = ()
    asks: frozenset[str] = frozenset()

    def source_lines(self) -> tuple[str, ...]:
        """The sources as a finding names them, with what is only from memory said so."""
        return tuple(source_line(ground) for ground in self.sources)

    def setting(self, name: str) -> Setting | None:
        """The setting of that name; spaces and hyphens are the same."""
        return next((s for s in self.settings if s.name == name.replace(" ", "-")), None)


def source_line(ground: Ground) -> str:
    """`Author year, title (from memory)`."""
    if ground.known == "memory":
        return f"{ground.source} (from memory)"
    if ground.known == "part":
        return f"{ground.source} (partly from memory)"
    return ground.source
