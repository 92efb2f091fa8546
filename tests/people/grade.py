"""How hard a text is to read, by published formulas that need no word list.

Automated Readability Index: Smith and Senter 1967, AMRL-TR-66-220. Coleman and Liau 1975, J Appl Psychol 60:283. Both
give the United States school grade in which a text is understood. LIX: Björnsson 1968, Läsbarhet; for any Latin script,
under 30 very easy, under 40 easy. The coefficients are from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

LABEL = 6  # words under which a line is a label, a heading or a dose, and no sentence: they would make all look easy


def sentences_of(lines: Iterable[str]) -> list[list[str]]:
    """Sentences as words, from lines that hold one. Only `. ! ?` and a line's end are ends; a list in a line is not."""
    found = []
    for line in lines:
        said = [re.findall(r"[^\W_]+(?:['’-][^\W_]+)*", sentence) for sentence in re.split(r"(?<=[.!?])\s+", line)]
        if sum(map(len, said)) >= LABEL:
            found += [words for words in said if words]
    return found


def automated_readability(lines: Iterable[str]) -> float:
    """Grade by letters a word and words a sentence."""
    sentences = sentences_of(lines)
    words = [word for sentence in sentences for word in sentence]
    return 4.71 * sum(map(len, words)) / len(words) + 0.5 * len(words) / len(sentences) - 21.43


def coleman_liau(lines: Iterable[str]) -> float:
    """Grade by letters and sentences in 100 words."""
    sentences = sentences_of(lines)
    words = [word for sentence in sentences for word in sentence]
    return 5.88 * sum(map(len, words)) / len(words) - 29.6 * len(sentences) / len(words) - 15.8


def lix(lines: Iterable[str]) -> float:
    """Words a sentence, and words of more than six letters in 100."""
    sentences = sentences_of(lines)
    words = [word for sentence in sentences for word in sentence]
    return len(words) / len(sentences) + 100 * sum(len(word) > 6 for word in words) / len(words)
