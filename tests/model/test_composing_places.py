"""Every place of a composed text is one of the plan's own file, and remembers where its text comes from."""

from __future__ import annotations

import pickle

import pytest

from planlang.model.composing.compose import compose
from planlang.model.composing.files import TextFiles
from planlang.model.composing.placed import placed
from planlang.text.finding import Finding, Level, Related
from planlang.text.source import Source, Span
from tests.model.composing_help import KNEE, LIBRARY, PLAN, together

TEXT = PLAN + (
    '  use library "lib.plan"\n  written    2027-02-22\n\nchange session "Chair and hinge"\n  days       Tue, Thu\n'
    "  do         sit-to-stand, hip-hinge, squat\n"
)
FILES = {"knee": KNEE, "lib": LIBRARY}


def made():
    return together(TEXT, **FILES)[2]


def at(source, words):
    start = source.text.index(words)
    return Span(start, start + len(words))


SHOWN = [
    ("written    2027-02-22", "written    2027-02-22"),
    ("days       Tue, Thu", "days       Tue, Thu"),
    ("2x6", "fill       reps-now 6"),
    ('"chair"', "fill       reps-now 6"),
    ("3200 steps/day\n", "fill       steps-now 3200 steps/day"),
    ("at 2 kg\n", "fill       reps-now 6"),
    ("Up the hill", 'fill       helper "a neighbour"'),
    ("hip-hinge\n", 'from template "knee.plan"'),
    ("lasts      12 weeks", 'from template "knee.plan"'),
    ('"slowly down and up"', "do         sit-to-stand, hip-hinge, squat"),
    ("exercise squat", "do         sit-to-stand, hip-hinge, squat"),
]


@pytest.mark.parametrize(("words", "line"), SHOWN)
def test_place_is_the_plans_own_line(words, line):
    source = made()
    if words == "3200 steps/day\n":
        start = source.text.index("begin      3200")
        span = Span(start, start + 5)
    else:
        span = at(source, words)
    place = source.place(span)
    assert source.line(place.line).strip() == line
    assert source.line_of(span.start) == place.line
    assert 1 <= place.column < place.end_column <= len(source.line(place.line)) + 1
    assert source.line_starts == Source("", TEXT).line_starts


def test_place_within_an_own_line_is_exact():
    source = made()
    place = source.place(at(source, "2027-02-22"))
    assert source.line(place.line)[place.column - 1 : place.end_column - 1] == "2027-02-22"


ORIGINS = [
    ("lasts      12 weeks", "knee.plan", "lasts      12 weeks"),
    ("12 weeks", "knee.plan", "12 weeks"),
    ('"slowly down and up"', "lib.plan", '"slowly down and up"'),
    ("Tue, Thu", "p.plan", "Tue, Thu"),
    ('a neighbour"\nby', "knee.plan", "<helper>"),
]


@pytest.mark.parametrize(("words", "file", "text"), ORIGINS)
def test_origin_is_where_the_text_truly_stands(words, file, text):
    source = made()
    found, span = source.origin(at(source, words))
    assert found.name == file
    assert found.text[span.start : span.end] == text


def test_own_text_stands_in_it_once_and_places_go_there_and_back():
    source = made()
    for start in range(len(TEXT)):
        there = source.at(Span(start, start + 1))
        assert source.text[there.start : there.end] == TEXT[start]
        assert source.own_span(there) == Span(start, start + 1)


def test_finding_on_the_templates_text_names_both_lines():
    source = made()
    span = at(source, "3x8 at 2 kg")
    related = (
        Related("the other", at(source, "lasts      12"), source),
        Related("mine", at(source, "written"), source),
    )
    (found,) = placed([Finding("x", Level.ADVICE, "y", span, source, related=related)], source)
    where, other, mine = found.related
    assert (where.source.name, where.source.line(where.source.place(where.span).line)[:16]) == (
        "knee.plan",
        "  then       3x<",
    )
    assert (other.source.name, other.message) == ("knee.plan", "the other")
    assert mine.source is source
    assert found.span == span


def test_finding_on_the_plans_own_text_stays_as_it_is():
    source = made()
    finding = Finding("x", Level.ADVICE, "y", at(source, "2027-02-22"), source)
    assert placed([finding], source) == (finding,)
    assert placed([finding], Source("", "")) == (finding,)


def test_flat_text_is_a_plan_by_itself_with_the_same_offsets():
    source = made()
    assert len(source.flat.text) == len(source.text)
    same, found = compose(source.flat, TextFiles())
    assert same is source.flat
    assert found == ()


def test_composed_text_is_not_composed_again():
    source = made()
    assert compose(source, TextFiles()) == (source, source.findings)


def test_it_can_be_sent_between_processes():
    source = pickle.loads(pickle.dumps(made()))
    assert source.line(source.place(at(source, "2x6")).line).strip() == "fill       reps-now 6"


def test_files_that_it_is_made_of():
    assert [file.name for file in made().files] == ["p.plan", "knee.plan", "lib.plan"]
