"""Highlighting by grammar/plan.xml, read as KSyntaxHighlighting reads it: at each place the first rule that matches."""

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from planlang.syntax.nodes import Statement
from planlang.syntax.read import read
from planlang.syntax.statements import FORMS, HEADERS
from planlang.text.source import Source
from planlang.text.words import WORDS

ROOT = Path(__file__).parents[2]
TREE = ElementTree.parse(ROOT / "grammar" / "plan.xml").getroot()
CONTEXT = TREE.find("highlighting/contexts/context")
STYLES = {item.get("name"): item.get("defStyleNum") for item in TREE.iter("itemData")}
RULES = [
    (re.compile(rule.get("String", "")), rule.get("attribute", ""), rule.get("firstNonSpace") == "true")
    for rule in CONTEXT.findall("RegExpr")
]
SHOWN = {
    "STRING": "Text",
    "DATE": "Date",
    "TIME": "Date",
    "CODE": "Code",
    "SETS": "Dose",
    "RATING": "Number",
    "NUMBER": "Number",
    "WEEKDAY": "Weekday",
}
PLANS = sorted((ROOT / "examples").rglob("*.plan")) + sorted((ROOT / "examples").rglob("*.diary"))


def shown(line: str) -> list[tuple[int, int, str]]:
    """(start, end, attribute) of each part of a line."""
    parts, at = [], 0
    while at < len(line):
        for pattern, attribute, first in RULES:
            if first and line[:at].strip():
                continue
            match = pattern.match(line, at)
            if match and match.end() > at:
                parts.append((at, match.end(), attribute))
                at = match.end()
                break
        else:
            at += 1
    return parts


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
def test_every_word_of_an_example_is_shown_as_what_it_is(form):
    (line,) = read(Source("", form.example)).lines
    assert isinstance(line, Statement)
    parts = shown(form.example)
    for i, token in enumerate(line.tokens):
        seen = {what for start, end, what in parts if start <= token.start_pos < end}
        if token.type in SHOWN:
            assert seen == {SHOWN[token.type]}
        elif WORDS[token.type].one:
            assert seen <= {"Block", "First word", "Unit", "Word", "Weekday"}
            assert seen
        if i == 0 and form.word:
            assert seen == {"Block" if form.name in HEADERS else "First word"}


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_headers_of_the_examples_are_shown_as_blocks(path):
    source = Source(path.name, path.read_text("utf-8"))
    headers = {
        source.line_of(s.span.start) for s in read(source).lines if isinstance(s, Statement) and s.name in HEADERS
    }
    blocks = {
        number
        for number in range(1, len(source.line_starts) + 1)
        if any(what == "Block" for _, _, what in shown(source.line(number)))
    }
    assert blocks == headers


def test_a_remark_an_open_quote_and_a_blank_stand_out():
    assert shown('tell "x" # y')[-1][2] == "Remark"
    assert shown('tell "x')[-1][2] == "Open quote"
    assert shown("begin 2x<reps - 2>")[-1][2] == "Blank"


def test_every_attribute_has_a_style_of_the_editors_own():
    assert {attribute for _, attribute, _ in RULES} <= set(STYLES)
    assert all(style and style.startswith("ds") for style in STYLES.values())
