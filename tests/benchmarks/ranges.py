"""`python -m tests.benchmarks.ranges`: linting a template for everybody, against checking one plan made from it."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from planlang.checking.check import check, judge
from planlang.checking.facts.registry import Facts
from planlang.checking.ranges.template import check_template
from planlang.checking.rulebook import built_in
from planlang.model.composing.files import InLibrary
from planlang.model.composing.instance import FIRST_DAY, blanks_of, instance
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.text.source import Source
from tests.benchmarks.plans import DEMO, ROOT
from tests.benchmarks.timing import HEADING, Pair, compare

TEMPLATES = ROOT / "examples" / "library" / "templates"
LIMIT = 200.0
"""Ordinary checks of one plan that a template may cost: some forty runs of seven days to start on each."""


def templates() -> Iterator[tuple[Source, InLibrary]]:
    """The templates of the examples."""
    files = InLibrary(ROOT / "examples")
    for path in sorted(TEMPLATES.glob("*.plan")):
        yield Source(str(path), path.read_text(encoding="utf-8")), files


def filled(source: Source, files: InLibrary) -> None:
    """A plan made from a template for the lowest of all that may be filled in, checked once."""
    fills: dict[str, Fraction | str] = {b.name: b.name if b.text else b.low for b in blanks_of(source)}
    composed = instance(source, files, fills, FIRST_DAY)
    plan, findings = read_plan(composed)
    assert plan is not None
    judge(built_in(), Facts(plan, reckon(plan)), findings, kind="template")


def row(source: Source, files: InLibrary) -> Pair:
    """A template for everybody, against one plan from it."""
    found = check_template(source, built_in(), files)
    assert found.cover is not None
    cover = found.cover
    name = f"{Path(source.name).stem}: {cover.fillings} fillings, {cover.runs} runs"
    return compare(
        name, lambda: check_template(source, built_in(), files), lambda: filled(source, files), LIMIT, rounds=3
    )


def main() -> None:
    """Prints the table; nothing is asserted."""
    text = DEMO.read_text(encoding="utf-8")
    check(Source("warm.plan", text), built_in())
    print(HEADING)
    for source, files in templates():
        print(row(source, files).row, flush=True)


if __name__ == "__main__":
    main()
