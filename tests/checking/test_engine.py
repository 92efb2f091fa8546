"""The engine: what runs on what, which finding gives way, what can't be judged, what is underlined, in which order."""

from collections.abc import Callable

import pytest

from planlang.checking.check import Checked, blocks, check
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Change, Rulebook, assembled
from planlang.text.finding import Level
from planlang.text.source import Source
from tests.checking.conftest import HEAD

Checking = Callable[..., Checked]
Making = Callable[..., Rule]
TARGETS = """
target "One"
  by week 4
  do "choose shoes"
target "Two"
  by week 8
  do "walk the first half"
"""


def names(checked: Checked) -> list[str]:
    return [finding.rule for finding in checked.findings]


def test_a_finding_is_written_with_the_plans_own_numbers(checked_by: Checking, rule_of: Making) -> None:
    (finding,) = checked_by(HEAD, rule_of()).findings
    assert (finding.rule, finding.level) == ("test-rule", Level.ADVICE)
    assert (finding.message, finding.advice) == ("it lasts 12 weeks", "make it shorter")
    assert finding.sources == ("common practice, no source",)


def test_a_rule_looks_at_each_thing_or_only_at_the_first(checked_by: Checking, rule_of: Making) -> None:
    each = rule_of("each-target", looks_at="each target", flags_when='its kind is "do"', message='"{target}"')
    first = rule_of("first-target", looks_at="first target", flags_when='its kind is "do"', message='"{target}"')
    found = checked_by(HEAD + TARGETS, each, first).findings
    assert [(f.rule, f.message) for f in found] == [
        ("each-target", "One"),
        ("first-target", "One"),
        ("each-target", "Two"),
    ]


def test_only_things_that_meet_the_condition_are_looked_at(checked_by: Checking, rule_of: Making) -> None:
    rule = rule_of(looks_at='each target where its title is "Two"', flags_when='its kind is "do"', message='"{target}"')
    assert [f.message for f in checked_by(HEAD + TARGETS, rule).findings] == ["Two"]


def test_the_line_to_change_is_underlined(checked_by: Checking, rule_of: Making) -> None:
    rule = rule_of(
        looks_at="each target", flags_when='its title is "Two"', message="x", underline="[its because, its date]"
    )
    checked = checked_by(HEAD + TARGETS, rule)
    (finding,) = checked.findings
    assert finding.span is not None
    assert checked.source.text[finding.span.start : finding.span.end] == "by week 8"


def test_nothing_is_looked_at_where_the_plan_has_no_such_part(checked_by: Checking, rule_of: Making) -> None:
    assert checked_by(HEAD, rule_of(looks_at="goal", flags_when="its because is missing", message="x")).findings == ()


@pytest.mark.parametrize(
    ("applies", "about", "runs"),
    [
        ("{conditions: [knee osteoarthritis]}", "about knee osteoarthritis, left", True),
        ("{conditions: [knee osteoarthritis]}", "about hip osteoarthritis, left", False),
        ("{conditions: [knee osteoarthritis]}", "about hip osteoarthritis, left; knee osteoarthritis, left", True),
        ("{conditions: [knee osteoarthritis]}", "", False),
        ("{operations: [hip replacement]}", 'operation 2027-01-11 "hip replacement" left', True),
        ("{operations: [hip replacement]}", 'operation 2027-01-11 "knee replacement" left', False),
        ("{from age: 65}", "for P-014, aged 65", True),
        ("{from age: 65}", "for P-014, aged 64", False),
        ("{from age: 65}", "for P-014", False),
        ("{below age: 18}", "for P-014, aged 17", True),
        ("{below age: 18}", "for P-014, aged 18", False),
        ("{files: [diary]}", "", False),
    ],
)
def test_a_rule_runs_only_on_what_it_is_for(
    applies: str, about: str, runs: bool, checked_by: Checking, rule_of: Making
) -> None:
    assert ("test-rule" in names(checked_by(f"{HEAD}  {about}\n", rule_of(applies=applies)))) is runs


