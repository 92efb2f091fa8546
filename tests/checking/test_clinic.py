"""clinic.yaml: found upward from the plan, read strictly, in force for what lies below it."""

from pathlib import Path

import pytest

from planlang.checking.check import check
from planlang.checking.clinic import rulebook
from planlang.checking.fault import RuleFault
from planlang.checking.nearest import find_clinic
from planlang.text.finding import Level
from planlang.text.source import Source
from tests.checking.conftest import HEAD, RULE

WHOLE = """\
clinic: Riverside physiotherapy
contacts:
  emergency: "112"
  same-day: "03 5550 0101"
  clinic: "03 5550 0100, weekdays 8 to 17"
calendar-key-file: .calendar-key
zone: Australia/Hobart
packs: [library/rules]
rules:
  pain-rule-missing: {off: "we print the usual rule"}
  no-room-for-rest: {level: incomplete, settings: {longest without: 8 weeks}}
waivers:
  unsafe: [T-03, T-07]
"""


@pytest.fixture
def library(tmp_path: Path) -> Path:
    pack = tmp_path / "library" / "rules" / "ours"
    pack.mkdir(parents=True)
    (pack / "our-rule.yaml").write_text(RULE, "utf-8")
    (tmp_path / "clinic.yaml").write_text(WHOLE, "utf-8")
    return tmp_path


def faults(folder: Path, text: str) -> str:
    path = folder / "clinic.yaml"
    path.write_text(text, "utf-8")
    with pytest.raises(RuleFault) as e:
        rulebook(path)
    return str(e.value)


def test_the_nearest_file_above_holds(library: Path) -> None:
    inner = library / "people" / "here"
    inner.mkdir(parents=True)
    assert find_clinic(inner) == library / "clinic.yaml"
    (inner / "clinic.yaml").write_text("clinic: Another\n", "utf-8")
    assert find_clinic(inner) == inner / "clinic.yaml"


def test_everything_it_says_is_in_force(library: Path) -> None:
    book, clinic = rulebook(library / "clinic.yaml")
    assert clinic is not None
    assert clinic.contacts["emergency"] == "112"
    assert (clinic.zone, clinic.name) == ("Australia/Hobart", "Riverside physiotherapy")
    assert clinic.key_file == library / ".calendar-key"
    assert not clinic.has_key
    assert book.off() == {"pain-rule-missing": "we print the usual rule"}
    rest = book.rule("no-room-for-rest")
    assert rest is not None
    assert book.level(rest) is Level.INCOMPLETE
    assert book.value(rest, rest.settings[0]) == 56
    assert book.may_waive == {Level.UNSAFE: frozenset({"T-03", "T-07"})}
    found = [f.rule for f in check(Source("x.plan", HEAD), book).findings]
    assert "our-rule" in found
    assert "pain-rule-missing" not in found


def test_an_empty_file_changes_nothing(tmp_path: Path) -> None:
    (tmp_path / "clinic.yaml").write_text("# nothing yet\nclinic: Riverside\n", "utf-8")
    book, _ = rulebook(tmp_path / "clinic.yaml")
    assert book.off() == {}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("rulse: {}\n", ':1:1: nothing here is called "rulse". Did you mean "rules"?'),
        ("calendar-key-fil: x\n", 'Did you mean "calendar-key-file"?'),
        (
            "rules: {no-room-for-rst: {off: x}}\n",
            'there is no rule "no-room-for-rst". Did you mean "no-room-for-rest"?',
        ),
        (
            "rules:\n  no-room-for-rest:\n    lvel: advice\n",
            ':3:5: nothing here is called "lvel". Did you mean "level"?',
        ),
        ("rules:\n  no-room-for-rest: {level: advic}\n", '"level" can\'t be "advic". Did you mean "advice"?'),
        ("rules:\n  no-room-for-rest: {off: ''}\n", "a rule is turned off with a reason"),
        ("rules:\n  no-room-for-rest: {settings: {longest witout: 5 weeks}}\n", 'Did you mean "longest without"?'),
        (
            "rules:\n  no-room-for-rest: {settings: {longest without: 3 weeks}}\n",
            '"3 weeks" is outside what can be set here. It may be from 4 weeks to 12 weeks.',
        ),
        ("rules:\n  no-room-for-rest: {settings: {longest without: 5}}\n", "is in another unit than week"),
        ("rules:\n  no-room-for-rest: {settings: {longest without: soon}}\n", "is no number with a unit"),
        ("rules:\n  screening-not-clear: {off: slow doctors}\n", "can't be turned off"),
        ("rules:\n  screening-not-clear: {level: advice}\n", "can't be turned off or given another level"),
        ("rules:\n  strength-under-two-days: {level: unsafe}\n", "rests on contested ground and stays advice"),
        ("zone: Australia/Hobat\n", ':1:7: no time zone is called "Australia/Hobat"'),
        ("contacts: {same-dy: '1'}\n", 'no contact is called "same-dy". Did you mean "same-day"?'),
        ("contacts: {emergency: 112}\n", "should be text, and is 112"),
        ("packs: [../elsewhere]\n", "is outside this library"),
        ("packs: [nowhere]\n", 'there is no folder "nowhere" in the library'),
        ("measures: nowhere.yaml\n", 'there is no file "nowhere.yaml" in the library'),
        ("waivers: {unsfe: [T-03]}\n", 'Did you mean "unsafe"?'),
        ("- a\n", "this file holds keys and values"),
        ("clinic: a\nclinic: b\n", ':2:1: the key "clinic" stands twice here'),
        ("a: &a [1]\nb: *a\n", "used twice by an alias"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(text: str, told: str, tmp_path: Path) -> None:
    assert told in faults(tmp_path, text)


def test_a_wrong_rule_of_a_pack_is_told_with_its_own_file(library: Path) -> None:
    (library / "library" / "rules" / "ours" / "our-rule.yaml").write_text(RULE.replace("4 weeks", "4 weks"), "utf-8")
    said = faults(library, WHOLE)
    assert "our-rule.yaml:5:28" in said
    assert 'no unit is called "weks". Did you mean "weeks"?' in said


def test_a_pack_may_not_take_the_name_of_another_rule(library: Path) -> None:
    (library / "library" / "rules" / "ours" / "no-room-for-rest.yaml").write_text(RULE, "utf-8")
    assert 'also a name of the rule "no-room-for-rest"' in faults(library, WHOLE)


def test_an_empty_pack_is_refused(tmp_path: Path) -> None:
    (tmp_path / "rules").mkdir()
    assert "this folder holds no rules" in faults(tmp_path, "packs: [rules]\n")
