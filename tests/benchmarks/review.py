"""`python -m tests.benchmarks.review`: what a review costs, as ratios to one parse of the plan in the same run."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from planlang.checking.diary_check import judge_past
from planlang.checking.rulebook import built_in
from planlang.model.diary import Diary
from planlang.model.plan import Plan
from planlang.model.reading import read_diary, read_plan
from planlang.people.review.page import html
from planlang.planning.looking_back import past_of
from planlang.planning.review.data import Review
from planlang.planning.review.making import review_of
from planlang.syntax.driver import driver
from planlang.syntax.normalise import normalise
from planlang.syntax.parser import parser
from planlang.text.source import Source
from tests.benchmarks.plans import weeks_long
from tests.benchmarks.timing import HEADING, Pair, compare

WEEKS, LINES = 52, 400
STARTS = date(2027, 3, 1)


def diary_text(weeks: int = WEEKS, lines: int = LINES) -> str:
    """So many lines over so many weeks: sessions with pain, walks, a flare each quarter, measures, notes."""
    said: list[tuple[date, str]] = []
    for week in range(weeks):
        monday = STARTS + timedelta(weeks=week)
        for day in (0, 2, 4):
            pain = 3 + (week + day) % 2
            said.append((monday + timedelta(days=day), f'done "Chair and bench" during {pain}/10 morning 3/10'))
        said += [(monday + timedelta(days=day), f"walked {3200 + 40 * week} steps") for day in (1, 3)]
        said.append((monday + timedelta(days=6), 'kept "boots and band by the door at night" 5 days'))
        if week % 13 == 6:
            said += [(monday, "flare of knee, right"), (monday + timedelta(days=5), "flare over")]
            said += [(monday + timedelta(days=day), "pain 6/10") for day in range(5)]
        if week % 4 == 3:
            said.append((monday + timedelta(days=6), f"measured chair-stands {9 + week // 8} reps"))
            said.append((monday + timedelta(days=6), "confidence 7/10"))
    for n in range(lines - len(said)):
        said.append((STARTS + timedelta(days=n * 7 % (7 * weeks)), f'note "line {n}"'))
    listed = sorted(said)[:lines]
    return "diary for P-014\n" + "\n".join(f"{day} {words}" for day, words in listed) + "\n"


def review(plan_text: str, diary: str) -> Review:
    """All that the command does between reading the two files and writing."""
    plan, _ = read_plan(Source("a.plan", plan_text))
    assert plan is not None
    told, _ = read_diary(Source("a.diary", diary), plan.catalogue)
    assert told is not None
    return reviewed(plan, told)


def reviewed(plan: Plan, told: Diary) -> Review:
    """From the model on: looking back, the rules about diaries, the review."""
    past = past_of(plan, told)
    findings, _ = judge_past(past, built_in())
    return review_of(past, findings)


def rows() -> Iterator[Pair]:
    """The rows of the table, each measured when it is asked for."""
    text, diary = weeks_long(WEEKS), diary_text()
    assert len(diary.splitlines()) == LINES + 1
    bare, ready = parser(), normalise(text)
    plan, _ = read_plan(Source("a.plan", text))
    assert plan is not None
    told, _ = read_diary(Source("a.diary", diary), plan.catalogue)
    assert told is not None

    def anew() -> Review:
        driver().lines.clear()  # lines that were read before would be made again without reading
        return review(text, diary)

    name = f"review, {WEEKS} weeks, {LINES} diary lines / bare parse"
    yield compare(name, anew, lambda: bare.parse(ready), 40)
    yield compare("the same, both files read already", lambda: reviewed(plan, told), lambda: bare.parse(ready), 40)
    made = reviewed(plan, told)
    yield compare("the page of it / bare parse of the plan", lambda: html(made, ""), lambda: bare.parse(ready), 20)


if __name__ == "__main__":
    print(HEADING)
    for pair in rows():
        print(pair.row, flush=True)
