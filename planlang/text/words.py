"""The words of the plan language for people: what a message calls each token, alone and together."""

from __future__ import annotations

from collections.abc import Collection

from planlang.text.data import frozen
from planlang.text.spelling import SHAPES, SPELLED


@frozen
class Word:
    """What a message calls a token; for a word of the language its spelling, alone or after one, and after many."""

    said: str
    one: str = ""
    many: str = ""


def _rows() -> dict[str, Word]:
    words = {name: Word(said) for name, said in SHAPES.items()}
    for row in SPELLED.strip().splitlines():
        name, spelled = row.split(" ", 1)
        one, _, many = spelled.partition(" / ")
        words[name] = Word(f'"{many or one}"', one, many or one)
    return words


WORDS: dict[str, Word] = _rows()


def _tokens(names: str) -> frozenset[str]:
    return frozenset(names.split())


UNITS = _tokens(
    "SEC MIN HOUR KM MILE METRE CM MM INCH DEGREE KG LB REPS STEPS_A_DAY MIN_A_DAY MIN_A_WEEK POINT PERCENT MMHG SPEED "
    "STEP"
)
_DOSE = _tokens("SETS SETS_OPEN NUMBER RANGE _TO AS_TOLERATED _LEFT _RIGHT")
_DOSE_PARTS = _tokens(
    "EACH_SIDE _AT _EASY _HOLDING _WITH STEP CHAIR _TEMPO _RESTING NUMBER RANGE TWICE_A_DAY ONCE_A_DAY _IN_BOUTS_OF "
    "AS_TOLERATED STRING"
)
_LOADS = _tokens("KG LB ONE_RM PERCENT REPS HR_MAX")
_DAYS = _tokens("WEEKDAY _EVERY ONCE TWICE NUMBER RANGE")
# What many tokens together are called, where all of the first set can stand: those of the second are left unsaid.
_TOGETHER = (
    (_tokens("SETS AS_TOLERATED"), _DOSE, "a dose like 3x8 or 20 min"),
    (_tokens("EACH_SIDE TWICE_A_DAY _HOLDING"), _DOSE_PARTS, 'more of the dose, like "each side" or "at 2 kg"'),
    (_tokens("SEC MIN KM REPS"), UNITS, "a unit like kg, min or reps"),
    (_tokens("KG ONE_RM HR_MAX"), _LOADS, 'what the number counts, like "kg" or "%1RM"'),
    (_tokens("WEEKDAY _EVERY ONCE"), _DAYS, 'days like Mon, or "3 a week"'),
)


def said(tokens: Collection[str], after_number: bool = True) -> list[str]:
    """What could stand there, in a clinician's words; tokens that belong together are one of them."""
    left = set(tokens)
    result = []
    for present, dropped, words in _TOGETHER:
        if present <= left:
            left -= dropped
            result.append(words)
    ends = "_NL" in left
    left -= {"_NL", "$END"}
    single = [WORDS[name] for name in left if name in WORDS]
    result += sorted({word.said if after_number or not word.one else f'"{word.one}"' for word in single})
    return [*result, WORDS["_NL"].said] if ends else result


def spellings(tokens: Collection[str]) -> list[str]:
    """Every spelling, as tidy text has it, of those tokens that are words of the language."""
    words = [WORDS[name] for name in sorted(tokens) if name in WORDS]
    return list(dict.fromkeys(text for word in words for text in (word.one, word.many) if text))
