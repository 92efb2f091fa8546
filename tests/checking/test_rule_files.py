"""Rule files read strictly: whatever is wrong is told with its line and the nearest right thing."""

from collections.abc import Callable

import pytest

from planlang.checking.facts import every
from planlang.checking.fault import RuleFault, told
from planlang.checking.loader import load_rule
from planlang.checking.rule import Rule
from planlang.checking.rulebook import assembled
from planlang.text.finding import Finding, Level
from planlang.text.source import Source
from tests.checking.conftest import RULE, changed

Faults = Callable[..., list[Finding]]


def test_a_rule_has_all_its_parts(rule_of: Callable[..., Rule]) -> None:
    rule = rule_of(
        settings="{longest: {value: 4 weeks, at least: 2 weeks, at most: 8 weeks, means: how long}}",
        flags_when="its length > longest",
        gives_way_to="[other-rule]",
        aliases="[old-name]",
        applies="{conditions: [knee osteoarthritis], from age: 65}",
    )
    assert (rule.name, rule.pack, rule.level) == ("test-rule", "tests", Level.ADVICE)
    setting = rule.setting("longest")
    assert setting is not None
    assert (setting.value, setting.least, setting.most, setting.unit) == (28, 14, 56, "week")
    assert rule.gives_way_to == ("other-rule",)
    assert rule.applies.from_age == 65
    assert rule.asks == {"lasts"}


@pytest.mark.parametrize(
    "part", ["title", "level", "why", "limits", "sources", "flagged", "clean", "message", "flags when", "looks at"]
)
def test_a_rule_without_a_part_is_refused(part: str, faults_of: Faults) -> None:
    faults = faults_of(**{part: ""})
    assert any(f'"{part}"' in f.message and "missing" in f.message for f in faults)


@pytest.mark.parametrize("part", ["sources", "flagged", "clean"])
def test_a_rule_with_an_empty_part_is_refused(part: str, faults_of: Faults) -> None:
    assert f'a rule needs something under "{part}"' in [f.message for f in faults_of(**{part: "[]"})]


@pytest.mark.parametrize(
    ("changes", "line", "message", "help"),
    [
        ({"levl": "advice"}, 15, 'nothing here is called "levl"', "level"),
        ({"level": "unsaf"}, 2, '"level" can\'t be "unsaf"', "unsafe"),
        ({"flags_when": "its lenght > 4 weeks"}, 5, 'a plan has no "lenght"', "length"),
        ({"flags_when": "its length > 4 weks"}, 5, 'no unit is called "weks"', "weeks"),
        ({"flags_when": "its length > 4 kg"}, 5, "set against a number of weeks", ""),
        ({"flags_when": "its length"}, 5, "a condition is needed here", ""),
        ({"looks_at": "each tarket"}, 4, 'no list is called "tarket"', "target"),
        ({"looks_at": "targets"}, 4, "is a list of targets", "each"),
        ({"message": "it lasts {its lenth}"}, 6, 'a plan has no "lenth"', "length"),
        ({"message": "it lasts {its length"}, 6, "has no partner", ""),
        ({"message": "'{its draft}'"}, 6, "can't be printed", "if ... then"),
        ({"underline": "[its length + 1 week]"}, 15, "can be underlined", ""),
        (
            {"applies": "{conditions: [knee osteoarthritsi]}"},
            15,
            'no condition is called "knee osteoarthritsi"',
            "knee osteoarthritis",
        ),
        ({"applies": "{files: [plam]}"}, 15, 'no files called "plam"', "plan"),
        ({"settings": "{most: {value: 5 dogs, means: x}}"}, 15, 'no unit is called "dogs"', ""),
        ({"settings": "{most: {value: 5 kg, at most: 3 kg, means: x}}"}, 15, "outside its own bounds", ""),
        ({"settings": "{most: {value: 5 kg, at most: 9 weeks, means: x}}"}, 15, "not in the unit of the value", ""),
        ({"settings": "{most: {value: 5 kg, means: x}}"}, 15, 'the setting "most" is used nowhere', ""),
        ({"reckons": "{plan: its length}"}, 15, "already means something else", ""),
        ({"since": "yesterday"}, 11, '"yesterday" is no date', ""),
        ({"contested": "true", "level": "unsafe"}, 2, "what is contested is advice", ""),
        ({"title": "12"}, 1, '"title" should be text', ""),
        ({"title": "a\ntitle: b"}, 2, 'the key "title" stands twice', ""),
        ({"why": "&x [1]"}, 8, '"why" should be text', ""),
    ],
)
def test_what_is_wrong_is_told_with_its_line_and_the_nearest_right_thing(
    changes: dict[str, str], line: int, message: str, help: str, faults_of: Faults
) -> None:
    fault = faults_of(**changes)[0]
    assert message in fault.message
    assert fault.source is not None
    assert fault.span is not None
    assert fault.source.place(fault.span).line == line
    assert help in fault.advice


def test_the_very_word_is_underlined_in_a_block_of_several_lines(faults_of: Faults) -> None:
    text = changed(RULE, flags_when="") + "flags when: >-\n  its length > 4 weeks\n    and its room\n  < 3 kilos\n"
    fault = faults_of(text)[0]
    assert fault.source is not None
    assert fault.span is not None
    assert fault.source.text[fault.span.start : fault.span.end] == "kilos"
    assert told(fault).startswith("test-rule.yaml:17:7: ")


def test_a_fault_names_the_file_line_and_column(faults_of: Faults) -> None:
    assert told(faults_of(level="unsaf")[0]) == (
        'test-rule.yaml:2:8: "level" can\'t be "unsaf". Did you mean "unsafe"?'
    )


@pytest.mark.parametrize(
    "text",
    [
        "a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\nd: [*c, *c]\n",
        "- " * 5000,
        "title: !!python/object:os.system x\n",
        "title: [" * 2000,
        "a list",
        "- a\n- b\n",
        "x" * 200_000,
    ],
)
def test_hostile_files_are_refused(text: str, faults_of: Faults) -> None:
    assert faults_of(text)


def test_surprises_of_yaml_stay_text(rule_of: Callable[..., Rule]) -> None:
    assert rule_of(title="on").title == "on"
    assert rule_of(why="07:30").why == "07:30"
    assert rule_of(limits="010").limits == "010"


@pytest.mark.parametrize("name", ["Test", "test_rule", "1-test", "test--rule", ""])
def test_a_name_that_could_not_be_waived_is_refused(name: str) -> None:
    rule, faults = load_rule(Source("x.yaml", RULE), name, "tests", every())
    assert rule is None
    assert "can't be a rule's name" in faults[0].message


def test_two_rules_of_one_name_and_a_missing_rival_are_refused(rule_of: Callable[..., Rule]) -> None:
    with pytest.raises(RuleFault, match='also a name of the rule "test-rule"'):
        assembled([rule_of(), rule_of()])
    with pytest.raises(RuleFault, match='gives way to "test-rul", which there is not'):
        assembled([rule_of(gives_way_to="[test-rul]")])


def test_cases_each_have_their_own_message(rule_of: Callable[..., Rule], faults_of: Faults) -> None:
    cases = (
        "[{looks at: plan, flags when: its length > 4 weeks, message: long, help: shorten},"
        " {looks at: plan, flags when: its length < 2 weeks, message: short, help: lengthen}]"
    )
    alone = {"looks_at": "", "flags_when": "", "message": "", "help": ""}
    assert len(rule_of(cases=cases, **alone).cases) == 2
    assert "stands in each of the cases" in faults_of(cases=cases)[0].message
