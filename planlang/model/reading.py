"""A text read into a plan."""

from __future__ import annotations

import re

from planlang.model.build.assemble import assemble
from planlang.model.build.context import Numbers
from planlang.model.build.diary import diary
from planlang.model.diary import Diary
from planlang.model.known import BUILT_IN, Catalogue
from planlang.model.plan import Plan
from planlang.syntax.read import read
from planlang.text.finding import Finding, unreadable
from planlang.text.source import Source, Span

_HEADER = re.compile(r"^[^\S\n\r]*\ufeff?[^\S\n\r]*(plan|template|library|diary)(?![\w\-])", re.MULTILINE)


def kind_of(source: Source) -> str | None:
    """What kind of file a text is by its first header: `plan`, `template`, `library`, `diary`; None for none."""
    text = source.text
    found = _HEADER.search(text.replace("\r", "\n") if "\r" in text else text)
    return found.group(1) if found else None


def read_plan(
    source: Source, catalogue: Catalogue = BUILT_IN, numbers: Numbers | None = None
) -> tuple[Plan | None, tuple[Finding, ...]]:
    """The plan that a source says, or None where it holds none, with every finding of the reading.

    `catalogue`: the conditions and measures that are known; a clinic's file adds to the built-in ones.
    `numbers`: what gives numbers that are more than their digits, as a template's blanks are.
    """
    other = _other(source)
    return (None, (other,)) if other else assemble(read(source), catalogue, numbers)


_OTHERS = {
    "template": "Make a plan from it: planlang start. What it says is checked by planlang lint.",
    "library": "Name it in a plan: use library. What it says is checked by planlang lint.",
    "diary": "Name the plan, and give the diary beside it.",
}


def _other(source: Source) -> Finding | None:
    """That a file is of another kind than a plan; its lines would say nothing as those of one."""
    found = _HEADER.search(source.text)
    kind = found.group(1) if found else None
    if found is None or kind not in _OTHERS or kind_of(source) != kind:
        return None
    return unreadable(f"This is a {kind}, not a plan.", Span(*found.span(1)), source, _OTHERS[kind])


def read_diary(source: Source, catalogue: Catalogue = BUILT_IN) -> tuple[Diary | None, tuple[Finding, ...]]:
    """The diary that a source says, or None where it holds none, with every finding of the reading.

    Names of sessions and exercises are not looked up: that takes the plan.
    """
    return diary(read(source), catalogue)
