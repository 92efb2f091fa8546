"""Highlighting for editors knows every word of the language."""

from __future__ import annotations

import json
import re

import pytest

from planlang.syntax.nodes import Statement
from planlang.syntax.statements import FORMS, HEADERS
from planlang.text.resources import folder
from planlang.text.words import WORDS
from tests.syntax.reading import script

RULES = json.loads((folder("grammar") / "plan.tmLanguage.json").read_text(encoding="utf-8"))["patterns"]

# What an editor shows a token as; of words that stand in several places any of these.
SHOWN = {
    "STRING": {"string.quoted.double"},
    "DATE": {"constant.other.date"},
    "TIME": {"constant.other.date"},
    "CODE": {"constant.other.code"},
    "SETS": {"constant.numeric.dose"},
    "RATING": {"constant.numeric"},
    "NUMBER": {"constant.numeric"},
    "WEEKDAY": {"constant.language.weekday"},
}


def shown(line: str) -> list[tuple[int, int, str]]:
    """(start, end, scope) of each part of a line, found as an editor does: the leftmost, then the first rule."""
    parts, at = [], 0
    while at < len(line):
        found = [
            (match.start(), i, match)
            for i, rule in enumerate(RULES)
            if (match := re.compile(rule["match"]).search(line, at))
        ]
        if not found:
            break
        _, i, match = min(found, key=lambda f: f[:2])
        captures = RULES[i].get("captures", {})
        scope = RULES[i].get("name") or next(iter(captures.values()))["name"]
        group = int(next(iter(captures), "0"))
        parts.append((match.start(group), match.end(group), scope))
        at = max(match.end(), at + 1)
    return parts


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
def test_every_word_of_an_example_is_shown_as_what_it_is(form) -> None:  # type: ignore[no-untyped-def]
    (line,) = script(form.example).lines
    assert isinstance(line, Statement)
    parts = shown(form.example)
    for i, token in enumerate(line.tokens):
        scopes = {s for start, end, s in parts if start <= token.start_pos < end}
        if token.type in SHOWN:
            assert scopes == SHOWN[token.type]
        elif WORDS[token.type].one:
            assert all(s.startswith(("keyword.", "constant.language")) for s in scopes)
            assert scopes
        if i == 0 and form.word:
            assert scopes == {"keyword.control.block" if form.name in HEADERS else "keyword.other.line"}


def test_a_remark_and_an_open_quote_stand_out() -> None:
    assert shown('tell "x" # y')[-1][2] == "comment.line.number-sign"
    assert shown('tell "x')[-1][2] == "invalid.illegal.unclosed"
