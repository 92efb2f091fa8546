"""The expression language: what it says, what it refuses, and how a fault is told."""

from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.checking.expression.closures import Values, build
from planlang.checking.expression.parse import KINDS, WORDS, Misread, grammar, parse
from planlang.checking.expression.parse import build as build_grammar
from planlang.checking.expression.scope import Bound, Scope
from planlang.checking.expression.typer import Typer
from planlang.checking.expression.types import COUNT, DATE, TEXT, TEXTS, TRUTH, number, one_of, things
from planlang.checking.expression.units import KNOWN, quantity_text, unit, words
from planlang.checking.facts import every
from planlang.checking.facts.registry import Fact, Registry, Thing
from planlang.text.resources import folder
from planlang.text.source import NOWHERE

STEPS = number("steps/day")


def registry() -> Registry:
    """A world of its own: boxes with sizes, so that no fact of plans is needed."""
    made = Registry()
    made.things["box"] = Thing("box", "boxes", lambda it: str(it["name"]), lambda it: NOWHERE)
    for name, type in {
        "size": COUNT,
        "rate": STEPS,
        "length": number("week"),
        "label": one_of("red", "blue"),
        "opened": DATE,
        "full": TRUTH,
        "tags": TEXTS,
        "inside": things("box"),
    }.items():
        made.keep(Fact("box", name, type, name, lambda _, it, name=name: it.get(name)))
    made.keep(Fact("", "boxes", things("box"), "all", lambda world, _: world))
    made.lists.update(box="boxes", boxes="boxes")
    return made


WORLD = (
    {"name": "a", "size": 1, "rate": 3000, "length": 2, "label": "red", "full": True, "tags": ("x", "y")},
    {"name": "b", "size": 2, "rate": 3600, "label": "blue", "opened": date(2027, 3, 1), "full": False, "tags": ("z",)},
    {"name": "c", "size": 3, "tags": (), "inside": ({"name": "d", "size": 9},)},
)


PHRASES = {
    "bad": {"en": ("worn out", "lazy", "don't be lazy")},
    "no": {"en": ("not", "never", "nothing is")},
    "none": {},
}


def value(text: str, world: Any = WORLD, **names: Any) -> Any:
    """What an expression comes to, over these boxes; names are plain numbers."""
    scope = Scope(registry(), {name: Bound(COUNT, ["number", str(n)]) for name, n in names.items()}, frozenset(PHRASES))
    typed = Typer(scope).typed(parse(text))
    run = build(typed.code, Values(scope.registry, phrases=PHRASES))
    return run([world, None, *[None] * scope.slots])


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1 + 2 * 3 is 7", True),
        ("2 weeks is 14 days", True),
        ("90 s is less than 2 min", True),
        ("1 mile > 1.6 km", True),
        ("25 % of 400 steps/day is 100 steps/day", True),
        ("(3600 steps/day - 3000 steps/day) / 3000 steps/day is 20 %", True),
        ("2 * 3 kg is 6 kg", True),
        ("1 year is 12 months", True),
        ('"a" is "a" and not "a" is "b"', True),
        ("number of boxes is 3", True),
        ("any box where its size > 2", True),
        ("no box where its size > 3", True),
        ("every box meets its size > 0", True),
        ("every box where its size > 1 meets its size > 2", False),
        ("at least 2 of the boxes where its size > 1", True),
        ("fewer than 2 of the boxes where its size > 1", False),
        ("more than 50 % of the boxes where its size > 1", True),
        ("more than 67 % of the boxes where its size > 1", False),
        ("exactly 1 of the boxes where its full", True),
        ("(longest run of boxes where its size > 1) is 2", True),
        ("(number of boxes where its size > 1) is 2", True),
        ("(first box where its size > 1)'s size is 2", True),
        ("(last box where its size > 1)'s size is 3", True),
        ("(sum of its size over boxes) is 6", True),
        ("(largest box's rate over boxes) is 3600 steps/day", True),
        ("(smallest its size over boxes where its size > 1) is 2", True),
        ('any box of label "blue" where its size is 2', True),
        ("number of boxes up to 2 is 2", True),
        ("(number of boxes after 2) is 1", True),
        ("number of boxes up to 2 weeks is 2", True),
        ("any box where any box in its inside as inner where inner's size > box's size", True),
        ('any box where its tags has any of "q", "z"', True),
        ("any box as one where any box as two where one's tags shares a word with two's tags", True),
        ('any box where its label is any of "red", "blue"', True),
        ('any box where its label is none of "red"', True),
        ("any box where its opened is before (first box where its size is 2)'s opened + 1 day", True),
        ('mention of bad in "not lazy, just tired" is written', True),
        ('mention of bad in "Worn out" is "Worn out"', True),
        ('mention of bad in "outworn" is missing', True),
        ('mention of bad in "worn   out" is written', True),
        ('mention of bad without no in "not lazy, just tired" is missing', True),
        ('mention of bad without no in "nothing is worn out here" is missing', True),
        ('mention of bad without no in "not now. It is worn out" is "worn out"', True),
        ('mention of bad without no in "not one two three four five lazy" is "lazy"', True),
        ('mention of bad without no in "never lazy, yet lazy" is missing', True),
        ('mention of bad without no in "never lazy; but worn out" is "worn out"', True),
        ('mention of bad without none in "not lazy" is "lazy"', True),
        ('mention of none in "not lazy" is missing', True),
        ('mention of telephone in "ring 5550 0143 first" is "ring 5550 0143"', True),
        ('mention of e-mail in "ring 5550 0143 first" is missing', True),
        ("if any box where its size > 2 then 1 else 2", 1),
        ("two + 1", 3),
        ("any box as one where any box as two where one is not two and one's size > two's size", True),
        ("no box as one where any box as two where one is two and one's size > two's size", True),
        ("(number of boxes where its length if written else 1 week > 1 week) is 1", True),
    ],
)
def test_reads_like_a_sentence_and_comes_to(text: str, expected: Any) -> None:
    assert value(text, two=2) == expected


