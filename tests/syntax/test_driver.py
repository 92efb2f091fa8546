"""The driver of the grammar's tables finds the words, trees and faults that lark's own lexer and parser find."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from planlang.syntax.normalise import normalise
from planlang.syntax.parser import parser
from planlang.syntax.patterns import BOUNDARY, first_character, spelled
from planlang.syntax.recover import Fault, accepted_after, parse
from planlang.syntax.statements import FORMS
from planlang.syntax.tables import tables
from tests.properties.texts import PLANS, spoiled_plans, texts
from tests.syntax.larks_way import accepted_after as larks_accepted_after
from tests.syntax.larks_way import parse as larks_parse

some = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def words(tokens):
    return [(t.type, str(t), t.start_pos, t.end_pos) for t in tokens]


def told(line):
    if isinstance(line, Fault):
        found = words([line.found]) if line.found is not None else None
        return words(line.tokens), line.start, line.stop, line.end, found, line.expected
    return words(line.tokens)


def same(text: str) -> None:
    ready = normalise(text)
    trees, lines = parse(ready)
    expected_trees, expected_lines = larks_parse(ready)
    assert trees == expected_trees
    assert [told(line) for line in lines] == [told(line) for line in expected_lines]


@pytest.mark.parametrize("text", PLANS, ids=lambda t: t.split('"')[1])
def test_real_plans_are_read_as_lark_parses_them(text: str):
    same(text)


@pytest.mark.parametrize("form", FORMS.values(), ids=lambda f: f.name)
def test_each_statement_is_the_tree_that_lark_makes_of_it(form):
    bare = [part for part in parser().parse(f"{form.example}\n").children if hasattr(part, "data")]
    assert parse(f"{form.example}\n")[0] == bare


@pytest.mark.parametrize("form", FORMS.values(), ids=lambda f: f.name)
def test_each_statement_whole_and_cut_short_is_read_as_lark_reads_it(form):
    for cut in range(len(form.example) + 1):
        same(form.example[:cut])


@pytest.mark.parametrize("form", FORMS.values(), ids=lambda f: f.name)
def test_what_may_follow_the_beginning_of_a_statement_is_what_lark_accepts(form):
    words = form.example.split(" ")
    for count in range(len(words)):
        beginning = " ".join(words[:count])
        assert accepted_after(beginning) == larks_accepted_after(beginning)


@some
@given(texts)
def test_any_text_is_read_as_lark_reads_it(text):
    same(text)


@some
@given(spoiled_plans())
def test_spoiled_plans_are_read_as_lark_reads_them(text):
    same(text)


def test_every_word_of_every_example_can_begin_as_it_begins():
    terminals = dict(tables().terminals)
    _, lines = parse("".join(f"{form.example}\n" for form in FORMS.values()))
    for line in lines:
        for token in line.tokens:
            assert first_character(terminals[token.type])(token[0]), token


@pytest.mark.parametrize(
    ("pattern", "begins", "does_not"),
    [
        (r"starts?(?![\w\/-])", "s", "t"),
        (r"(?:left|right|both)(?![\w\/-])", "lrb", "eh"),
        (r"[0-9]+-[0-9]+", "07", "-a"),
        (r"\n(?:[ ]*\n)*", "\n", " "),
        (r"[^\W\d_](?:x|y)*", "aøд", "1_ "),
        (r"#[^\n]*", "#", '"'),
        (r"(?:a|b)?c", "abcz", ""),
        (r"a?b", "abz", ""),
        (r"a|b", "abz", ""),
        (r"(?:a(?:b|c)|[de])f", "ade", "bcf"),
    ],
)
def test_what_an_expression_can_begin_with(pattern: str, begins: str, does_not: str):
    test = first_character(pattern)
    assert all(test(char) for char in begins)
    assert not any(test(char) for char in does_not)


@pytest.mark.parametrize(
    ("pattern", "words"),
    [
        (r"starts?", {"start", "starts"}),
        (r"(?:min|mins|minutes?)", {"min", "mins", "minute", "minutes"}),
        (r"met(?:re|er)s?", {"metre", "metres", "meter", "meters"}),
        (r"steps?\/day", {"step/day", "steps/day"}),
        (r"warm-up", {"warm-up"}),
        (r"each +side", None),
        (r"[0-9]+", None),
        (r"a|b", None),
        (r"a*", None),
    ],
)
def test_the_words_that_an_expression_spells(pattern: str, words: set[str] | None):
    assert spelled(pattern + BOUNDARY) == words
    assert spelled(pattern) is None


def test_most_terminals_are_spelled_and_need_no_expression():
    terminals = tables().terminals
    assert sum(spelled(pattern) is not None for _, pattern in terminals) > 0.7 * len(terminals)
