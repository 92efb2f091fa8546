"""Reviews made for tests: the plan of the two raised beds with a diary of one's own."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

from planlang.checking.diary_check import judge_past
from planlang.checking.rulebook import built_in
from planlang.model.reading import read_diary, read_plan
from planlang.planning.looking_back import past_of
from planlang.planning.past import Past
from planlang.planning.review.below import parts
from planlang.planning.review.data import Ran, Review
from planlang.planning.review.making import review_of
from planlang.planning.review.screen import first_lines
from planlang.text.source import Source

PEOPLE = Path(__file__).parents[3] / "examples" / "people"
BEDS = (PEOPLE / "p014-allotment.plan").read_text("utf-8")
BEDS_DIARY = (PEOPLE / "p014-allotment.diary").read_text("utf-8")


def beds(*changes: tuple[str, str]) -> str:
    """The plan's text, changed."""
    text = BEDS
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def past(lines: str, plan: str = BEDS, as_of: date | None = None) -> Past:
    """A plan looked back on with the lines of a diary, which are all read."""
    made, _ = read_plan(Source("p014.plan", plan))
    assert made is not None
    text = lines if lines.lstrip().startswith(("diary", "#")) else f"diary for {made.code}\n{lines}\n"
    told, found = read_diary(Source("p014.diary", text), made.catalogue)
    assert told is not None
    assert [f.message for f in found] == []
    return past_of(made, told, as_of)


def review(lines: str, plan: str = BEDS, as_of: date | None = None) -> Review:
    """The whole review, with what the rules about diaries find."""
    looked = past(lines, plan, as_of)
    findings, unjudged = judge_past(looked, built_in())
    return review_of(looked, findings, Ran(10, unjudged))


def texts(made: Review) -> Iterator[str]:
    """Every line that a review says in words of its own."""
    for label, line in first_lines(made):
        yield label
        yield line
    for title, lines in parts(made):
        yield title
        yield from lines
    yield from made.ask
    yield made.decide
    for one in made.findings:
        yield one.message
        yield one.advice or ""


def week(monday: str, *outcomes: str) -> str:
    """The three sessions of a week that begins on this Monday, each with its word (`done`); `-` for no entry."""
    first = date.fromisoformat(monday)
    days = [first + timedelta(days=n) for n in (0, 2, 4)]
    told = zip(days, outcomes, strict=True)
    return "\n".join(f'{day} {how} "Chair and bench"' for day, how in told if how != "-")
