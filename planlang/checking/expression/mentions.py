"""Closures that look for words and shapes in a text."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
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
    plain = tuple(p.lower() for p in wanted if p.isascii())
    begins = [(p.split()[0], p) for p in plain]
    short_run = SHORT_RUN

    @cache
    def quick() -> re.Pattern[str]:
        return re.compile(_alternatives(plain))

    @cache
    def all_of(phrases: tuple[str, ...]) -> re.Pattern[str]:
        return re.compile(_alternatives(phrases), re.IGNORECASE)

    def found_in(text: str) -> Iterable[re.Match[str]]:
        """Where the phrases stand in a text. Looking in small letters is much quicker than looking past capitals."""
        nonlocal short_run
        if not text.isascii():
            return all_of(wanted).finditer(text)
        low = text.lower()
        if short_run:
            short_run -= 1
            may_stand = tuple([p for word, p in begins if word in low])
            return re.compile(_alternatives(may_stand)).finditer(low) if may_stand else ()
        return quick().finditer(low) if plain else ()

    def find(text: str) -> str | None:
        for found in found_in(text):
            start, end = found.span()
            if not against:
                return text[start:end]
            before = _WORDS_BEFORE.search(text, max(0, start - WINDOW), start)
            if before is None or all_of(against).search(before.group()) is None:
                return text[start:end]
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
