"""Catalogues of what a person is told: complete in English, held against it, signed where it matters."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from planlang.text.languages.catalogue import FOLDER, built_in, english, read_catalogue
from planlang.text.languages.gaps import untranslated
from planlang.text.languages.line import Line, joined
from planlang.text.languages.words import Words, direction, in_english, words
from planlang.text.source import Source

PACKAGE = Path(__file__).parents[2] / "planlang"
KEY = re.compile(r'"([a-z]+(?:-[a-z]+)*\.[a-z]+(?:-[a-z]+)*)"')
HEAD = "language: {}\nname: Made up\ntexts:\n{}\nsafety:\n{}\n"


def used() -> tuple[set[str], set[str]]:
    """The keys that stand whole in the code, and the beginnings of those that are put together."""
    code = "\n".join(
        path.read_text("utf-8")
        for part in ("model", "planning/telling", "people/sheet", "calendar")
        for path in (PACKAGE / part).rglob("*.py")
    )
    return set(KEY.findall(code)), set(re.findall(r'f"([a-z]+\.[a-z-]*)\{', code))


def catalogue(tmp_path: Path, code: str, texts: str = "  {}", safety: str = "  {}") -> Path:
    path = tmp_path / f"{code}.yaml"
    path.write_text(HEAD.format(code, texts, safety), "utf-8")
    return path


def test_every_key_that_is_asked_for_has_a_text():
    keys, _ = used()
    families = {key.split(".")[0] for key in english().texts}
    asked = {key for key in keys if key.split(".")[0] in families and key.split(".")[1] not in ("yaml", "typ")}
    assert asked - set(english().texts) == set()
    assert len(asked) > 150


def test_every_text_is_used():
    keys, beginnings = used()
    unused = [key for key in english().texts if key not in keys and not key.startswith(tuple(beginnings))]
    assert unused == []


def test_english_has_no_text_twice_and_every_form_its_other():
    assert all("other" in text.forms for text in english().texts.values())


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.yaml")), ids=lambda p: p.stem)
def test_every_catalogue_that_comes_along_reads_without_a_fault(path):
    found, faults = read_catalogue(path, None if path.stem == "en" else english())
    assert faults == ()
    assert found.code == path.stem


def test_spanish_has_every_text_but_the_safety_lines():
    spanish = built_in("es").texts
    assert {key for key, text in english().texts.items() if not text.safety} == set(spanish)
    assert not any(text.safety for text in spanish.values())


def test_a_safety_line_counts_only_with_a_name_and_a_day(tmp_path):
    signed = '  flare.room: {text: "Brote: hay sitio para {n}.", by: "A. Made-Up, physiotherapist", on: 2027-01-10}'
    unsigned = '  pain.by-tomorrow: "para mañana"\n  pain.line: {text: "Hasta {most}, {settled}.", by: "A. Made-Up"}'
    found, faults = read_catalogue(catalogue(tmp_path, "es", safety=f"{signed}\n{unsigned}"), english())
    assert faults == ()
    assert set(found.texts) == {"flare.room"}
    told = words("es", "es", [found])
    assert told.say("flare.room", n=3) == "Brote: hay sitio para 3."
    assert told.say("pain.by-tomorrow") == "by tomorrow"
    assert told.missing == {"pain.by-tomorrow": True}


def test_a_sign_of_the_data_files_may_be_signed_too(tmp_path):
    text = '  sign.heart: {text: "dolor en el pecho", by: "A. Made-Up", on: 2027-01-10}'
    found, faults = read_catalogue(catalogue(tmp_path, "es", safety=text), english())
    assert faults == ()
    told = words("es", "en", [found])
    assert told.data("sign.heart", "chest pain").parts == (("dolor en el pecho", "es"),)
    assert told.data("sign.stroke", "the face drops").parts == (("the face drops", "en"),)
    assert told.missing == {"sign.stroke": True}


@pytest.mark.parametrize(
    ("texts", "safety", "said"),
    [
        ('  goal.titel: "x"', "  {}", 'no text is called "goal.titel"'),
        ('  goal.why: "Por qué"', "  {}", "why is left out"),
        ('  goal.why: "{why} {who}"', "  {}", "nothing is filled in for who"),
        ('  pain.by-tomorrow: "mañana"', "  {}", "this belongs under `safety`"),
        ("  {}", '  goal.title: "x"', "this belongs under `texts`"),
        ('  goal.title: {one: "x"}', "  {}", "`other` among them"),
        ("  goal.title: [x]", "  {}", "a text is one string"),
        ("  {}", '  call.us: {text: "{us}", by: "A", on: soon}', '"soon" is no date'),
    ],
)
def test_a_fault_of_a_catalogue_is_told_with_its_place(tmp_path, texts, safety, said):
    found, faults = read_catalogue(catalogue(tmp_path, "es", texts, safety), english())
    assert found is None
    assert any(said in fault.message and fault.span for fault in faults), faults


@pytest.mark.parametrize(
    "text", ["", "[]", "language: es\n", "language: es\nname: x\ntexts: []\nsafety: 3\n", "a: &x 1"]
)
def test_a_file_that_is_no_catalogue_is_a_finding(tmp_path, text):
    path = tmp_path / "es.yaml"
    path.write_text(text, "utf-8")
    found, faults = read_catalogue(path, english())
    assert found is None
    assert faults


def test_nothing_of_an_untranslated_page_is_dropped():
    told = words("xx", "en")
    assert told.say("goal.why", why="beds").parts == (("Why: ", "en"), ("beds", "en"))
    assert told.missing == {"goal.why": False}


def test_what_stands_in_english_is_reported_and_the_safety_lines_apart():
    told = words("es", "es")
    told.say("pain.by-tomorrow")
    (one,) = untranslated(told, None, Source("a.plan", ""))
    assert (one.rule, one.level) == ("safety-not-translated", "advice")
    assert "no named person has translated them into Spanish" in one.message
    other = words("xx", "xx")
    other.say("goal.title")
    other.say("pain.by-tomorrow")
    assert [f.rule for f in untranslated(other, None, Source("a.plan", ""))] == [
        "texts-not-translated",
        "safety-not-translated",
    ]
    assert untranslated(in_english(), None, Source("a.plan", "")) == ()


def test_the_plans_own_words_keep_their_own_language():
    told = words("es", "en")
    assert told.say("goal.why", why="fresh vegetables").parts == (("Por qué: ", "es"), ("fresh vegetables", "en"))
    assert told.plan("beds").parts == (("beds", "en"),)


@pytest.mark.parametrize(
    ("code", "number", "day", "near", "column"),
    [
        ("en", "1.5", "22 Feb 2027", "Mon 22 Feb", "Mon 22"),
        ("es", "1,5", "22 feb 2027", "lun 22 feb", "lun 22"),
    ],
)
def test_numbers_and_dates_are_of_the_language(code, number, day, near, column):
    """Forms of the Unicode CLDR, by babel."""
    told, first = words(code, code), date(2027, 2, 22)
    assert told.number(Fraction(3, 2)) == number
    assert (told.day(first), told.near(first), told.day_of_week(first)) == (day, near, column)
    assert told.number(3200) == "3200"


def test_large_numbers_are_grouped_as_the_language_groups_them():
    assert words("es", "es").number(12500) == "12.500"
    assert words("en", "en").number(12500) == "12500"  # as calendars have it


def test_the_plural_form_is_the_languages_own(tmp_path):
    """Polish has four (CLDR, plural rules)."""
    forms = '  quantity.day: {one: "{n} dzień", few: "{n} dni!", many: "{n} dni", other: "{n} dnia"}'
    found, faults = read_catalogue(catalogue(tmp_path, "pl", forms), english())
    assert faults == ()
    told = words("pl", "pl", [found])
    said = [str(told.say("quantity.day", n=n)) for n in (1, 3, 5, Fraction(3, 2))]
    assert said == ["1 dzień", "3 dni!", "5 dni", "1,5 dnia"]


@pytest.mark.parametrize(
    ("code", "way"),
    [
        ("en", "ltr"),
        ("es-MX", "ltr"),
        ("ar", "rtl"),
        ("he", "rtl"),
        ("fa-IR", "rtl"),
        ("ur", "rtl"),
        ("az-Arab", "rtl"),
        ("ar-Latn", "ltr"),
        ("pa-Guru", "ltr"),
    ],
)
def test_the_direction_is_that_of_the_script(code, way):
    assert direction(code) == way


@pytest.mark.parametrize("code", ["ar", "he", "fa", "ur", "yi", "ckb", "ps", "es", "de", "zh", "ru", "hi"])
def test_the_direction_agrees_with_babel(code):
    from babel import Locale

    assert direction(code) == ("rtl" if Locale.parse(code).text_direction == "rtl" else "ltr")


def test_a_country_of_a_language_takes_the_languages_texts():
    assert words("es-MX", "es").say("goal.title") == "Mi meta"
    assert words("es-MX", "es").code == "es-MX"


@pytest.mark.parametrize("code", ["", "e", "../es", "es/../en", "es.yaml", "x" * 400, "es_MX", "é"])
def test_a_code_that_is_none_brings_no_file_and_no_fault(code):
    assert built_in(code) is None
    assert words(code, "en").say("goal.title") == "My goal"


def test_lines_remember_their_pieces():
    one = Line((("a", "en"), ("", "es"), ("b", None)))
    assert (one, one.parts) == ("ab", (("a", "en"), ("b", None)))
    assert (one + "c").parts == (("a", "en"), ("b", None), ("c", None))
    assert joined(", ", [one, Line((("d", "es"),))]) == "ab, d"
    assert one.capital().parts[0] == ("A", "en")
    assert Words().in_english
