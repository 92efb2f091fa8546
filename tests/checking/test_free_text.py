"""Free text: which texts are looked at, the shapes that are known, phrases by language, how hard words read."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.checking.check import check
from planlang.checking.expression.mentions import phrase_in, shape_finder, shapes
from planlang.checking.facts import every
from planlang.checking.facts.reading import grade, syllables, words_of
from planlang.checking.facts.registry import Facts
from planlang.checking.rulebook import Rulebook
from planlang.model.catalogue import patterns, tags
from planlang.syntax.statements import FORMS
from planlang.text.source import Source
from tests.checking.conftest import HEAD

Making = Callable[[str], Facts]


def seen(name: str, text: str) -> bool:
    return any(shape.search(text) for shape in shapes(name))


@pytest.mark.parametrize(("name", "text"), [(p.name, t) for p in patterns().values() for t in p.found])
def test_a_shape_is_found(name: str, text: str) -> None:
    assert seen(name, text)


@pytest.mark.parametrize(("name", "text"), [(p.name, t) for p in patterns().values() for t in p.not_found])
def test_what_only_looks_like_it_is_not(name: str, text: str) -> None:
    assert not seen(name, text)


@pytest.mark.parametrize("name", patterns())
def test_what_is_looked_for_first_hides_no_shape(name: str) -> None:
    for expression in patterns()[name].matches:
        _found_by_both(name, expression)


@settings(max_examples=40, derandomize=True, deadline=None)
@given(data=st.data())
def _found_by_both(name: str, expression: str, data: st.DataObject) -> None:
    text = data.draw(st.from_regex(expression))
    assert shape_finder(name)(text) is not None


@pytest.mark.parametrize(
    ("text", "said"), [("It is WORN   out", "WORN   out"), ("it is müde and worn out", "worn out"), ("worn-out", None)]
)
def test_phrases_are_found_whatever_their_capitals(text: str, said: str | None) -> None:
    assert phrase_in(text, {"en": ("worn out", "Müde gemacht")}) == said


@pytest.mark.parametrize("name", patterns())
def test_shapes_are_bounded(name: str) -> None:
    # classes and escapes aside, no part may be repeated without end
    for expression in patterns()[name].matches:
        bare = re.sub(r"\\.|\[(?:\\.|[^\]\\])*\]", "x", expression)
        assert len(expression) <= 512
        assert not re.search(r"[*+]|\{[0-9]*,\}", bare)


@pytest.mark.parametrize("form", [f for f in FORMS.values() if '"' in f.example], ids=lambda f: f.name)
def test_examples_of_the_language_hold_no_personal_detail(form: object) -> None:
    text = str(getattr(form, "example", ""))
    assert [
        name for name in ("telephone", "e-mail", "birth-date", "record-number", "home-address") if seen(name, text)
    ] == []


def texts(facts: Facts, of: str) -> list[str]:
    return [it.words for it in every().facts["", of].get(facts, None)]


PLAN = (
    HEAD
    + """tell "Sore does not mean harm."  # said twice already
goal "Up to the attic"
  because "my books"
waive no-cue by T-03 because "fixed times" until 2027-04-01
pain
  accept up to 6/10 during
  because "usual is 5"
exercise step-up
  kind strength
  because "stairs"
  how "whole foot"
  begin 2x6 "bottom stair"
