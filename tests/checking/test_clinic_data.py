"""A clinic's own conditions and measures: they reach all that asks; what is wrong is told with its place."""

from datetime import date
from pathlib import Path

import pytest
from attrs import evolve

from planlang.calendar.events import entries
from planlang.checking.check import check
from planlang.checking.clinic import rulebook
from planlang.checking.clinic_data import faults_of_condition, faults_of_measure
from planlang.checking.fault import RuleFault
from planlang.checking.nearest import catalogue_for
from planlang.checking.rulebook import Rulebook, built_in
from planlang.model import catalogue as data
from planlang.model.carried import carried, new_replacement
from planlang.model.known import BUILT_IN, Catalogue
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.model.records import ConditionData, Measure
from planlang.planning.leeway.assumed import assumption
from planlang.planning.reckon import reckon
from planlang.planning.telling.names import neutral
from planlang.planning.telling.standing import Contacts
from planlang.text.source import Source
from tests.checking.conftest import RULE

MEASURES = """\
- name: grip-strength
  title: grip strength, better hand
  aliases: [grip]
  unit: kg
  better: up
  lowest: 0
  highest: 100
  how: best of three
  error: {low: 3, ground: {source: "our own retests (made up)", known: practice}}
"""
CONDITIONS = """\
- name: long-standing shoulder pain
  aliases: [shoulder pain]
  joints: [shoulder]
  lower limb: false
  has flares: true
  flare: A flare is when the shoulder hurts more than usual for a day or more.
  rate: {flares: 1, weeks: 26, lasting: 1, varies: 2, grounds: [{source: our audit, known: practice}]}
  signs: [inflamed]
- name: shoulder replacement
  joints: [shoulder]
  lower limb: false
  has flares: false
  operation: true
  flare: New or worse pain that lasts more than a day, call first.
  signs: [wound]
"""
PLAN = """\
plan "Coats on the hook"
  about shoulder pain, left
  starts 2027-03-01
  lasts 12 weeks
today
  grip 14 kg
target "A firm squeeze"
  by week 8
  measured by grip-strength from 14 kg to 16 kg
"""
TRAINED = """\
exercise arm-slide
  kind mobility
  begin 1x10
  stay on this step because "range is kept by doing it"
session "Table"
  days Mon
  at 10:00 for 15 min
  place "kitchen"
  do arm-slide
"""


@pytest.fixture
def library(tmp_path: Path) -> Path:
    (tmp_path / "clinic.yaml").write_text("measures: measures.yaml\nconditions: conditions.yaml\n", "utf-8")
    (tmp_path / "measures.yaml").write_text(MEASURES, "utf-8")
    (tmp_path / "conditions.yaml").write_text(CONDITIONS, "utf-8")
    return tmp_path


@pytest.fixture
def book(library: Path) -> Rulebook:
    return rulebook(library / "clinic.yaml")[0]


@pytest.fixture
def known(library: Path) -> Catalogue:
    return catalogue_for(library / "people" / "here")


def plan_of(text: str, known: Catalogue) -> Plan:
    plan, findings = read_plan(Source("x.plan", text), known)
    assert plan is not None
    assert [f.message for f in findings] == []
    return plan


def faults(library: Path, name: str, text: str) -> str:
    (library / name).write_text(text, "utf-8")
    with pytest.raises(RuleFault) as e:
        rulebook(library / "clinic.yaml")
    return str(e.value)


def rules_found(text: str, book: Rulebook) -> list[str]:
    return [f.rule for f in check(Source("x.plan", text), book).findings]


def test_without_the_file_the_words_are_unknown_and_it_is_said_where_they_could_stand() -> None:
    _, findings = read_plan(Source("x.plan", PLAN))
    assert [f.rule for f in findings] == ["unknown-word"] * 3
    assert all("its clinic.yaml names" in f.advice for f in findings)


def test_with_it_a_slip_is_known_for_what_was_meant(known: Catalogue) -> None:
    text = PLAN.replace("grip-strength", "grip-strenght").replace("shoulder pain", "long standing shoulder pian")
    _, findings = read_plan(Source("x.plan", text), known)
    assert [f.advice for f in findings] == [
        'Did you mean "long-standing shoulder pain"?',
        'Did you mean "grip-strength"?',
    ]


def test_with_it_they_are_known_and_other_names_are_put_right(known: Catalogue) -> None:
    plan = plan_of(PLAN, known)
    assert [b.measure for b in plan.today.measures] == ["grip-strength"]


def test_one_measure_under_two_of_its_names_stands_twice(known: Catalogue) -> None:
    _, findings = read_plan(Source("x.plan", PLAN.replace("14 kg\n", "14 kg\n  grip-strength 15 kg\n", 1)), known)
    assert [f.rule for f in findings] == ["contradiction"]


