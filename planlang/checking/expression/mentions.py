"""Closures that look for words and shapes in a text."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

from planlang.checking.expression.running import MAKERS, Code, Frame, Phrases, Run, Values, build
from planlang.model.catalogue import patterns
from planlang.model.plan import Plan

BEFORE = 5
"""So many words before a phrase, in the same clause, may deny it."""
SHORT_RUN = 100
"""So many texts are looked at word by word before it pays to make one expression of all phrases."""
WINDOW = 200
"""Characters before a phrase that are looked at for a denial."""
_WORDS_BEFORE = re.compile(rf"(?:[^\s.!?;:]+[ \t]+){{0,{BEFORE}}}\Z")

Find = Callable[[str], str | None]
EVERY, ANY, ENGLISH = "", "any", "en"


def _alternatives(phrases: tuple[str, ...]) -> str:
    """The longest first, so that of two that begin alike the longer is found."""
    ordered = sorted(phrases, key=len, reverse=True)
    spoken = "|".join(re.escape(p).replace("\\ ", r"\s+") for p in ordered)
    return rf"(?<!\w)(?:{spoken})(?!\w)"  # outside the choice, so that only beginnings of words are looked at


def _said(phrases: Phrases, language: str) -> tuple[str, ...]:
    """The phrases of that language, and those for any; all where no language is asked for."""
    if language == EVERY:
        return tuple(p for said in phrases.values() for p in said)
    return (*phrases.get(language, ()), *phrases.get(ANY, ()))


def language_of(facts: object) -> str:
    """The language that a plan's texts are in, English unless it says another."""
    plan: Plan | None = getattr(facts, "plan", None)
    return plan.language.partition("-")[0] if plan is not None else ENGLISH


def language_said(facts: object) -> str:
    """The language that a plan says its texts are in; EVERY where it says none."""
    plan: Plan | None = getattr(facts, "plan", None)
    return language_of(facts) if plan is not None and "language" in plan.places else EVERY


def phrase_in(text: str, phrases: Phrases, language: str = EVERY) -> str | None:
    """The first of the phrases that stands in a text."""
    find = _finder(phrases, None, language)
    return find(text) if find else None


def _finder(phrases: Phrases, denials: Phrases | None, language: str) -> Find | None:
    """What finds the first phrase of a language that isn't denied; None where the language has no phrases."""
    wanted, against = _said(phrases, language), _said(denials, language) if denials else ()
    if not wanted:
        return None
    plain = tuple(p for p in wanted if p.isascii())
    begins = {p: p.lower().split()[0] for p in plain}
    short_run = SHORT_RUN

    @cache
    def whole() -> re.Pattern[str]:
        return re.compile(_alternatives(wanted), re.IGNORECASE)

    @cache
    def quick() -> Callable[[str], object]:
        return re.compile(_alternatives(tuple(p.lower() for p in plain))).search

    @cache
    def denying() -> re.Pattern[str] | None:
        return re.compile(_alternatives(against), re.IGNORECASE) if against else None

    def expression(text: str) -> re.Pattern[str] | None:
        """What finds the phrases that may stand in a text; None where none may.

        Looking in small letters is much quicker than looking past capitals; most texts hold no more.
        """
        nonlocal short_run
        if not text.isascii():
            return whole()
        low = text.lower()
        if short_run:
            short_run -= 1
            may_stand = tuple(p for p, word in begins.items() if word in low)
            return re.compile(_alternatives(may_stand), re.IGNORECASE) if may_stand else None
        return whole() if plain and quick()(low) else None

    def find(text: str) -> str | None:
        words = expression(text)
        for found in words.finditer(text) if words else ():
            if not against:
                return found.group()
            before = _WORDS_BEFORE.search(text, max(0, found.start() - WINDOW), found.start())
            denies = denying()
            if before is None or denies is None or denies.search(before.group()) is None:
                return found.group()
        return None

    return find


def _mention(code: Code, values: Values) -> Run:
    phrases, inner = values.phrases.get(code[1], {}), build(code[2], values)
    denials = values.phrases.get(code[3]) if len(code) > 3 else None
    finders: dict[str, Find | None] = {}

    def run(frame: Frame) -> str | None:
        language = language_of(frame[0])
        if language not in finders:
            finders[language] = _finder(phrases, denials, language)
        find = finders[language]
        text = inner(frame) if find else None
        return None if find is None or text is None else find(text)

    return run


@cache
def shapes(name: str) -> tuple[re.Pattern[str], ...]:
    """The expressions of a pattern, compiled once."""
    return tuple(re.compile(expression) for expression in patterns()[name].matches)


@cache
def shape_finder(name: str) -> Find:
    """What finds a shape in a text; only a text that holds what the shape begins with is searched for the whole."""
    first = re.compile(patterns()[name].first).search

    def find(text: str) -> str | None:
        if first(text) is None:
            return None
        for one in shapes(name):
            found = one.search(text)
            if found is not None:
                return found.group()
        return None

    return find


def _shape(code: Code, values: Values) -> Run:
    name, inner = code[1], build(code[2], values)
    finders: list[Find] = []  # made when a text is first looked at

    def run(frame: Frame) -> str | None:
        text = inner(frame)
        if text is None:
            return None
        if not finders:
            finders.append(shape_finder(name))
        return finders[0](text)

    return run


MAKERS.update({"mention": _mention, "shape": _shape})
