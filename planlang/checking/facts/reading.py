"""How hard English texts read: Flesch-Kincaid grade, with syllables counted by the letters."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache

SENTENCE, SYLLABLE, BASE = Fraction("0.39"), Fraction("11.8"), Fraction("15.59")
"""Kincaid et al 1975: 0.39 words a sentence + 11.8 syllables a word - 15.59 (from memory)."""

_WORD = re.compile(r"[A-Za-z]+(?:['’][A-Za-z]+)?")
_END = re.compile(r"[.!?:;]+(?:\s|$)")
_VOWELS = re.compile(r"[aeiouy]+")
_SILENT = re.compile(
    r"(?<=[aeiouy]l)es?$|(?<=[^aeiouyl])e$|(?<=[^aeiouytd])ed$|(?<=[^aeiouycgsxzhl])es$|(?<=th)es$|(?<=[gq])ues?$"
    r"|(?<=[^aeiouyl])e(?=(?:ful|fully|less|ly|ment|ments|ness|times?|thing|how|body|where)$)"
)
"""An e that is not heard: ride, walked, times, careful; it is heard in table, rested, raises."""
_APART = re.compile(
    r"i[aou](?!us)|[^gq]ua(?!r)|eo(?!u)|(?<=eo)a|[^aeiouy]yi|ii|ea(?=t(?:e|ing|ion|ive))|ism$|n't$|uie|scie|[eo]ing"
    r"|[aeiouy][^aeiouy]+(?:ea|eals?|ier|iest)$"
)
"""Vowels that stand together and are said apart: idea, actual, rodeo, trying, easier."""
_TOGETHER = re.compile(r"[cstgxl]i[ao](?=[nlu])|[^aeiouy]iou|peo|iage")
"""... and those that look so, and aren't: special, action, gracious, people."""


def words_of(text: str) -> list[str]:
    """The words of a text; figures are none."""
    return _WORD.findall(text)


@lru_cache(maxsize=8192)
def syllables(word: str) -> int:
    """The syllables of an English word, at least one: groups of vowels, less the e that is not heard."""
    low = word.lower().replace("’", "'")
    spoken = _SILENT.sub("", low) if len(low) > 2 else low
    apart = len(_APART.findall(spoken)) - len(_TOGETHER.findall(spoken))
    return max(1, len(_VOWELS.findall(spoken)) + max(0, apart))


def grade(texts: Iterable[str]) -> Fraction | None:
    """The grade of texts, each of which ends its last sentence; None where there is no word."""
    listed = list(texts)
    return grade_of([word for text in listed for word in words_of(text)], sum(map(sentences_of, listed)))


def sentences_of(text: str) -> int:
    """The sentences of a text, its end the end of the last."""
    return sum(1 for part in _END.split(text) if _WORD.search(part))


def grade_of(words: Sequence[str], sentences: int) -> Fraction | None:
    """The grade of words that stand in so many sentences."""
    if not words:
        return None
    spoken = sum(map(syllables, words))
    return SENTENCE * Fraction(len(words), sentences) + SYLLABLE * Fraction(spoken, len(words)) - BASE
