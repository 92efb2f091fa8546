"""`python -m tests.benchmarks.caseload`: everybody of a folder, against lint and review of each; how it grows."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Iterator
from pathlib import Path

from planlang.checking.beside import InFolder
from planlang.checking.diary_check import check_diary, judge_past
from planlang.checking.file import Run, check_file
from planlang.people.caseload.gathering import gathered
from planlang.planning.review.making import review_of
from planlang.text.load import load
from planlang.text.resources import folder
from planlang.text.source import Source
from tests.benchmarks.timing import HEADING, Pair, once

COUNTS = (100, 1_000)
EACH = 60
LIMIT = 1.5
NAME = "p014-allotment"


def write(root: Path, count: int) -> list[Path]:
    """So many people, each with the demo's first plan and its diary under a code of their own."""
    made = []
    texts = {end: (folder("examples") / "people" / f"{NAME}{end}").read_text("utf-8") for end in (".plan", ".diary")}
    root.mkdir()
    for number in range(1, count + 1):
        code = f"Q-{number:05}"
        for end, text in texts.items():
            path = root / f"{code.lower()}{end}"
            path.write_text(re.sub(r"\bP-014\b", code, text), "utf-8")
            made.append(path)
    return made


def reviewed(plan: Path, diary: Path, run: Run) -> None:
    """What `lint` and `review` do with one person's files."""
    check_file(plan, run)
    book, _ = run.book(plan)
    source = load(diary)
    assert isinstance(source, Source)
    beside = InFolder(diary, run.root(diary), run.folders)
    past = check_diary(source, book, None, beside, {}, beside.files).past
    assert past is not None
    review_of(past, judge_past(past, book)[0])


def rows(root: Path) -> Iterator[str]:
    """The row against each by itself, and that of growth."""
    spent = {}
    for count in COUNTS:
        names = [str(path) for path in write(root / str(count), count)]
        gathered(names[:20], Run(), None)
        spent[count] = once(lambda names=names: gathered(names, Run(), None))
    some = root / str(COUNTS[0])
    plans = sorted(some.glob("*.plan"))[:EACH]
    run = Run()
    reviewed(plans[0], plans[0].with_suffix(".diary"), run)
    alone = once(lambda: [reviewed(plan, plan.with_suffix(".diary"), run) for plan in plans]) / EACH
    each = spent[COUNTS[0]] / COUNTS[0]
    yield HEADING
    yield Pair("caseload, a person / lint and review of each", each, alone, each / alone, LIMIT).row
    yield ""
    yield f"{'people':>8} {'s':>8} {'ms each':>8}"
    for count, seconds in spent.items():
        yield f"{count:>8} {seconds:8.2f} {seconds * 1000 / count:8.2f}"


if __name__ == "__main__":
    with tempfile.TemporaryDirectory(prefix="people-") as made:
        for line in rows(Path(made)):
            print(line, flush=True)
