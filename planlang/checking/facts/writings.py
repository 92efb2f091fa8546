"""Facts of free text: what goes to the person, what else stands in the file, and how hard it reads."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from planlang.checking.expression.mentions import shape_finder
from planlang.checking.expression.types import COUNT, TEXT, one_of
from planlang.checking.facts.plan import plan
from planlang.checking.facts.reading import grade_of, sentences_of, words_of
from planlang.checking.facts.registry import REGISTRY, Facts, root_list, subject
from planlang.model.plan import Plan
from planlang.model.writing import Writing

_READ = """
plan tell goal because target keep do_once back_when tell_us_if stop not_today easier begin then still_do reach at_least
at_most instead instead_session pause_while progress progress_deed how careful hold_on with_whom session place kit
warm_up cool_down cue prepare after
"""
FOR_THE_PERSON = frozenset(_READ.split())
"""Statements whose texts a person may read: in the calendar, on a sheet, or said aloud from it."""
FOR_COLLEAGUES = frozenset(("pain", "exercise", "activity"))
"""Blocks whose `because` is for colleagues; that of a goal or target is the person's own."""

text = subject("text", "texts", lambda it: str(it.words))
ALL = "texts"
_FIGURE = re.compile("[0-9]")


def _for_the_person(facts: Facts) -> Iterator[Writing]:
    for it in facts.plan.writings:
        if it.statement in FOR_THE_PERSON and not (it.statement == "because" and it.block in FOR_COLLEAGUES):
            yield it


root_list("text", "text", "every text that the person may read", _for_the_person)
root_list("writing", "text", "every quoted text and every comment of the file", lambda f: f.plan.writings)
root_list(
    "figured-writing",
    "text",
    "every quoted text and every comment that holds a figure",
    lambda f: (it for it in f.plan.writings if _FIGURE.search(it.words)),
)
text.plain("words", TEXT, "the text itself")
text.plain("statement", TEXT, "the kind of line that it stands in, such as tell, goal, session; comment for a comment")
text.plain("block", TEXT, "the block that it stands in; empty where it stands in none")
text.fact("words-without-contacts", TEXT, "the text, the clinic's own numbers taken out")(
    lambda f, it: _without_contacts(f, it.words)
)


@text.fact("year-in-it", COUNT, "the year of the first full date in it")
def _year(_: Facts, it: Writing) -> int | None:
    found = shape_finder("full-date")(it.words)
    year = re.search(r"(?<![0-9])[0-9]{4}(?![0-9])", found) if found else None
    return int(year.group()) if year else None


def _without_contacts(facts: Facts, words: str) -> str:
    numbers = facts.once("contact numbers", lambda: _numbers(facts))
    return words if numbers is None else numbers.sub("", words)


def _numbers(facts: Facts) -> re.Pattern[str] | None:
    """The numbers of the clinic's contacts, however their digits are set apart."""
    found = [
        r"[ ().-]{0,2}".join(re.findall("[0-9]", piece))
        for contact in (facts.contacts or {}).values()
        for piece in re.findall(r"[0-9][0-9 ().-]{1,20}[0-9]", contact)
    ]
    return re.compile("|".join(rf"\+?(?<![0-9]){one}(?![0-9])" for one in found)) if found else None


def _all_words(facts: Facts) -> list[str]:
    return facts.once("read words", lambda: [word for it in _read(facts) for word in words_of(it.words)])


def _read(facts: Facts) -> tuple[Writing, ...]:
    found: tuple[Writing, ...] = REGISTRY.facts["", ALL].get(facts, None)
    return found


def _grade(facts: Facts) -> Fraction | None:
    return grade_of(_all_words(facts), sum(sentences_of(it.words) for it in _read(facts)))


plan.fact("words-for-the-person", COUNT, "how many words the person may read")(lambda f, _: len(_all_words(f)))
plan.fact("reading-grade", COUNT, "how many years of school those words ask for (Flesch-Kincaid, for English)")(
    lambda f, _: f.once("grade", lambda: _grade(f))
)


@plan.fact("birth-year", COUNT, "the later of the two years in which the person can be born", "for_person")
def _birth_year(_: Facts, it: Plan) -> int | None:
    day = it.written or it.starts
    return None if it.aged is None or day is None else day.year - it.aged


@plan.fact(
    "calendar",
    one_of("full", "discreet", "none"),
    "how much a calendar may show; discreet where none was agreed",
    "agreed",
)
def _calendar(_: Facts, it: Plan) -> str:
    return (it.agreed.calendar if it.agreed else None) or "discreet"