@pytest.mark.parametrize(
    "text",
    [
        'any box of label "red" where its opened is before box\'s opened',
        "not (first box where its size is 1)'s opened is after (first box where its size is 2)'s opened",
        "(first box where its size is 9)'s size > 1",
        "every box meets its rate > 1 steps/day",
    ],
)
def test_what_is_not_written_is_neither_true_nor_false(text: str) -> None:
    assert value(text) is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("any box where its rate > 5000 steps/day or its size is 3", True),
        ("any box where its rate > 5000 steps/day and its size is 9", False),
        ("(first box where its size is 3)'s rate is missing", True),
        ("(first box where its size is 3)'s rate is written", False),
    ],
)
def test_what_is_not_written_decides_nothing_that_is_decided_otherwise(text: str, expected: bool) -> None:
    assert value(text) is expected


@pytest.mark.parametrize(
    ("text", "message", "place", "help"),
    [
        ("any box where its sise > 2", 'a box has no "sise"', "sise", "size"),
        ("any bxo where its size > 2", 'no list is called "bxo"', "bxo", "box"),
        ("any box where its rate > 500 stps/day", 'no unit is called "stps/day"', "stps/day", "steps/day"),
        ("any box where its rate > 500", "set against a number of steps/day", "500", '"500 steps/day"'),
        ("any box where its rate > 5 kg", "set against a number of steps/day", "5 kg", "steps/day"),
        ("number of boxes / number of boxes > 25", "a plain number, and it is set against a share", "25", '"25 %"'),
        ('any box where its label is "rde"', 'this is never "rde"', '"rde"', "red"),
        ("any box where its size", "a condition is needed here", "its size", ""),
        ("any box where its size and its full", "a condition is needed here", "its size", ""),
        ("number of boxes and true", "a condition is needed here", "boxes", ""),
        ("any box where its size * its label > 1", "a number is needed here", "its label", ""),
        ("2 kg * 3 kg is 6 kg", "means nothing here", "2 kg * 3 kg", ""),
        ("its size > 2", '"its" belongs to nothing here', "its", ""),
        ("any box where its size's size > 2", "has no facts of its own", "size", ""),
        ("any box where its size has \"a\"", "a list of texts is needed here", "its size", ""),
        ("mention of worse in \"a\" is missing", 'no words called "worse"', "worse", ""),
        ("mention of bad without nay in \"a\" is missing", 'no words called "nay"', "nay", ""),
        (
            'mention of telephon in "a" is missing',
            'no words called "telephon"',
            "telephon",
            'Did you mean "telephone"?',
        ),
        ("mention of telephone without no in \"a\" is missing", "a shape can't be denied", "no", ""),
        ("any box where its size > 2 and", "the expression ends here", "", ""),
        ("any box where its size > $", '"$" can\'t be read here', "$", ""),
        ("1234567890123456 > 1", "too large", "1234567890123456", ""),
        ("two weeks > 1", "\"weeks\" can't stand here", "weeks", ""),
    ],
)  # fmt: skip
def test_faults_say_where_and_what(text: str, message: str, place: str, help: str) -> None:
    with pytest.raises(Misread) as e:
        value(text, two=2)
    assert message in e.value.message
    assert text[e.value.span.start : e.value.span.end] == place
    assert help in e.value.help


