"""Signs that stop the day: what adds one, what takes one out, what never goes, and what the person then reads."""

from __future__ import annotations

from pathlib import Path

import pytest

from planlang.calendar.events import entries
from planlang.checking.check import Checked, blocks, check
from planlang.checking.clinic import rulebook
from planlang.checking.fault import RuleFault
from planlang.checking.rulebook import Rulebook
from planlang.model.carried import carried
from planlang.model.catalogue import signs
from planlang.planning.telling.standing import Contacts
from planlang.text.finding import Level
from planlang.text.source import Source

KNEE = """plan "Stairs without the rail"
  about knee osteoarthritis, right
  starts 2027-03-01
  lasts 6 weeks
  zone Europe/London
  written 2027-02-22
screening 2027-02-22
  by T-03
  clear yes for moderate
agreed 2027-02-22 calendar full
exercise step-up
  kind strength
  works quadriceps
  begin 2x6
  stay on this step because "the stair is what is wanted"
session "Hall"
  days Mon, Thu
  at 08:00 for 15 min
  place "hall"
  do step-up
"""
REASON = ' because "known since 2015" by T-03'
NEVER = ("heart", "clot-lung", "hot-joint")
WAIVER = 'waive {rule} by T-03 because "agreed" until 2027-04-01\n'


def checked(lines: str, book: Rulebook) -> Checked:
    return check(Source("knee.plan", KNEE + lines), book)


def told(lines: str, book: Rulebook) -> str:
    """What an entry of the first session says."""
    weeks = checked(lines, book).weeks
    assert weeks is not None
    contacts = Contacts("112", "03 5550 0101", "03 5550 0100")
    return next(e.description for e in entries(weeks, contacts) if "Step up" in e.description)


def levels(result: Checked, rule: str) -> list[Level]:
    return [f.level for f in result.findings if f.rule == rule]


def test_a_sign_that_may_go_goes_with_a_reason_and_a_name(book: Rulebook) -> None:
    line = f"leave out red-flag cannot-bear{REASON}\n"
    assert "you cannot put weight on the leg" in told("", book)
    assert "you cannot put weight on the leg" not in told(line, book)
    assert "a newly swollen calf" in told(line, book)
    assert levels(checked(line, book), "red-flag-left-out") == []


@pytest.mark.parametrize("reason", ["", ' because "known since 2015"', " by T-03"])
def test_without_both_it_stays_and_is_flagged(reason: str, book: Rulebook) -> None:
    line = f"leave out red-flag cannot-bear{reason}\n"
    assert "you cannot put weight on the leg" in told(line, book)
    assert levels(checked(line, book), "red-flag-left-out") == [Level.UNSAFE]


@pytest.mark.parametrize("name", NEVER)
def test_three_signs_never_go(name: str, book: Rulebook) -> None:
    line = f"leave out red-flag {name}{REASON}\n"
    result = checked(line, book)
    assert levels(result, "red-flag-left-out") == [Level.UNSAFE]
    assert [f.rule for f in blocks(result)] == ["red-flag-left-out"]
    assert signs()[name].short in told(line, book).replace("A joint", "a joint")


def test_the_signs_that_never_go_are_these_three() -> None:
    assert tuple(s.name for s in signs().values() if not s.removable) == NEVER


@pytest.mark.parametrize("name", NEVER)
def test_no_waiver_takes_the_finding_that_one_of_them_is_left_out(name: str, book: Rulebook) -> None:
    result = checked(f"leave out red-flag {name}{REASON}\n{WAIVER.format(rule='red-flag-left-out')}", book)
    assert [f.rule for f in blocks(result)] == ["red-flag-left-out"]
    assert "waiver-not-allowed" in [f.rule for f in result.findings]


def test_a_waiver_takes_the_finding_of_a_sign_that_may_go(book: Rulebook) -> None:
    result = checked(f"leave out red-flag locked\n{WAIVER.format(rule='red-flag-left-out')}", book)
    assert blocks(result) == ()
    assert [f.waived is not None for f in result.findings if f.rule == "red-flag-left-out"] == [True]


def test_a_name_that_no_sign_has_takes_nothing_out_and_is_said(book: Rulebook) -> None:
    result = checked(f"leave out red-flag hart{REASON}\n", book)
    assert levels(result, "red-flag-left-out") == []
    (finding,) = [f for f in result.findings if f.rule == "unknown-word"]
    assert 'Did you mean "heart"?' in finding.advice


def test_what_the_plan_adds_is_read_beside_what_it_carries(book: Rulebook) -> None:
    text = told('stop if "the foot turns cold or blue" then today\nstop if "a twinge that stays" then tell us\n', book)
    assert "Stop and get help: chest pain, faint" in text
    assert "Stop if: the foot turns cold or blue. Then be seen today, 03 5550 0101." in text
    assert "Stop if: a twinge that stays. Then call us, 03 5550 0100." in text


def test_adding_takes_nothing_away(book: Rulebook) -> None:
    bare, more = checked("", book).plan, checked('stop if "the foot turns cold" then today\n', book).plan
    assert bare is not None
    assert more is not None
    assert carried(bare) == carried(more)


def test_a_left_out_sign_that_the_plan_says_itself_is_still_said(book: Rulebook) -> None:
    lines = f'leave out red-flag cannot-bear{REASON}\nstop if "the leg will not take weight" then today\n'
    assert "Stop if: the leg will not take weight. Then be seen today" in told(lines, book)


BARS = {
    "screening-not-clear": (KNEE.replace("clear yes for moderate", "clear waiting"), ""),
    "personal-details": (KNEE, 'tell "Ring her on 0491 570 156"\n'),
}
"""Rules that person.md puts beyond every waiver, with a plan that each finds something in."""


@pytest.mark.parametrize("rule", BARS)
def test_rules_beyond_waiving_refuse_one(rule: str, book: Rulebook) -> None:
    text, lines = BARS[rule]
    result = check(Source("knee.plan", text + lines + WAIVER.format(rule=rule)), book)
    assert [f.rule for f in blocks(result)] == [rule]
    assert "waiver-not-allowed" in [f.rule for f in result.findings]


@pytest.mark.parametrize("rule", BARS)
@pytest.mark.parametrize("change", ['{off: "we know them"}', "{level: advice}"])
def test_no_clinic_turns_them_off_or_down(rule: str, change: str, tmp_path: Path) -> None:
    (tmp_path / "clinic.yaml").write_text(f"rules:\n  {rule}: {change}\n", "utf-8")
    with pytest.raises(RuleFault, match="can't be turned off"):
        rulebook(tmp_path / "clinic.yaml")
