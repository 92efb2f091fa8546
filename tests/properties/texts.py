"""Texts for property tests: any characters, the language's words in any order, real plans spoiled in small ways."""

from __future__ import annotations

import re
from pathlib import Path

from hypothesis import strategies as st

from planlang.syntax.statements import FORMS

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").rglob("*.plan"))
PLANS = [file.read_text(encoding="utf-8") for file in EXAMPLES]
LINES = [form.example for form in FORMS.values()]
WORDS = sorted({word for line in LINES for word in line.split()})
HEADING = ['plan "Trial"', "starts 2027-03-01", "lasts 12 weeks"]

EXTREMES = [
    *["0", "1", "-1", "00", "1040", "1041", "100000", "999999", "1000000", "1000001", "9" * 17, "9" * 5000],
    *["0.0001", "999999.999999", "1e9", "1.2.3", "½", "٣", "2,5", "10,684"],
    *["0001-01-01", "1899-12-31", "1900-01-01", "2027-02-29", "2028-02-29", "2200-12-31", "2201-01-01", "9999-12-31"],
    *["2027-3-1", "01/03/2027", "00:00", "23:59", "24:00", "99:99", "7:5"],
    *["0/0", "0/10", "10/10", "11/10", "10/0", "5/20", "5/999999", "7-3/10", "0x0", "1x1", "3x0", "0x3", "8 x 3"],
    *["9999x9999", "999999x999999", "12-8x3", "3x12-8", "1-0", "0-0", "8-12RM", "0RM", "999999RM", "9-9-9"],
    *["week 0", "week 99999", "weeks 0", "months", '""', '"', '"""', "#", "", "%", "\x00", "—", "plan", "<blank>"],
]
VALUE = re.compile(r'"[^"]*"|\d{4}-\d\d-\d\d|\d+-\d+-\d+|\d+x\d+|\d\d:\d\d|\d+/\d+|\d+(?:\.\d+)?')

any_text = st.text(st.characters(), max_size=300) | st.text('\n\r\t #"“”,;:/%.-–×x0123456789planstdygo', max_size=200)


@st.composite
def word_salads(draw: st.DrawFn) -> str:
    """The language's own words, extreme values among them, in any order on a few lines."""
    word = st.sampled_from(WORDS) | st.sampled_from(EXTREMES)
    lines = draw(st.lists(st.lists(word, max_size=8).map(" ".join), max_size=12))
    return "\n".join([*HEADING, *lines])


@st.composite
def shuffled_examples(draw: st.DrawFn) -> str:
    """Examples of the statements, one after another in any order."""
    lines = draw(st.lists(st.sampled_from(LINES), min_size=1, max_size=30))
    return "\n".join([*draw(st.sampled_from([HEADING, []])), *lines])


def with_value(line: str, number: int, value: str) -> str:
    """A line with its n-th value (from 0; counted round) replaced."""
    found = list(VALUE.finditer(line))
    if not found:
        return f"{line} {value}"
    at = found[number % len(found)]
    return line[: at.start()] + value + line[at.end() :]


@st.composite
def spoiled_lines(draw: st.DrawFn, line: str) -> str:
    """A line with one thing wrong with it."""
    place = draw(st.integers(0, max(0, len(line) - 1)))
    change = draw(st.sampled_from(["value", "character", "word", "cut", "doubled"]))
    if change == "value":
        return with_value(line, place, draw(st.sampled_from(EXTREMES)))
    if change == "character":
        return line[:place] + draw(st.characters()) + line[place + 1 :]
    if change == "word":
        words = line.split(" ")
        words[place % len(words)] = draw(st.sampled_from(WORDS))
        return " ".join(words)
    return line[:place] if change == "cut" else f"{line} {line}"


@st.composite
def spoiled_plans(draw: st.DrawFn) -> str:
    """A real plan with lines deleted, doubled, moved, spoiled, or brought in from another statement."""
    lines = draw(st.sampled_from(PLANS)).split("\n")
    for _ in range(draw(st.sampled_from([1, 1, 2, 3, 8]))):
        at, to = draw(st.integers(0, len(lines) - 1)), draw(st.integers(0, len(lines) - 1))
        change = draw(st.sampled_from(["delete", "double", "swap", "spoil", "spoil", "spoil", "bring"]))
        if change == "delete" and len(lines) > 1:
            del lines[at]
        elif change == "double":
            lines.insert(to, lines[at])
        elif change == "swap":
            lines[at], lines[to] = lines[to], lines[at]
        elif change == "bring":
            lines.insert(at, draw(spoiled_lines(draw(st.sampled_from(LINES)))))
        else:
            lines[at] = draw(spoiled_lines(lines[at]))
    return "\n".join(lines)


texts = st.one_of(any_text, word_salads(), shuffled_examples(), spoiled_plans())
