"""Any text at all: findings or statements, never an exception; tidy text says the same and stays as it is."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from planlang.syntax.blocks import blocks
from planlang.syntax.nodes import Script, Statement, Unread
from planlang.syntax.normalise import normalise
from planlang.syntax.spell import meaning
from planlang.syntax.tidy import tidy
from planlang.text.source import Source
from tests.syntax.reading import findings, script
from tests.syntax.texts import any_text, bent_examples, bent_lines, bent_texts


def said(read_text: Script) -> list[object]:
    """What a text says, apart from spelling and places."""
    return [
        (line.name, [(t.type, meaning(t)) for t in line.tokens]) if isinstance(line, Statement) else "?"
        for line in read_text.lines
    ]


def _whole(text: str) -> None:
    read_text = script(text)
    unread = [line for line in read_text.lines if isinstance(line, Unread)]
    assert len(read_text.findings) == len(unread)
    for finding in findings(text):
        assert finding.span is not None
        assert 0 <= finding.span.start <= finding.span.end <= len(text) + 1
        assert finding.message
        assert finding.advice
    made = blocks(read_text)
    inside = sum(len(block.lines) + block.known for block in made.blocks)
    assert inside + len(made.loose) + len(made.misplaced) + len(made.unread) == len(read_text.lines)


@settings(max_examples=250, deadline=None)
@given(any_text)
@example("\x00")
@example("\ud800 \udfff")
@example('tell "\ud800"')
@example("\r\r\n\n\r")
@example("\ufeff")
@example('"')
@example("#")
@example("\x0b\x0c\x1c\x85\u2028")
@example("begin 3 x 8\x00")
@example("exercise \u0301")
def test_any_text_ends_in_statements_or_findings(text: str) -> None:
    _whole(text)


@pytest.mark.parametrize(
    "line",
    [
        "begin " + "3 x 8 " * 1700,
        "9" * 10_000,
        "begin " + "9" * 10_000,
        "a" * 10_000,
        'tell "' + "x" * 10_000,
        'tell "' + "x" * 10_000 + '"',
        "about " + "a " * 5_000,
        "days " + "Mon " * 2_500,
        "do " + "a, " * 3_300 + "a b",
        "exercise " + "a-" * 5_000,
        "exercise " + "a " * 5_000,
        "begin 3x8 " + "(" * 10_000,
        "begin " + "1," * 5_000,
        "begin 3x8" + " " * 10_000 + "x",
        "#" * 10_000,
        "\u200b" * 10_000,
    ],
    ids=range(16),
)
def test_a_very_long_line(line: str) -> None:
    _whole(f'plan "x"\n{line}\nlasts 8 weeks\n')


@settings(max_examples=200, deadline=None)
@given(st.one_of(any_text, bent_texts()))
def test_tidying_keeps_the_meaning_and_is_done_once(text: str) -> None:
    once = tidy(Source("made.plan", text))
    assert once.findings == ()
    assert said(script(once.text)) == said(script(text))
    twice = tidy(Source("made.plan", once.text))
    assert twice.text == once.text
    assert not twice.changed


@settings(max_examples=120, deadline=None)
@given(bent_texts(odd=False))
def test_what_a_word_processor_does_is_read(text: str) -> None:
    assert script(text).findings == ()


@settings(max_examples=150, deadline=None)
@given(bent_examples())
def test_a_bent_line_says_what_the_plain_one_says(lines: tuple[str, str]) -> None:
    plain, bent = lines
    assert said(script(bent)) == said(script(plain))


@settings(max_examples=200, deadline=None)
@given(any_text)
def test_normalising_keeps_every_offset(text: str) -> None:
    made = normalise(text)
    assert normalise(made) == made
    assert len(made) - len(text) in (0, 1)
    assert all(a == b or b in ' "x-\n' for a, b in zip(text, made, strict=False))


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 40), st.lists(bent_lines(), min_size=1, max_size=8))
def test_a_bad_line_takes_nothing_with_it(place: int, lines: list[str]) -> None:
    clean = script("\n".join(lines))
    at = place % (len(lines) + 1)
    bad = script("\n".join([*lines[:at], "begin 3 x 8", *lines[at:]]))
    statements = [line for line in bad.lines if isinstance(line, Statement)]
    assert statements == list(clean.lines)
    assert len(bad.findings) == 1
