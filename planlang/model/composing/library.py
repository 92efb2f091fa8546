"""Exercise libraries: their exercises by name."""

from __future__ import annotations

from functools import lru_cache

from planlang.model.composing.sheet import Section, Sheet, sheet
from planlang.text.data import frozen
from planlang.text.source import Source


@frozen
class Library:
    """A library's exercises, each with its section; of two of one name the first."""

    sheet: Sheet
    exercises: dict[str, Section]

    @property
    def name(self) -> str:
        """What its file is called."""
        return self.sheet.source.name


@lru_cache(maxsize=256)
def library(source: Source) -> Library | None:
    """The library in a source; None where it is something else. Kept as long as the source is in use."""
    made = sheet(source)
    if made.kind != "library":
        return None
    exercises: dict[str, Section] = {}
    for section in made.sections:
        if section.kind in ("exercise", "activity") and not section.change and len(section.key) > 1:
            exercises.setdefault(section.key[1], section)
    return Library(made, exercises)


@lru_cache(maxsize=256)
def template(source: Source) -> Sheet | None:
    """The template in a source; None where it is something else."""
    made = sheet(source, template=True)
    return made if made.kind == "template" else None
