"""The grammar itself: strict, its terminals apart and each with words, every statement with an example."""

from __future__ import annotations

import re
from pathlib import Path

import lark
import pytest

from planlang.syntax import parser as parsing
from planlang.syntax.nodes import Statement
from planlang.syntax.read import read
from planlang.syntax.statements import ANYWHERE, FIRST_WORDS, FORMS, HEADERS, forms_of
from planlang.syntax.tables import made_plain, read_table, write_table
from planlang.text.resources import folder
from planlang.text.source import Source
from planlang.text.words import WORDS, said
from tests.syntax.reading import names, script
from tests.syntax.terminals import matched, samples

GRAMMAR = (folder("grammar") / "plan.lark").read_text(encoding="utf-8")
ENDS = ("", " ", "\n", ",", ";", "#")


@pytest.fixture(scope="module")
def built() -> lark.Lark:
    return parsing.build(GRAMMAR)


def test_grammar_builds_strictly_without_a_conflict() -> None:
    assert parsing.build(GRAMMAR, strict=True).options.strict


def _accepted(built: lark.Lark) -> list[list[str]]:
    """For every state of the parse table the terminals that the lexer looks for there, ignored ones included."""
    known = {terminal.name for terminal in built.terminals}
    states = built.parser.parser._parse_table.states.values()
    return [sorted(({*state} & known) | {*built.ignore_tokens}) for state in states]


def _taken(built: lark.Lark) -> list[tuple[str, str, str, str]]:
    """Where a state accepts two terminals: the one, the other, a word of the other, and what the one takes of it."""
    terminals = {t.name: t for t in built.terminals}
    patterns = {name: t.pattern.to_regexp() for name, t in terminals.items()}
    words = {name: samples(name, patterns[name]) for name in patterns}
    pairs = {(a, b) for state in _accepted(built) for a in state for b in state if a != b}
    return [
        (a, b, word, got)
        for a, b in sorted(pairs)
        if terminals[a].priority >= terminals[b].priority  # else the lexer tries b first
        for word in words[b]
        for end in ENDS
        if matched(patterns[b], word + end) == word
        and (got := matched(patterns[a], word + end))
        and (len(got) < len(word) or (got == word and terminals[a].priority == terminals[b].priority))
    ]


def test_no_terminal_takes_the_beginning_of_another(built: lark.Lark) -> None:
    assert _taken(built) == []


@pytest.mark.parametrize(
    ("terminal", "pattern", "word"),
    [
        ("NUMBER", r"[0-9]+(?:\.[0-9]+)?", "2027-03-01"),
        ("STEP.1", r"steps?", "steps/day"),
        ("NAME.1", r"[^\W\d_]+", "sit-to-stand"),
    ],
)
def test_a_terminal_without_its_end_would_be_found(terminal: str, pattern: str, word: str) -> None:
    name = terminal.partition(".")[0]
    worse = re.sub(rf"^{name}(\.\d)?: .*$", lambda m: f"{terminal}: /{pattern}/", GRAMMAR, flags=re.MULTILINE)
    taken = _taken(parsing.build(worse))
    assert any(name in (a, b) for a, b, _, _ in taken)


def test_every_sample_is_matched_whole(built: lark.Lark) -> None:
    for terminal in built.terminals:
        pattern = terminal.pattern.to_regexp()
        for word in samples(terminal.name, pattern):
            assert word in (matched(pattern, word + end) for end in ENDS)


def test_every_terminal_has_words(built: lark.Lark) -> None:
    assert {t.name for t in built.terminals} - {*WORDS} == set()


def test_words_are_of_terminals_that_exist(built: lark.Lark) -> None:
    assert {*WORDS} - {t.name for t in built.terminals} == {"$END"}


def test_spellings_are_read_as_their_terminal(built: lark.Lark) -> None:
    patterns = {t.name: t.pattern.to_regexp() for t in built.terminals}
    assert matched(patterns["_MISSED"], "missed ") == "missed"
    assert WORDS["_MISSED"].one == "not done"  # read, and written as what blames nobody
    for name, word in WORDS.items():
        if name == "_MISSED":
            continue
        for spelling in {word.one, word.many} - {""}:
            assert matched(patterns[name], f"{spelling} ") == spelling


def test_what_belongs_together_is_said_in_one(built: lark.Lark) -> None:
    assert said({"SETS", "NUMBER", "AS_TOLERATED", "_LEFT"}) == ["a dose like 3x8 or 20 min"]
    assert said({"KG", "_NL"}) == ['"kg"', "the end of the line"]
    assert said({"WEEK"}, after_number=False) == ['"week"']
    assert said({"WEEK"}) == ['"weeks"']


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
def test_an_example_is_its_own_statement(form) -> None:  # type: ignore[no-untyped-def]
    assert names(form.example) == [form.name]
    assert script(form.example).findings == ()


def test_every_statement_of_the_grammar_has_a_form(built: lark.Lark) -> None:
    statements = {rule.expansion[0].name for rule in built.rules if rule.origin.name == "statement"}
    assert statements == {*FORMS}


def test_headers_open_blocks_of_their_own_name() -> None:
    for name in HEADERS:
        assert FORMS[name].blocks == (name,)
    assert {block for form in FORMS.values() for block in form.blocks} == {*HEADERS, ANYWHERE}


def test_singular_and_plural_start_the_same_lines() -> None:
    assert {f.name for f in forms_of("starts")} == {f.name for f in forms_of("start")}
    assert {f.name for f in forms_of("days")} == {f.name for f in forms_of("day")} == {"days"}


def test_first_words_are_those_of_the_grammar(built: lark.Lark) -> None:
    table = built.parser.parser._parse_table
    start = table.states[table.start_states["start"]]
    spelled = {WORDS[name].one.rstrip("s") for name in start if name in WORDS} - {""}
    assert spelled == {word.rstrip("s") for word in FIRST_WORDS}


def test_ready_table_holds_what_the_grammar_makes(tmp_path: Path) -> None:
    write_table(tmp_path / "plan.table")
    assert read_table(tmp_path / "plan.table", GRAMMAR) == made_plain(parsing.parser())


@pytest.mark.parametrize("damage", ["other grammar", "cut", "empty", "no JSON", "other shape"])
def test_a_table_that_does_not_fit_is_not_used(tmp_path: Path, damage: str) -> None:
    path = tmp_path / "plan.table"
    write_table(path)
    text = path.read_text("utf-8")
    path.write_text(
        {
            "other grammar": text.replace(text[12:40], "0" * 28),
            "cut": text[: len(text) // 2],
            "empty": "",
            "no JSON": "plan",
            "other shape": '{"digest": 1}',
        }[damage]
    )
    assert read_table(path, GRAMMAR) is None


@pytest.mark.parametrize(
    "name", ["knebøy", "größe-üben", "अभ्यास", "ejercicio1", "упражнение", "运动", "e\u0301tirement", "leg-press-2"]
)
def test_a_name_is_of_any_script(name: str) -> None:
    source = Source("made.plan", f"exercise {name}\nkind strength\n")
    (header, _) = read(source).lines
    assert isinstance(header, Statement)
    assert header.all("NAME") == [name]


@pytest.mark.parametrize("name", ["2-step", "-step", "step_up", "step.up", "step/up"])
def test_a_name_starts_with_a_letter_and_holds_letters_digits_hyphens(name: str) -> None:
    assert len(script(f"exercise {name}").findings) == 1
