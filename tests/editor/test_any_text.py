"""Whatever stands in an editor is answered: no text, and no place in it, raises."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.editor.columns import Columns
from planlang.editor.completing import offers
from planlang.editor.document import Document
from planlang.editor.fixing import Stale, fixes, mends, tidied
from planlang.editor.going import definition
from planlang.editor.hovering import hover
from planlang.editor.outline import folds, symbols
from planlang.editor.reference import says
from planlang.syntax.statements import FORMS
from planlang.text.source import Source

EXAMPLES = [form.example for form in FORMS.values()]
TEXTS = st.lists(st.one_of(st.sampled_from(EXAMPLES), st.text(max_size=12)), max_size=8).map("\n".join)


@settings(max_examples=40, deadline=None)
@given(TEXTS, st.integers(0, 200))
def test_every_answer_is_given_at_any_place(text, at):
    document = Document(Source("a.plan", text))
    offset = min(at, len(text))
    assert document.checked.source is not None
    for answer in (offers, hover, definition):
        answer(document, offset)
    for answer in (fixes, tidied, folds, symbols):
        answer(document)


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet=st.sampled_from("aé😀\n\r\u2028\t"), max_size=30), st.data())
def test_positions_lead_back_to_where_they_came_from(text, data):
    source = Source("a.plan", text)
    offset = data.draw(st.integers(0, len(text)))
    if text[offset - 1 : offset + 1] == "\r\n":
        return
    for encoding in ("utf-8", "utf-16", "utf-32"):
        columns = Columns(encoding)
        place = source.line_of(offset), offset - source.line_starts[source.line_of(offset) - 1] + 1
        assert columns.offset(source, columns.position(source, *place)) == offset


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet=st.characters(exclude_categories=["Cs"]), max_size=30))
def test_columns_count_as_the_encodings_do(text):
    assert Columns("utf-16").units(text) == len(text.encode("utf-16-le")) // 2
    assert Columns("utf-8").units(text) == len(text.encode())
    assert Columns("utf-32").units(text) == len(text)


@pytest.mark.parametrize("name", FORMS)
def test_every_statement_has_a_line_of_explanation(name):
    assert says(name)


ALLOTMENT = (Path(__file__).parents[2] / "examples" / "people" / "p014-allotment.plan").read_text("utf-8")
SLIPS = [
    ("do         sit-to-stand,", "do         sit-to-stnd,", "sit-to-stnd", "sit-to-stand"),
    ("kind       strength", "kind       strenght", "strenght", "strength"),
    ("works      quadriceps,", "works      quadricps,", "quadricps", "quadriceps"),
    ("about      knee osteoarthritis,", "about      knee osteoartritis,", "knee osteoartritis", "knee osteoarthritis"),
    ("exercise sit-to-stand", "exersise sit-to-stand", "exersise", "exercise"),
    ("2x10 s each side\n", "2x10 s each sid\n", "each sid", "each side"),
]


@pytest.mark.parametrize(("old", "new", "wrong", "right"), SLIPS, ids=[slip[3] for slip in SLIPS])
def test_a_fix_changes_the_slip_and_nothing_beside_it(old, new, wrong, right):
    assert old in ALLOTMENT
    text = ALLOTMENT.replace(old, new, 1)
    document = Document(Source("a.plan", text))
    assert document.checked.findings
    changed = [(text[span.start : span.end], put) for one in fixes(document) for span, put in one.edits]
    assert changed == [(wrong, right)]


def test_proposals_for_a_text_that_has_changed_are_given_up():
    document = Document(Source("a.plan", ALLOTMENT.replace("by         2027-07-04", "by         week 8", 1)))
    with pytest.raises(Stale):
        mends(document, lambda: False)


def test_readme_says_how_three_editors_are_set_up():
    text = (Path(__file__).parents[2] / "planlang" / "editor" / "README.md").read_text("utf-8")
    assert text.count("planlang") >= 6
    assert sum(line.startswith("## ") for line in text.splitlines()) >= 3
