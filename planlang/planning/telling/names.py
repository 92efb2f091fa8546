"""Which names may stand in a calendar that others in the house, or at work, may see."""

from __future__ import annotations

import re
from functools import lru_cache

from planlang.model.known import Catalogue

CODE = re.compile(r"\b[A-Z]{1,4}-[0-9]{1,6}\b")
WEIGHT = re.compile(
    r"\b(body[- ]?weight|bmi|body[- ]mass|weigh(s|ed|ing)?|weight[- ]loss|slim\w*"
    r"|(los|reduc|drop)\w*\b.{0,20}\b(weight|kg|lbs?|kilos?|pounds?|stone))\b",
    re.IGNORECASE,
)
HURT = re.compile(r"pain|\bach(e|ing)|\bsore|\bflare", re.IGNORECASE)
ILLNESS = re.compile(r"arthriti|arthros|rheumat|replace|operat|surg|arthroplast|fractur|diabet|cancer", re.IGNORECASE)


@lru_cache(maxsize=8)
def _illnesses(catalogue: Catalogue) -> re.Pattern[str]:
    words = {word for c in catalogue.conditions.values() for word in (c.name, *c.aliases)}
    return re.compile(r"\b(" + "|".join(sorted(map(re.escape, words), key=len, reverse=True)) + r")\b", re.IGNORECASE)


def about_weight(text: str) -> bool:
    """True where a text speaks of the person's body weight. A weight to lift is none."""
    return bool(WEIGHT.search(text))


def neutral(text: str, catalogue: Catalogue) -> bool:
    """False where a text holds an illness, an operation, pain, body weight, or a person's or staff member's code."""
    told = CODE.search(text) or HURT.search(text) or ILLNESS.search(text) or _illnesses(catalogue).search(text)
    return not told and not about_weight(text)
