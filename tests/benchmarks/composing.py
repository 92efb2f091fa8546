"""`python -m tests.benchmarks.composing`: what putting a plan together from its template and libraries costs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from planlang.model.composing.compose import compose
from planlang.model.composing.files import InLibrary, TextFiles
from planlang.model.reading import read_plan
from planlang.text.source import Source
from tests.benchmarks.plans import ROOT, demo
from tests.benchmarks.timing import HEADING, Pair, compare, typical

EXAMPLES = ROOT / "examples"
MADE = Path("people", "p047-lamp-room.plan")


def by_itself() -> Pair:
    """A plan that names no other file, looked at, against reading it."""
    source = Source("a.plan", demo())
    return compare(
        "a plan by itself, put together / read it", lambda: compose(source), lambda: read_plan(source), 0.1, 40
    )


def from_template() -> Pair:
    """A plan from a template with its libraries, put together, against reading what comes of it."""
    source = Source(str(EXAMPLES / MADE), (EXAMPLES / MADE).read_text("utf-8"))
    files = InLibrary(EXAMPLES)
    whole, _ = compose(source, files)
    return compare(
        "a plan from a template, put together / read it",
        lambda: compose(source, files),
        lambda: read_plan(whole),
        1.5,
        40,
    )


def growing() -> Iterator[tuple[int, float]]:
    """Milliseconds for each exercise of a template that has more and more of them, each with a blank's number."""
    for count in (50, 200, 800):
        blocks = "".join(f"exercise e{n}\n  begin 2x<reps>\n  then 2x<reps + 2>\n" for n in range(count))
        files = TextFiles({"t.plan": f'template "T"\n  lasts 12 weeks\n  blank reps 4 to 12\n{blocks}'})
        source = Source("p.plan", 'plan "P"\n  starts 2027-03-01\n  from template "t.plan"\n  fill reps 6\n')
        yield count, typical(lambda source=source, files=files: compose(source, files)) * 1000 / count


if __name__ == "__main__":
    print(HEADING)
    for pair in (by_itself(), from_template()):
        print(pair.row, flush=True)
    print("\nexercises of a template   ms each")
    for count, each in growing():
        print(f"{count:>23} {each:9.4f}", flush=True)