def test_rules_know_a_measures_own_error(book: Rulebook) -> None:
    assert "target-within-measuring-error" in rules_found(PLAN, book)
    assert "target-within-measuring-error" not in rules_found(PLAN.replace("to 16 kg", "to 18 kg"), book)
    assert "target-within-measuring-error" not in rules_found(PLAN, built_in())


def test_rules_know_that_a_condition_flares(book: Rulebook) -> None:
    assert "no-room-for-rest" in rules_found(PLAN, book)
    assert "no-room-for-rest" not in rules_found(PLAN, built_in())


def test_a_rule_may_ask_for_a_measure_and_a_condition_of_the_clinics_own(library: Path) -> None:
    pack = library / "rules" / "ours"
    pack.mkdir(parents=True)
    text = RULE.replace("its length > 4 weeks", 'no baseline where its measure is "grip-strength"')
    (pack / "grip-wanted.yaml").write_text(text + "applies: {conditions: [shoulder pain]}\n", "utf-8")
    (library / "clinic.yaml").write_text(
        "measures: measures.yaml\nconditions: conditions.yaml\npacks: [rules]\n", "utf-8"
    )
    book = rulebook(library / "clinic.yaml")[0]
    without = PLAN.replace("  grip 14 kg\n", "  usual-pain 3/10\n")
    assert "grip-wanted" in rules_found(without, book)
    assert "grip-wanted" not in rules_found(PLAN, book)
    assert "grip-wanted" not in rules_found(without.replace("shoulder pain, left", "knee osteoarthritis, left"), book)


def test_a_rule_that_asks_for_an_unknown_one_is_refused(library: Path) -> None:
    pack = library / "rules" / "ours"
    pack.mkdir(parents=True)
    (library / "clinic.yaml").write_text("measures: measures.yaml\npacks: [rules]\n", "utf-8")
    (pack / "our-rule.yaml").write_text(RULE, "utf-8")
    text = RULE.replace("its length > 4 weeks", 'no baseline where its measure is "grip-strenth"')
    said = faults(library, "rules/ours/our-rule.yaml", text)
    assert 'no measure is called "grip-strenth". Did you mean "grip-strength"?' in said


def test_flares_are_expected_as_the_clinic_says(known: Catalogue) -> None:
    said = assumption(plan_of(PLAN, known))
    assert not isinstance(said, str)
    assert (said.weeks, said.varies, said.sources) == (26, 2, ("our audit",))


def test_a_condition_carries_the_signs_that_it_names(known: Catalogue) -> None:
    everyones = {s.name for s in data.signs().values() if s.carried_for.everyone}
    assert {s.name for s in carried(plan_of(PLAN, known))} == everyones | {"inflamed"}


def test_a_condition_that_names_none_carries_too_many_rather_than_too_few(library: Path) -> None:
    (library / "conditions.yaml").write_text(CONDITIONS.replace("  signs: [inflamed]\n", ""), "utf-8")
    plan = plan_of(PLAN, catalogue_for(library))
    others = plan_of(PLAN.replace("shoulder pain", "other long-standing joint pain"), catalogue_for(library))
    of_the_leg = {s.name for s in data.signs().values() if s.carried_for.lower_limb}
    assert {s.name for s in carried(plan)} == {s.name for s in carried(others)} - of_the_leg


def test_an_operation_of_the_clinics_own_carries_its_signs_as_long_as_others_do(known: Catalogue) -> None:
    plan = plan_of(PLAN.replace("today\n", '  operation 2027-02-01 "shoulder replacement" left\ntoday\n'), known)
    assert "wound" in {s.name for s in carried(plan)}
    assert "wound" not in {s.name for s in carried(plan, date(2027, 5, 1))}
    replacement = new_replacement(plan, date(2027, 3, 1))
    assert replacement is not None
    assert replacement.name == "shoulder replacement"


def test_a_calendars_names_tell_no_illness_of_the_clinics_own(known: Catalogue) -> None:
    assert not neutral("Shoulder pain class", known)
    assert neutral("Morning class", known)


def test_a_calendar_says_the_clinics_own_sentence_of_a_flare(known: Catalogue) -> None:
    text = (
        PLAN.replace("  lasts", "  zone UTC\n  written 2027-02-22\n  lasts")
        + "agreed 2027-02-22 calendar full\nrest\n  room for 1 week\n"
        + TRAINED
    )
    weeks = reckon(plan_of(text, known), frozenset({3}))
    told = [e.description for e in entries(weeks, Contacts("112", "1", "2")) if e.summary == "Easier week"]
    assert len(told) == 1
    assert "A flare is when the shoulder hurts more than usual for a day or more." in " ".join(told[0].split())


