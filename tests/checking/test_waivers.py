"""Waivers: what they take, for how long, by whom; and what is wrong with a waiver is a finding."""

from collections.abc import Callable
from datetime import date

import pytest

from planlang.checking.check import Checked, blocks, check
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Change, Rulebook, assembled
from planlang.text.finding import Level
from planlang.text.source import Source
from tests.checking.conftest import HEAD

Making = Callable[..., Rule]
WHOLE = 'waive test-rule by T-03 because "agreed with the surgeon" until 2027-05-01\n'


@pytest.fixture
def advice(rule_of: Making) -> Rulebook:
    return assembled([rule_of(aliases="[old-name]")])


@pytest.fixture
def unsafe(rule_of: Making) -> Rulebook:
    return assembled([rule_of(level="unsafe")])


def checked(lines: str, book: Rulebook, today: date | None = None) -> Checked:
    return check(Source("test.plan", f"{HEAD}{lines}"), book, today)


def faults(result: Checked) -> list[str]:
    return [f.rule for f in result.findings if f.rule != "test-rule"]


def waived(result: Checked) -> list[bool]:
    return [f.waived is not None for f in result.findings if f.rule == "test-rule"]


def test_a_whole_waiver_takes_the_finding_with_reason_signer_and_end(advice: Rulebook) -> None:
    result = checked(WHOLE, advice)
    (finding,) = result.findings
    assert finding.waived is not None
    assert (finding.waived.reason, finding.waived.by, finding.waived.until) == (
        "agreed with the surgeon",
        "T-03",
        date(2027, 5, 1),
    )


@pytest.mark.parametrize(
    ("line", "missing"),
    [
        ("waive test-rule", "a reason (because), a name (by) and an end (until)"),
        ("waive test-rule by T-03 until 2027-05-01", "a reason (because)"),
        ('waive test-rule by T-03 because "  " until 2027-05-01', "a reason (because)"),
        ('waive test-rule because "why" until 2027-05-01', "a name (by)"),
        ('waive test-rule by T-03 because "why"', "an end (until)"),
    ],
)
def test_a_waiver_that_lacks_something_holds_for_nothing(line: str, missing: str, advice: Rulebook) -> None:
    result = checked(line + "\n", advice)
    assert faults(result) == ["waiver-without-reason"]
    assert waived(result) == [False]
    fault = next(f for f in result.findings if f.rule == "waiver-without-reason")
    assert f"lacks {missing};" in fault.message
    assert fault.level is Level.INCOMPLETE


def test_a_second_line_for_the_same_rule_is_named_as_such(advice: Rulebook) -> None:
    result = checked(WHOLE + WHOLE, advice)
    assert waived(result) == [True]
    (fault,) = (f for f in result.findings if f.rule == "waiver-unused")
    assert fault.message == 'What "test-rule" finds here is waived by another line already.'


def test_an_end_that_has_passed_is_judged_by_today_only(advice: Rulebook) -> None:
    assert waived(checked(WHOLE, advice)) == [True]
    assert waived(checked(WHOLE, advice, date(2027, 5, 1))) == [True]
    late = checked(WHOLE, advice, date(2027, 5, 2))
    assert (faults(late), waived(late)) == (["waiver-expired"], [False])


def test_an_unused_waiver_is_a_finding_where_its_rule_ran(advice: Rulebook, rule_of: Making) -> None:
    quiet = assembled([rule_of(flags_when="its length > 40 weeks")])
    assert faults(checked(WHOLE, quiet)) == ["waiver-unused"]
    off = assembled([rule_of()], {"test-rule": Change(off="not used here")})
    assert faults(checked(WHOLE, off)) == []


def test_a_waiver_is_not_called_unused_where_its_rule_could_not_be_judged(rule_of: Making) -> None:
    book = assembled([rule_of(looks_at="pain", flags_when="its limit is missing", message="x")])
    result = checked(f"{WHOLE}pain\n  accept up to 5/10 durng\n", book)
    assert faults(result) == ["unreadable"]


def test_a_misspelled_rule_is_named_with_the_nearest_one(advice: Rulebook) -> None:
    (fault,) = [f for f in checked(WHOLE.replace("test-rule", "test-rul"), advice).findings if f.rule != "test-rule"]
    assert fault.rule == "waiver-of-no-rule"
    assert fault.advice == 'Did you mean "test-rule"?'


def test_a_former_name_still_holds_and_says_so(advice: Rulebook) -> None:
    result = checked(WHOLE.replace("test-rule", "old-name"), advice)
    assert (faults(result), waived(result)) == (["waiver-by-former-name"], [True])


@pytest.mark.parametrize(
    ("until", "holds"), [("2027-05-23", True), ("2027-05-24", False), ("2028-01-01", False)]
)  # 90 days from 2027-02-22, the day on which the plan was written
def test_what_is_unsafe_can_be_waived_for_ninety_days(until: str, holds: bool, unsafe: Rulebook) -> None:
    result = checked(WHOLE.replace("2027-05-01", until), unsafe)
    assert waived(result) == [holds]
    assert faults(result) == ([] if holds else ["waiver-too-long"])
    assert bool(blocks(result)) is not holds


def test_without_a_date_of_writing_nothing_unsafe_can_be_waived(unsafe: Rulebook) -> None:
    text = f"{HEAD}{WHOLE}".replace("  written 2027-02-22\n", "")
    result = check(Source("test.plan", text), unsafe)
    assert (faults(result), waived(result)) == (["waiver-too-long"], [False])


def test_only_those_whom_the_clinic_names_may_waive(rule_of: Making) -> None:
    book = assembled([rule_of(level="unsafe")], may_waive={Level.UNSAFE: frozenset({"T-07"})})
    result = checked(WHOLE, book)
    assert (faults(result), waived(result)) == (["waiver-not-allowed"], [False])
    assert waived(checked(WHOLE.replace("T-03", "T-07"), book)) == [True]


@pytest.mark.parametrize("name", ["unreadable", "contradiction", "state-draft", "pause-all"])
def test_the_engines_own_bars_are_never_waived(name: str, advice: Rulebook) -> None:
    result = checked(WHOLE.replace("test-rule", name), advice)
    assert faults(result) == ["waiver-not-allowed"]


def test_a_rule_that_is_never_waived(book: Rulebook) -> None:
    lines = WHOLE.replace("test-rule", "screening-not-clear") + "screening 2027-02-22\n  by T-03\n  clear no\n"
    result = checked(lines, book)
    assert "waiver-not-allowed" in faults(result)
    assert [f.rule for f in blocks(result)] == ["screening-not-clear"]


def test_one_case_of_a_rule_can_be_beyond_waiving(rule_of: Making) -> None:
    cases = (
        "[{looks at: plan, flags when: its length > 4 weeks, message: long, help: x, never waived: true},"
        " {looks at: plan, flags when: its length > 2 weeks, message: longish, help: x}]"
    )
    book = assembled([rule_of(cases=cases, looks_at="", flags_when="", message="", help="")])
    result = checked(WHOLE, book)
    assert sorted((f.message, f.waived is None) for f in result.findings if f.rule == "test-rule") == [
        ("long", True),
        ("longish", False),
    ]
    assert faults(result) == ["waiver-not-allowed"]


def test_findings_of_the_engine_that_may_be_waived(book: Rulebook) -> None:
    lines = WHOLE.replace("test-rule", "unknown-word") + "exercise swing\n  kind circus\n  begin 2x8\n"
    result = checked(lines, book)
    assert [f.waived is not None for f in result.findings if f.rule == "unknown-word"] == [True]
