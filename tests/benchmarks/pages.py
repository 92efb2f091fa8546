"""`python -m tests.benchmarks.pages`: what a person's pages cost, as ratios in one run."""

from __future__ import annotations

from collections.abc import Iterator

import typst

from planlang.model.reading import read_plan
from planlang.people.sheet.blocks import Sheet
from planlang.people.sheet.html import html
from planlang.people.sheet.making import sheet
from planlang.people.sheet.pdf import FONTS, pdf
from planlang.planning.reckon import reckon
from planlang.planning.telling.telling import Contacts
from planlang.syntax.normalise import normalise
from planlang.syntax.parser import parser
from planlang.text.languages.words import Words, words
from planlang.text.source import Source
from tests.benchmarks.plans import weeks_long
from tests.benchmarks.timing import HEADING, Pair, compare

CONTACTS = Contacts("112", "03 5550 0101", "03 5550 0100")
WEEKS, WEEK = 26, 13
HEAD = b'#set document(title: "A page", date: none)\n#set text(font: "DejaVu Sans", size: 14pt)\n= A page\n'
ONE_PAGE = HEAD + b"Two times eight, and a rest. " * 60


def made(text: str, told: Words) -> Sheet:
    """From the text of a plan to the sheet of one of its weeks, reading and both reckonings included."""
    plan, _ = read_plan(Source("a.plan", text))
    assert plan is not None
    return sheet(reckon(plan), WEEK, CONTACTS, told)


def page() -> Pair:
    """The page of HTML, from the text of the plan, against lark's bare parse of that text."""
    text, told = weeks_long(WEEKS), words("en")
    bare, ready = parser(), normalise(text)
    return compare(
        f"sheet of a {WEEKS}-week plan, HTML / lark's bare parse",
        lambda: html(made(text, told)),
        lambda: bare.parse(ready),
        20,
    )


def paper() -> Pair:
    """The PDF of a sheet against one page of plain text by the same program and font."""
    one = made(weeks_long(WEEKS), words("en"))
    return compare(
        "sheet, PDF of 4 pages / typst, one page",
        lambda: pdf(one),
        lambda: typst.compile(
            ONE_PAGE, format="pdf", font_paths=[str(FONTS)], ignore_system_fonts=True, pdf_standards=["ua-1"]
        ),
        5,
    )


def rows() -> Iterator[Pair]:
    """The rows of the table, each measured when it is asked for."""
    yield page()
    yield paper()


if __name__ == "__main__":
    print(HEADING)
    for pair in rows():
        print(pair.row, flush=True)
