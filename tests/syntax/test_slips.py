"""A slip of the finger in any word of any statement: one finding, and mostly the word that was meant."""

from __future__ import annotations

import pytest

from planlang.syntax.recover import Line, parse
from planlang.syntax.statements import FORMS
from planlang.text.words import WORDS
from tests.syntax.reading import findings, home, said, whole

LEAST = 4
"""Letters of a word; in shorter ones a slip makes another word."""


def _swapped(word: str) -> str:
    middle = len(word) // 2
    return word[: middle - 1] + word[middle] + word[middle - 1] + word[middle + 1 :]


def _dropped(word: str) -> str:
    return word[: len(word) // 2] + word[len(word) // 2 + 1 :]


def _doubled(word: str) -> str:
    return word[: len(word) // 2] + word[len(word) // 2] + word[len(word) // 2 :]


def _slips() -> list[tuple[str, str, str, str]]:
    """(statement, the line with a slip, the word as it was, as it is now)."""
    _, lines = parse("".join(f"{form.example}\n" for form in FORMS.values()))
    made = []
    for form, line in zip(FORMS.values(), lines, strict=True):
        assert isinstance(line, Line)
        offset = line.tokens[0].start_pos or 0
        for token in line.tokens:
            word = str(token)
            if not WORDS[token.type].one or len(word) < LEAST or not word.replace("-", "").isalpha():
                continue
            for slip in (_swapped(word), _dropped(word), _doubled(word)):
                if slip != word:
                    start, end = (token.start_pos or 0) - offset, (token.end_pos or 0) - offset
                    made.append((form.name, form.example[:start] + slip + form.example[end:], word, slip))
    return made


SLIPS = _slips()


def test_there_are_hundreds() -> None:
    assert len(SLIPS) > 500


@pytest.mark.parametrize("name", FORMS)
def test_a_slip_is_one_finding_with_the_word_that_was_meant(name: str) -> None:
    for _, line, word, slip in [s for s in SLIPS if s[0] == name]:
        (finding,) = findings(whole(home(name), line))
        # not for what stands behind a code (it may be a name), nor where two words are as near
        if name != "for_person" and slip not in ("pan", "froom"):
            assert f'Did you mean "{word.rstrip("s")}' in said(finding)
        assert slip in said(finding) or name == "for_person"
