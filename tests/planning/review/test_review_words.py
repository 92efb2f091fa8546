"""No text that a review can bring out blames: the words that are replaced, and what is never claimed."""

from __future__ import annotations

import ast
import re
from datetime import date, timedelta
from pathlib import Path

import pytest

from planlang.people.review.page import html
from tests.people.sheets import words_of
from tests.planning.review.reviews import BEDS_DIARY, beds, review, texts, week

ROOT = Path(__file__).parents[3]
BANNED = re.compile(
    r"\b(missed|miss|allowance|adheren\w*|complian\w*|complied|lapse\w*|restart\w*|square one|fail\w*|behind|overdue"
    r"|rest weeks?|rest used|rest left|more rest|never needed|at risk|risk|streak\w*|days lost|lost|excuse\w*|lazy"
    r"|poor\w*|neglect\w*|forg[eo]t\w*|skipp\w*|drop(ped)? out|dropout|unmotivated|sedentary|below average"
    r"|should have|ought to have|no warning signs|diagnos\w*|approved|evidence-based|will reach|prevents?)\b",
    re.IGNORECASE,
)
"""What blames, in the table of words; and what the tool must not claim."""


def flare_days(first: str, days: int, over: bool = False) -> str:
    start = date.fromisoformat(first)
    lines = [f"{start} flare of knee, right"]
    lines += [f"{start + timedelta(days=n)} pain 6/10" for n in range(days)]
    if over:
        lines.append(f"{start + timedelta(days=days)} flare over")
    return "\n".join(lines)


RESTS = [f"2027-03-{day:02} rest" for day in (8, 15, 22, 29)]
SOONER = beds(("by         2027-07-04\n", "by         2027-05-02\n"))
LATE = beds(("by         2027-07-04\n", "by         2027-05-30\n"))
NO_ROOM = beds(("room for   3 weeks", "room for   0 weeks"))
CASES = {
    "nothing but rest": ("\n".join(RESTS[:1]), beds(), None, "easier week, part of the plan"),
    "room used up": ("\n".join(RESTS[:3]), beds(), None, "3 of 3 easier weeks taken, all of them."),
    "beyond the room": ("\n".join(RESTS), beds(), None, "the plan needs new dates"),
    "no room at all": ("\n".join(RESTS[:1]), NO_ROOM, None, "the plan had no room for one"),
    "none taken where there is no room": ("2027-03-01 walked 3000 steps", NO_ROOM, None, "No easier week taken"),
    "flare now": (flare_days("2027-03-08", 5), beds(), None, "now: flare of the knee"),
    "long flare": (flare_days("2027-03-08", 20), beds(), None, "20 days of flare"),
    "flare over": (flare_days("2027-03-08", 6, True), beds(), date(2027, 3, 21), "none now; the last from 8 Mar"),
    "illness": ("2027-03-08 illness\n2027-03-14 illness over", beds(), date(2027, 3, 21), "easier week"),
    "pause": ("2027-03-08 pause\n2027-03-28 pause over", beds(), date(2027, 4, 4), "3 of 3 easier weeks"),
    "not done": (
        "\n".join(week(day, "not done", "not done", "not done") for day in ("2027-03-01", "2027-03-08")),
        beds(),
        None,
        "6 sessions one after the other not done",
    ),
    "not done for a flare": (
        '2027-03-01 not done "Chair and bench" because flare "knelt too long"',
        beds(),
        None,
        "not done (flare)",
    ),
    "no entry": ("2027-03-21 confidence 4/10", beds(), None, "how did they go, and does the diary fit?"),
    "pain over the limit": (
        "\n".join(f'2027-03-0{day} done "Chair and bench" during 7/10 morning 6/10' for day in (1, 3)),
        beds(),
        None,
        "one lower, last two sessions",
    ),
    "under half": (week("2027-03-01", "done", "-", "-"), beds(), date(2027, 3, 7), "under half of it done"),
    "easing": ("2027-03-15 rest", beds(), date(2027, 3, 21), "on, "),
    "dates to move": ("\n".join(RESTS[:3]), SOONER, None, "Not by its date"),
    "holds, the room used up": ("\n".join(RESTS[:3]), beds(), None, "as long as no further easier week is needed"),
    "date depends": (
        "\n".join(week(day, "done", "done", "done") for day in ("2027-03-01", "2027-03-08")),
        LATE,
        None,
        "Not yet by its date",
    ),
    "after the plan": (BEDS_DIARY, beds(), date(2027, 9, 1), "none: the plan is over"),
    "the whole example": (BEDS_DIARY, beds(), None, "1 of 3 easier weeks taken, room for 2 more."),
    "signs, falls and what is new": (
        '2027-03-01 fell\n2027-03-02 gave way\n2027-03-03 told "chest tight" by P-014\n2027-03-04 new medicine "x"',
        beds(),
        None,
        "OPEN",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_no_text_that_rest_can_bring_out_blames(name: str) -> None:
    lines, plan, day, expected = CASES[name]
    made = review(lines, plan, day)
    said = list(texts(made))
    assert any(expected in line for line in said), said
    assert [line for line in said if BANNED.search(line)] == []


@pytest.mark.parametrize("name", CASES)
def test_nor_does_the_page(name: str) -> None:
    lines, plan, day, _ = CASES[name]
    page = html(review(lines, plan, day), "")
    shown = " ".join(words_of(re.sub(r"<pre>.*?</pre>", "", page, flags=re.S)))
    pictures = " ".join(re.findall(r"<(?:title|desc|text)[^>]*>([^<]*)<", page))
    assert BANNED.findall(f"{shown} {pictures}") == []


MADE_OF = [
    *(ROOT / "planlang" / "planning" / "review").glob("*.py"),
    *(ROOT / "planlang" / "people" / "review").glob("*.py"),
    *(ROOT / "planlang" / "cli").glob("review*.py"),
]


def literals(path: Path) -> list[str]:
    """The texts that a module can put together, docstrings left out."""
    tree = ast.parse(path.read_text("utf-8"))
    documented = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    loose = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    return [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and id(node) not in documented | loose
        and " " in node.value
    ]


def test_no_text_that_a_review_is_made_of_blames_whatever_brings_it_out() -> None:
    said = [text for path in MADE_OF for text in literals(path)]
    assert len(said) > 100
    assert [text for text in said if BANNED.search(text)] == []


def test_the_ban_would_find_what_it_is_for() -> None:
    for line in ("You missed a session", "adherence 74 %", "rest used 3 of 3", "back to square one", "low risk"):
        assert BANNED.search(line)


def test_no_share_of_sessions_is_ever_one_number() -> None:
    made = review(BEDS_DIARY)
    about = [line for line in texts(made) if "done" in line and "Chance" not in line]
    assert about
    assert [line for line in about if "%" in line] == []
