"""How many digits a number has, and which, makes no difference to how a line is read: what a text's record rests on."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.checking.rule import Rule
from planlang.syntax.nodes import Statement
from planlang.syntax.read import read
from planlang.text.finding import Finding
from planlang.text.source import Source

EXAMPLES = Path(__file__).parents[2] / "examples"
NUMBERS = frozenset(("NUMBER", "RANGE", "SETS", "SETS_OPEN", "RATING", "RM"))
"""Words of a line that hold numbers which a blank may give."""


def _lines() -> list[str]:
    texts = (path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.rglob("*.plan")))
    return sorted({line for text in texts for line in text.splitlines() if re.search(r"\d", line) and "<" not in line})


LINES = _lines()
STEPS = st.text("0123456789", min_size=1, max_size=7)


def shape(text: str) -> list[tuple[str, list[str]]]:
    """The statements of a text with the kinds of their words."""
    return [
        (line.name, [token.type for token in line.tokens]) if isinstance(line, Statement) else ("?", [])
        for line in read(Source("t.plan", text)).lines
    ]


def test_there_are_lines_of_every_kind_of_number() -> None:
    found = {
        token.type
        for line in LINES
        for item in read(Source("t.plan", line + "\n")).lines
        if isinstance(item, Statement)
        for token in item.tokens
    }
    assert found >= NUMBERS - {"SETS_OPEN"}


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(LINES), st.data())
def test_other_digits_and_more_of_them_are_read_alike(line: str, data: st.DataObject) -> None:
    for item in read(Source("t.plan", line + "\n")).lines:
        if not isinstance(item, Statement):
            continue
        other, end = [], 0
        for token in item.tokens:
            if token.type in NUMBERS:
                other += [line[end : token.start_pos], re.sub(r"\d+", lambda _: data.draw(STEPS), str(token))]
                end = token.end_pos or 0
        assert shape("".join([*other, line[end:]]) + "\n") == shape(line + "\n")


def test_words_for_a_message_are_set_against_nothing(
    faults_of: Callable[..., list[Finding]], rule_of: Callable[..., Rule]
) -> None:
    """They are made unseen by what a range is proved by, so no finding may hang on what they say."""
    looks = {"looks_at": "each target", "message": "the nearest is {its nearest}"}
    assert rule_of(flags_when="its nearest is written", **looks)
    for flags in (
        'its nearest is "1x5"',
        'its nearest is any of "1x5", "1x6"',
        "mention of falling in its nearest is written",
    ):
        (fault,) = faults_of(flags_when=flags, **looks)
        assert "words for a message" in fault.message or "text" in fault.message