@pytest.mark.parametrize("folder", ["people", "."])
def test_a_file_that_adds_nothing_changes_nothing(folder: str, tmp_path: Path) -> None:
    (tmp_path / "clinic.yaml").write_text("clinic: Riverside\n", "utf-8")
    assert catalogue_for(tmp_path / folder) is BUILT_IN


def test_an_entry_may_replace_a_built_in_one_where_it_says_so(library: Path) -> None:
    entry = MEASURES.replace("grip-strength", "chair-stands").replace("  aliases: [grip]\n  unit: kg", "  unit: reps")
    said = faults(library, "measures.yaml", entry)
    assert 'measures.yaml:1:9: "chair-stands" is built in already' in said
    assert "replaces: true" in said
    (library / "measures.yaml").write_text(entry + "  replaces: true\n", "utf-8")
    measure = catalogue_for(library).measure("chair-stands")
    assert measure is not None
    assert measure.error is not None
    assert measure.error.low == 3


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("better: up", "better: upp", 'measures.yaml:5:11: "better" can\'t be "upp". Did you mean "up"?'),
        ("unit: kg", "unt: kg", 'nothing here is called "unt". Did you mean "unit"?'),
        ("unit: kg", "unit: kilos-force", '"kilos-force" is no unit that can stand in a plan'),
        ("name: grip-strength", "name: Grip strength", "can't be a measure's name in a plan"),
        ("name: grip-strength", "name: room", "can't be a measure's name in a plan"),
        ("aliases: [grip]", "aliases: [tug]", '"tug" is built in already, as a name of "timed-up-and-go"'),
        ("highest: 100", "highest: 0", "should go up"),
        ("highest: 100", "highest: 99999999999999", "1000000 at most"),
        ("low: 3", "low: 0", "low should be more than 0"),
        ("low: 3", "low: 3 kg", "should be a number"),
        ("better: up\n", "better: up\n  better: up\n", 'the key "better" stands twice here'),
        (
            "how: best of three\n",
            "how: best of three\n  replaces: true\n",
            'nothing built in is called "grip-strength"',
        ),
    ],
)
def test_what_is_wrong_with_a_measure_is_told_with_its_place(old: str, new: str, told: str, library: Path) -> None:
    assert told in faults(library, "measures.yaml", MEASURES.replace(old, new))


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("signs: [inflamed]", "signs: [inflammed]", '8:11: no sign is called "inflammed". Did you mean "inflamed"?'),
        ("  signs: [wound]\n", "", '"shoulder replacement" is an operation, and doesn\'t say which signs'),
        ("has flares: true", "has flares: yes", "should be true or false"),
        ("aliases: [shoulder pain]", "aliases: [knee oa]", "is built in already"),
        ("name: shoulder replacement", "name: shoulder pain", "is also a name of"),
        ("name: long-standing shoulder pain", 'name: "shoulder, sore"', "can't be written in an about line"),
        ("lasting: 1", "lasting: 30", "don't fit into 26 weeks"),
        ("weeks: 26", "weeks: 0", "this can't be a rate of flares"),
        (", grounds: [{source: our audit, known: practice}]", "", "a rate names what it rests on"),
        ("- name: shoulder replacement", "- name: long-standing shoulder pain", "is described twice"),
    ],
)
def test_what_is_wrong_with_a_condition_is_told_with_its_place(old: str, new: str, told: str, library: Path) -> None:
    assert told in faults(library, "conditions.yaml", CONDITIONS.replace(old, new))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "should be a list"),
        ("name: x\n", "should be a list"),
        ("- &a {name: x}\n- *a\n", "used twice by an alias"),
        ("[" * 2000, "measures.yaml"),
    ],
)
def test_a_file_of_another_shape_is_refused(text: str, told: str, library: Path) -> None:
    assert told in faults(library, "measures.yaml", text)


def test_a_file_that_is_no_text_is_refused(library: Path) -> None:
    (library / "measures.yaml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(RuleFault, match=r"measures\.yaml: this file is UTF-16"):
        rulebook(library / "clinic.yaml")


@pytest.mark.parametrize("measure", data.measures().values(), ids=lambda m: m.name)
def test_a_built_in_measure_would_pass_as_a_clinics_own(measure: Measure) -> None:
    assert list(faults_of_measure(measure)) == []


@pytest.mark.parametrize("condition", data.conditions().values(), ids=lambda c: c.name)
def test_a_built_in_condition_would_pass_as_a_clinics_own(condition: ConditionData) -> None:
    assert list(faults_of_condition(evolve(condition, signs=condition.signs or ()))) == []
