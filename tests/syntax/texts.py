"""Texts drawn by hypothesis: lines of the language, bent in the ways in which people and programs bend them."""

from __future__ import annotations

from hypothesis import strategies as st

from planlang.syntax.recover import Line, parse
from planlang.syntax.statements import FORMS

EXAMPLES = [form.example for form in FORMS.values()]
SPACES = [" ", "  ", "\t", "\u00a0", " \u2009", "   "]
ENDS = ["\n", "\n", "\n", "\r\n", "\r", "\n\n", "\n \t\n\n"]
REMARKS = ["", "", "", "#", " # a remark", '\t#said "so" × 3 – “as is”', "#" * 5, " # \u00e9\u0301 \U0001f6b6"]
ODD = [
    "plna x",
    "begin 3 x 8",
    "{x}",
    '"',
    "?!",
    "tell “x",
    "\x00",
    "\u200b",
    "\ud800",
    "for Anna",
    "é",
    "x" * 300,
    "\u2028y",
]


def _tokens() -> list[tuple[str, list[str]]]:
    _, lines = parse("".join(f"{example}\n" for example in EXAMPLES))
    words = [[str(token) for token in line.tokens] for line in lines if isinstance(line, Line)]
    return list(zip(EXAMPLES, words, strict=True))


WORDS = _tokens()


@st.composite
def bent_examples(draw: st.DrawFn) -> tuple[str, str]:
    """A statement's example, and the same with odd spaces, quotes, signs and a remark."""
    example, words = draw(st.sampled_from(WORDS))
    made = draw(st.sampled_from(["", "", " ", "\t", "\u00a0 "]))
    for i, word in enumerate(words):
        if word == ",":
            made = made.rstrip() + ","
            continue
        if word[0] == '"' and draw(st.booleans()):
            word = f"“{word[1:-1]}”"
        if draw(st.integers(0, 9)) == 0 and word[0] != '"':
            word = word.replace("-", "–").replace("x", "×") if word[0].isdigit() else word
        made += ("" if i == 0 else draw(st.sampled_from(SPACES))) + word
    return example, made + draw(st.sampled_from(REMARKS))


def bent_lines() -> st.SearchStrategy[str]:
    """A statement's example with odd spaces, quotes, signs and a remark."""
    return bent_examples().map(lambda pair: pair[1])


@st.composite
def bent_texts(draw: st.DrawFn, odd: bool = True) -> str:
    """Some lines, with remarks and empty lines between; `odd`: also lines that can't be read."""
    kinds = [bent_lines(), st.sampled_from(REMARKS)]
    if odd:
        kinds.append(st.sampled_from(ODD))
    lines = draw(st.lists(st.tuples(st.one_of(*kinds), st.sampled_from(ENDS)), max_size=12))
    text = "".join(line + end for line, end in lines)
    if draw(st.integers(0, 5)) == 0:
        text = "\ufeff" + text
    return text[:-1] if draw(st.booleans()) else text


any_text = st.one_of(
    st.text(),
    st.text(st.characters(exclude_categories=()), max_size=60),  # lone surrogates and control characters among them
    st.lists(st.sampled_from([*EXAMPLES, *ODD, "\n", " ", "#", '"', "3x8", "at", "1", ",", "every", "\r", "x"])).map(
        " ".join
    ),
    bent_texts(),
)
