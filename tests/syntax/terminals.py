"""Sample words for every terminal of the plan grammar."""

from __future__ import annotations

import re
from itertools import islice, product
from re import _constants as c  # type: ignore[attr-defined]
from re import _parser  # type: ignore[attr-defined]
from typing import Any

# Terminals that stand for endlessly many words.
SHAPES = {
    "WEEKDAY": ["Mon", "Monday", "Tue", "Tues", "Tuesday", "Wed", "Wednesday", "Thu", "Thurs", "Sun", "Sunday"],
    "DATE": ["2027-03-01", "1999-12-31"],
    "TIME": ["7:30", "07:30", "18:00"],
    "CODE": ["P-014", "T-03", "ABCD-1", "A-123456"],
    "RATING": ["4/10", "13/20", "3-5/10", "2.5/10", "2.5-3.5/10", "148/88"],
    "SETS": ["3x8", "3x8-12", "2-3x2-5", "10x10"],
    "SETS_OPEN": ["3x", "2-3x"],
    "TEMPO_COUNT": ["2-1-4", "10-0-3"],
    "RM": ["12RM", "8-12RM"],
    "RANGE": ["8-12", "2.5-5", "30-60", "1-2.5"],
    "NUMBER": ["1", "12", "2.5", "10000", "0", "2012"],
    "ZONE_NAME": ["UTC", "Europe/London", "America/Argentina/Buenos_Aires", "Etc/GMT+3"],
    "NAME": [
        "walking",
        "sit-to-stand",
        "knebøy",
        "अभ्यास",
        "x",
        "leg2",
        "plans",
        "atlas",
        "steps-up",
        "kg-press",
        "week1",
    ],
    "STRING": ['""', '"x"', '"a # b"', '"3x8, then rest"'],
    "_COMMA": [","],
    "_SEMICOLON": [";"],
    "_NL": ["\n", "\n\n", "\n  # x\n", "\n#\n\n"],
    "WS": [" ", "    "],
    "COMMENT": ["#", "# x", '#"'],
}


def samples(name: str, pattern: str) -> list[str]:
    """Words that a terminal matches: those above, or each that its pattern spells."""
    if name in SHAPES:
        return SHAPES[name]
    return list(islice(_spelled(_parser.parse(pattern)), 40))


def _spelled(parts: Any) -> Any:
    """Every text that a pattern of letters, choices and optional letters matches; ` +` is one space."""
    choices = [list(_one(part)) for part in parts]
    return ("".join(texts) for texts in product(*choices))


def _one(part: Any) -> Any:
    kind, value = part
    if kind is c.LITERAL:
        yield chr(value)
    elif kind is c.MAX_REPEAT:
        low, high, inner = value
        yield from _spelled(inner)
        if low == 0 and high == 1:
            yield ""
    elif kind is c.SUBPATTERN:
        yield from _spelled(value[3])
    elif kind is c.BRANCH:
        for branch in value[1]:
            yield from _spelled(branch)
    elif kind in (c.ASSERT_NOT, c.ASSERT):
        yield ""
    elif kind is c.IN:
        yield from (chr(v) for k, v in value if k is c.LITERAL)
    else:
        raise ValueError(f"no samples for {kind}")


def matched(pattern: str, text: str) -> str | None:
    """What a terminal's pattern matches at the beginning of a text."""
    match = re.compile(pattern).match(text)
    return match.group() if match else None
