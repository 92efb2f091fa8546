"""A text read into a plan."""

from __future__ import annotations

from planlang.model.build.assemble import assemble
from planlang.model.plan import Plan
from planlang.syntax.read import read
from planlang.text.finding import Finding
from planlang.text.source import Source


def read_plan(source: Source) -> tuple[Plan | None, tuple[Finding, ...]]:
    """The plan that a source says, or None where it holds none, with every finding of the reading."""
    return assemble(read(source))
