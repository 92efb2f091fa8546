"""A statement in the one way of writing it: words, spaces, and where its value stands."""

from __future__ import annotations

import re

from planlang.syntax.nodes import Statement
from planlang.syntax.statements import FORMS
from planlang.syntax.words import Token
from planlang.text.words import WORDS

WIDTH = 10
"""Columns of a line's first words; what they say stands one further on."""

# Statements whose first words are more than one.
_HEADS = {
    "at_least": 2,
    "from_template": 2,
    "leave_block": 2,
    "at_most": 2,
    "at_most_above": 2,
    "at_most_visits": 2,
    "back_when": 2,
    "good_until": 2,
    "hold_on": 3,
    "if_not_done": 3,
    "in_turn": 3,
    "last_done": 2,
    "measured_by": 2,
    "pause_while": 2,
    "rest_starts": 2,
    "room": 2,
    "stay": 4,
    "still_do": 2,
    "still_nothing": 2,
    "tell_us_if": 3,
    "tested_anew": 2,
    "use_library": 2,
}
_CLOSE = ("_COMMA", "_SEMICOLON")
_STATES = ("HOT", "SWOLLEN", "BEING_CHECKED")
_ONE = re.compile(r"0*1(?:\.0+)?\Z")


def words(line: Statement) -> list[str]:
    """The words of a statement, each as tidy text spells it; a comma is with the word before it."""
    made: list[str] = []
    for i, token in enumerate(line.tokens):
        if token.type in _CLOSE and made:
            made[-1] += str(token)
        else:
            made.append(_word(line, i))
    return made


def written(line: Statement, width: int = 0) -> str:
    """A statement as one line of tidy text, without indentation. `width`: columns for its first words."""
    made = words(line)
    first = _HEADS.get(line.name, 1)
    if len(made) <= first:
        return " ".join(made)
    return f"{' '.join(made[:first]).ljust(width)} {' '.join(made[first:])}"


def meaning(token: Token) -> str:
    """What a token says, apart from its spelling."""
    word = WORDS[token.type]
    if word.one:
        return ""
    if token.type == "TIME":
        return str(token).zfill(5)
    return str(token)[:3] if token.type == "WEEKDAY" else str(token)


def _word(line: Statement, i: int) -> str:
    token = line.tokens[i]
    word = WORDS[token.type]
    if not word.one:
        return meaning(token)
    if i == 0 and line.name not in ("baseline", "joints"):
        return FORMS[line.name].word
    return word.many if word.many != word.one and _many(line.tokens, i) else word.one


def _many(tokens: tuple[Token, ...], i: int) -> bool:
    """True where the word at i is written in the plural."""
    kind = tokens[i].type
    before = tokens[i - 1] if i else None
    if before is not None and (before.type in ("NUMBER", "RANGE") or (before.type == "SETS" and kind == "HOUR")):
        return not _ONE.match(str(before).rpartition("x")[2])
    if kind == "WEEK" and before is not None and before.type in ("_TRAINING", "_IN"):
        return _several(tokens[i + 1 : i + 4])
    if kind == "_JOINT":
        return tokens[-1].type not in _STATES
    if kind == "STEP" and before is not None and before.type == "_LADDER":
        return _several(tokens[i + 1 : i + 4])
    return kind == "_EXERCISE" and before is not None and before.type == "_BETWEEN"


def _several(after: tuple[Token, ...]) -> bool:
    types = [token.type for token in after]
    return (
        types[:1] == ["RANGE"]
        or types[1:2] == ["_TO"]
        or (types[1:2] == ["_COMMA"] and types[2] in ("NUMBER", "RANGE"))
    )
