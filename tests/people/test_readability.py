"""The person's fixed texts can be read after six years of school, by a published formula."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from planlang.model.catalogue import conditions, signs
from planlang.text.languages.catalogue import Text, built_in, english
from tests.people.grade import automated_readability, coleman_liau, lix, sentences_of
from tests.people.sheets import EXAMPLES, plan_of, sheet_of
from tests.seeded.modest import modest_plans
from tests.seeded.modest_people import CONDITIONS

GRADE, WORDS = 6, 36
few = settings(max_examples=4, derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck))


def filled(text: Text) -> str:
    """A text with a short word in each of its slots."""
    return "".join(literal + ("it" if slot else "") for literal, slot in text.forms["other"])


TEXTS = {
    "catalogue": [filled(text) for text in english().texts.values()],
    "signs": [s for sign in signs().values() for s in (sign.words, sign.worse.words if sign.worse else "")],
    "flares": [condition.flare for condition in conditions().values()],
}


@pytest.mark.parametrize("part", TEXTS)
def test_the_fixed_texts_are_of_the_sixth_grade_or_easier(part):
    assert automated_readability(TEXTS[part]) <= GRADE


def test_all_fixed_texts_together_are_so_by_a_second_formula_too():
    assert coleman_liau(line for lines in TEXTS.values() for line in lines) <= GRADE


def test_no_fixed_sentence_is_longer_than_one_breath():
    assert max(map(len, sentences_of(line for lines in TEXTS.values() for line in lines))) <= WORDS


def test_the_texts_in_spanish_are_easy_too():
    """LIX, for any Latin script: under 30 very easy (Björnsson 1968)."""
    spanish = built_in("es")
    assert spanish
    assert lix(filled(text) for text in spanish.texts.values()) < 30


def test_the_formulas_give_what_their_authors_say():
    """By hand: 5 letters a word and 10 words a sentence are 4.71 x 5 + 0.5 x 10 - 21.43 = 7.12."""
    line = " ".join(["apple"] * 10) + "."
    assert automated_readability([line]) == pytest.approx(7.12)
    assert coleman_liau([line]) == pytest.approx(0.0588 * 500 - 0.296 * 10 - 15.8)
    assert lix([line]) == 10
    assert (
        automated_readability(["Notwithstanding considerable symptomatic exacerbation, compensation continues."]) > 20
    )


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_whole_sheets_of_the_examples_are_easy(path):
    easy(path.read_text("utf-8"))


@pytest.mark.parametrize("kind", sorted(CONDITIONS))
def test_whole_sheets_of_drawn_plans_are_easy(kind):
    @few
    @given(modest_plans(kind))
    def drawn(text):
        easy(text)

    drawn()


def easy(text: str) -> None:
    if plan_of(text).starts is None:
        return
    lines = [str(line) for line in sheet_of(text).lines()]
    assert automated_readability(lines) <= GRADE
    assert coleman_liau(lines) <= GRADE
    assert max(map(len, sentences_of(lines))) <= WORDS + 8  # with the plan's own words filled in