"""
)


def test_texts_are_those_that_the_person_may_read(facts_of: Making) -> None:
    assert texts(facts_of(PLAN), "texts") == [
        "Stairs without the rail",
        "Sore does not mean harm.",
        "Up to the attic",
        "my books",
        "whole foot",
        "bottom stair",
    ]


def test_writings_are_every_text_and_comment(facts_of: Making) -> None:
    found = texts(facts_of(PLAN), "writings")
    assert {"fixed times", "usual is 5", "stairs", "said twice already"} <= set(found)
    assert len(found) == 10


def test_a_writing_stands_where_it_stands(facts_of: Making) -> None:
    facts = facts_of(PLAN)
    for it in facts.plan.writings:
        assert it.words in PLAN[it.span.start : it.span.end]


def test_a_detail_is_found_in_a_line_that_cannot_be_read(book: Rulebook) -> None:
    result = check(Source("x.plan", f'{HEAD}tel "ring 0491 570 156"\n'), book)
    assert {"unreadable", "personal-details"} <= {f.rule for f in result.findings}


def test_a_detail_is_not_repeated_in_the_finding(book: Rulebook) -> None:
    result = check(Source("x.plan", f'{HEAD}tell "write to k.berg@post.example"\n'), book)
    (finding,) = [f for f in result.findings if f.rule == "personal-details"]
    assert "berg" not in finding.message + finding.advice


@pytest.mark.parametrize(
    ("text", "contacts", "flagged"),
    [
        ("call 03 5550 0100", {"clinic": "(03) 5550-0100, weekdays 8 to 17"}, False),
        ("call +61 3 5550 0100", {"clinic": "03 5550 0100"}, True),
        ("call 03 5550 0199", {"clinic": "03 5550 0100"}, True),
        ("call 03 5550 0100", {}, True),
        ("call 03 5550 0100", None, True),
    ],
)
def test_the_clinics_own_number_is_nobodys_detail(
    text: str, contacts: dict[str, str] | None, flagged: bool, book: Rulebook
) -> None:
    result = check(Source("x.plan", f'{HEAD}tell "{text}"\n'), book, contacts=contacts)
    assert ("personal-details" in {f.rule for f in result.findings}) is flagged


@pytest.mark.parametrize(
    ("day", "flagged"), [("1959-07-01", True), ("1960-01-31", True), ("1958-12-31", False), ("2019-03-12", False)]
)
def test_a_date_of_the_year_in_which_they_were_born_is_a_detail(day: str, flagged: bool, book: Rulebook) -> None:
    # 67 on 22 February 2027: born in 1959 or 1960
    text = HEAD.replace("  starts", "  for P-014, aged 67\n  starts") + f"# seen, {day}\n"
    assert ("personal-details" in {f.rule for f in check(Source("x.plan", text), book).findings}) is flagged


@pytest.mark.parametrize(("language", "flagged"), [("", False), ("  language nb\n", True), ("  language en\n", False)])
def test_phrases_are_those_of_the_plans_language(language: str, flagged: bool, book: Rulebook) -> None:
    text = HEAD + language + 'tell "Slitasje i kneet."\n'
    assert ("words-that-frighten-or-blame" in {f.rule for f in check(Source("x.plan", text), book).findings}) is flagged


def test_a_text_of_hostile_length_is_looked_at_quickly() -> None:
    for name in patterns():
        for text in (
            "0 1" * 4000,
            "A " * 6000,
            "born " * 3000,
            "Dr " * 4000,
            "1-" * 6000,
            "a@" * 6000,
            "12 Aa Aa " * 1500,
        ):
            for shape in shapes(name):
                shape.search(text)


@pytest.mark.parametrize(
    ("limit", "language", "tag"),
    [
        ("no low chairs, no crossing of legs", "", "low-chair"),
        ("hip flexion not beyond 90 degrees", "", "bending"),
        ("kein Knien", "de", "kneeling"),
        ("ingen lave stoler", "nb", "low-chair"),
        ("no running for six months", "en", "jump"),
        ("pas de sièges bas", "", "low-chair"),
        ("nothing above shoulder height", "en", "overhead"),
    ],
)
def test_a_limits_words_mean_a_tag(limit: str, language: str, tag: str) -> None:
    phrases = {one.language: one.said for one in tags()[tag].words}
    assert phrase_in(limit, phrases, language)


def test_a_limits_words_are_whole_words() -> None:
    phrases = {one.language: one.said for one in tags()["jump"].words}
    assert phrase_in("no trunk rotation", phrases, "en") is None


SYLLABLES = """
sore 1 does 1 joints 1 regular 3 small 1 steps 1 walked 1 rested 2 raises 2 table 2 times 1 idea 3 actual 3 trying 2
special 2 action 2 people 2 easier 3 chair 1 knees 1 exercise 3 exercises 4 physiotherapist 6 osteoarthritis 6
quadriceps 3 gluteals 3 breakfast 2 dishes 2 kitchen 2 worktop 2 little 2 settle 2 usual 3 because 2 vegetables 4
saturdays 3 weight 1 fatigue 2 minutes 2 easing 2 moving 2 breathe 1 breathing 2 careful 2 hours 1 quiet 2 million 2
area 3 science 2 being 2 doing 2 bones 1 used 1 needed 2 bench 1 outside 2 bottles 2 movement 2 sometimes 2 safely 2
one 1 before 2 whole 1 able 2 notes 1 places 2 patience 2 anxious 2 medicine 3 inflammatory 5 rehabilitation 6
"""


def test_syllables_of_everyday_and_of_hard_words() -> None:
    # counted aloud; common practice, no source
    pairs = SYLLABLES.split()
    assert {w: syllables(w) for w in pairs[::2]} == {w: int(n) for w, n in zip(pairs[::2], pairs[1::2], strict=True)}


@pytest.mark.parametrize(
    ("text", "words", "spoken", "expected"),
    [
        # an encyclopaedia's worked example of the Flesch-Kincaid tests, from memory: 13 words, 24 syllables, grade 11.3
        ("The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.", 13, 24, 11.3),
        ("The cat sat on the mat.", 6, 6, -1.4),
    ],
)
def test_grade_of_worked_examples(text: str, words: int, spoken: int, expected: float) -> None:
    assert len(words_of(text)) == words
    assert sum(map(syllables, words_of(text))) == spoken
    found = grade([text])
    assert found is not None
    assert abs(float(found) - expected) < 0.06


def test_each_text_ends_its_sentence() -> None:
    assert grade(["sit tall", "stand up"]) == grade(["Sit tall. Stand up."])
    assert grade(["12, 3"]) is None