def test_a_rule_gives_way_to_another_that_found_something(checked_by: Checking, rule_of: Making) -> None:
    strong = rule_of("strong-rule")
    weak = rule_of("weak-rule", gives_way_to="[strong-rule]")
    assert names(checked_by(HEAD, strong, weak)) == ["strong-rule"]
    quiet = rule_of("strong-rule", flags_when="its length > 40 weeks")
    assert names(checked_by(HEAD, quiet, weak)) == ["weak-rule"]


def test_a_rule_gives_way_only_over_the_same_thing(checked_by: Checking, rule_of: Making) -> None:
    strong = rule_of("strong-rule", looks_at="each target", flags_when='its title is "One"', message='"{target}"')
    weak = rule_of(
        "weak-rule",
        looks_at="each target",
        flags_when='its kind is "do"',
        message='"{target}"',
        gives_way_to="[strong-rule]",
    )
    found = checked_by(HEAD + TARGETS, strong, weak).findings
    assert [(f.rule, f.message) for f in found] == [("strong-rule", "One"), ("weak-rule", "Two")]


def test_a_rule_is_not_judged_where_an_unreadable_line_could_have_said_it(
    checked_by: Checking, rule_of: Making
) -> None:
    pain = rule_of("pain-missing", flags_when="pain is missing", message="x")
    length = rule_of("long-plan")
    checked = checked_by(f"{HEAD}\npain\n  accept up to 5/10 durng\n", pain, length)
    assert "unreadable" in names(checked)
    assert "long-plan" in names(checked)
    accept = rule_of("no-limit", looks_at="pain", flags_when="its limit is missing", message="x")
    checked = checked_by(f"{HEAD}\npain\n  accept up to 5/10 durng\n", accept, length)
    assert checked.not_judged == ("no-limit",)
    assert "no-limit" not in names(checked)


def test_findings_stand_in_the_order_of_the_text(book: Rulebook) -> None:
    text = HEAD + TARGETS + '\nsession "Kitchen"\n  do step-up\nexercise step-up\n  begin 2x8\n  kind strenth\n'
    spans = [f.span.start for f in check(Source("x.plan", text), book).findings if f.span]
    assert spans == sorted(spans)
    assert len(spans) >= 3


def test_a_clinics_level_and_settings_are_in_force(rule_of: Making) -> None:
    rule = rule_of(
        settings="{longest: {value: 4 weeks, at least: 2 weeks, at most: 20 weeks, means: x}}",
        flags_when="its length > longest",
        message="longer than {longest}",
    )

    def found(change: Change) -> list[tuple[str, str]]:
        checked = check(Source("x.plan", HEAD), assembled([rule], {"test-rule": change}))
        return [(f.level.value, f.message) for f in checked.findings]

    assert found(Change()) == [("advice", "longer than 4 weeks")]
    assert found(Change(level=Level.INCOMPLETE)) == [("incomplete", "longer than 4 weeks")]
    assert found(Change(settings={"longest": 70})) == [("advice", "longer than 10 weeks")]  # type: ignore[dict-item]
    assert found(Change(settings={"longest": 84})) == []  # type: ignore[dict-item]
    assert found(Change(off="not here")) == []


def test_a_text_without_a_plan_has_findings_and_ran_no_rule(book: Rulebook) -> None:
    checked = check(Source("x.plan", "nothing to see\n"), book)
    assert checked.plan is None
    assert checked.rules == ()
    assert "unreadable" in names(checked)
    assert blocks(checked)


def test_what_blocks(book: Rulebook) -> None:
    clean = check(Source("x.plan", HEAD), book)
    assert blocks(clean) == ()
    for line, rule in (
        ("state draft", "state-draft"),
        ("accpt up to 5/10", "unreadable"),
    ):
        assert rule in [f.rule for f in blocks(check(Source("x.plan", f"{HEAD}  {line}\n"), book))]
    paused = check(Source("x.plan", f'{HEAD}pause all from 2027-04-01 because "travelling"\n'), book)
    assert [f.rule for f in blocks(paused)] == ["pause-all"]
    waiting = check(Source("x.plan", f"{HEAD}screening 2027-02-22\n  by T-03\n  clear waiting\n"), book)
    assert [f.rule for f in blocks(waiting)] == ["screening-not-clear"]
