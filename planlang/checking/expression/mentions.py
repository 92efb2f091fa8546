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
WINDOW = 200
"""Characters before a phrase that are looked at for a denial."""
_WORDS_BEFORE = re.compile(rf"(?:[^\s.!?;:]+[ \t]+){{0,{BEFORE}}}\Z")

Find = Callable[[str], str | None]
_EVERY = ""


def _alternatives(phrases: tuple[str, ...]) -> str:
    """The longest first, so that of two that begin alike the longer is found."""
    ordered = sorted(phrases, key=len, reverse=True)
    return "|".join(rf"(?<!\w){re.escape(p).replace(chr(92) + ' ', chr(92) + 's+')}(?!\w)" for p in ordered)


def _said(phrases: Phrases, language: str) -> tuple[str, ...]:
    """The phrases of that language; of every language where it has none, or none is named."""
    return phrases.get(language) or tuple(p for said in phrases.values() for p in said)


def language_of(facts: object) -> str:
    """The language that a plan says its texts are in; empty where it says none."""
    plan: Plan | None = getattr(facts, "plan", None)
    return plan.language.partition("-")[0] if plan is not None and "language" in plan.places else _EVERY


def phrase_in(text: str, phrases: Phrases, language: str = _EVERY) -> str | None:
    """The first of the phrases that stands in a text."""
    return _finder(phrases, None, language)(text)


def _finder(phrases: Phrases, denials: Phrases | None, language: str) -> Find:
    words = re.compile(_alternatives(_said(phrases, language)), re.IGNORECASE)
    denying = re.compile(_alternatives(_said(denials, language)), re.IGNORECASE) if denials else None

    def find(text: str) -> str | None:
        for found in words.finditer(text):
            before = _WORDS_BEFORE.search(text, max(0, found.start() - WINDOW), found.start()) if denying else None
            if before is None or denying is None or denying.search(before.group()) is None:
                return found.group()
        return None

    return find


def _mention(code: Code, values: Values) -> Run:
    phrases, inner = values.phrases.get(code[1], {}), build(code[2], values)
    denials = values.phrases.get(code[3]) if len(code) > 3 else None
    finders: dict[str, Find] = {}
    if not _said(phrases, _EVERY):
        return lambda frame: None

    def run(frame: Frame) -> str | None:
        text = inner(frame)
        if text is None:
            return None
        language = language_of(frame[0])
        if language not in finders:
            finders[language] = _finder(phrases, denials, language)
        return finders[language](text)

    return run


@cache
def shapes(name: str) -> tuple[re.Pattern[str], ...]:
    """The expressions of a pattern, compiled once."""
    return tuple(re.compile(expression) for expression in patterns()[name].matches)


def _shape(code: Code, values: Values) -> Run:
    name, inner = code[1], build(code[2], values)

    def run(frame: Frame) -> str | None:
        text = inner(frame)
        if text is None:
            return None
        return next((found.group() for one in shapes(name) if (found := one.search(text))), None)

    return run


MAKERS.update({"mention": _mention, "shape": _shape})