@pytest.mark.parametrize(
    "text",
    ["(" * 1000 + "1" + ")" * 1000, "not " * 900 + "a", "1 + " * 900 + "1", "a" * 5000, "9" * 900 + " > 1"],
)
def test_expressions_out_of_bounds_are_refused(text: str) -> None:
    with pytest.raises(Misread):
        value(text)


def refused(text: str) -> Misread | None:
    """What is wrong with an expression, or None; nothing else may ever be raised."""
    try:
        value(text)
    except Misread as fault:
        return fault
    return None


@given(st.text(max_size=60))
@settings(max_examples=200, deadline=None)
def test_any_text_at_all_is_read_or_refused(text: str) -> None:
    fault = refused(text)
    assert fault is None or 0 <= fault.span.start <= fault.span.end <= len(text)


PARTS = sorted({*WORDS.values(), "box", "boxes", "its size", "its rate", "2", "steps/day", '"red"'})


@given(st.lists(st.sampled_from(PARTS), max_size=9))
@settings(max_examples=200, deadline=None)
def test_any_words_of_the_language_are_read_or_refused(parts: list[str]) -> None:
    fault = refused(" ".join(parts))
    assert fault is None or fault.message


def test_grammar_has_no_conflict_and_no_terminals_that_collide() -> None:
    assert build_grammar(strict=True)


def test_every_terminal_has_words() -> None:
    ignored = {"SPACE", "THE"}
    assert {t.name for t in grammar().terminals} - ignored - set(WORDS) == set()


def test_every_kind_of_node_has_its_reading() -> None:
    without = {"fill", "each", "alone", "list", "texts", "up_to", "beyond"}
    assert [k for k in sorted(KINDS - without) if not hasattr(Typer, f"_on_{k}")] == []


def test_units_are_those_of_plans_and_their_plurals() -> None:
    assert unit("weeks") == unit("week")
    assert set(words()) > {"steps/day", "kg", "%", "year"}
    assert KNOWN["year"].factor == 12


@pytest.mark.parametrize(
    ("base", "word", "text"),
    [
        (Fraction(126), "week", "18 weeks"),
        (Fraction(7), "week", "1 week"),
        (Fraction(1, 3), "%", "33.3 %"),
        (Fraction(3, 4), "%", "75 %"),
        (Fraction(2500), "steps/day", "2500 steps/day"),
        (Fraction(5, 2), "kg", "2.5 kg"),
        (Fraction(1, 400), "%", "0.25 %"),
        (Fraction(3), "", "3"),
    ],
)
def test_numbers_are_printed_as_people_read_them(base: Fraction, word: str, text: str) -> None:
    assert quantity_text(base, word) == text


def test_text_can_be_any_of_its_words_only() -> None:
    assert one_of("a", "b").like(TEXT)


def readme_examples() -> list[str]:
    text = (folder("rules") / "README.md").read_text("utf-8")
    return text.split("```check\n")[1].split("```")[0].strip().splitlines()


@pytest.mark.parametrize("text", readme_examples())
def test_the_examples_of_the_reference_are_conditions(text: str) -> None:
    typer = Typer(Scope(every(), phrases=frozenset({"frightening", "denials"})))
    assert typer.condition(parse(text)).type == TRUTH
