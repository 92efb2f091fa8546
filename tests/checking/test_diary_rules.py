"""Diaries checked beside their plans: the rules at their edges, waivers, whose plan, a diary's own faults."""

from __future__ import annotations

from datetime import date

import pytest

from planlang.checking.beside import InTexts
from planlang.checking.check import check
from planlang.checking.clinic import rulebook
from planlang.checking.diary_check import check_diary
from planlang.text.finding import Finding, Level
from planlang.text.source import Source

BOOK, _ = rulebook()
PLAN = """\
plan "Stairs without the rail"
  for P-019, aged 71
  about knee osteoarthritis, right
  starts 2027-03-01
  lasts 8 weeks
agreed 2027-02-25 calendar discreet, diary yes
today
  usual-pain 3/10
rest
  room for 3 weeks
  still do knee-bends 2x10 twice a day
pain
  accept up to 5/10 during
  settle by next morning
target "Boots"
  by week 4
  keep "boots by the door" 5 days/week
exercise step-up
  kind strength
  works quadriceps
  begin 2x6
  then 2x8
  then 3x8
  progress every 2 weeks
activity walking
  kind aerobic
  begin 3000 steps/day
  stay on this step because "enough for now"
session "Hall"
  days Mon, Thu
  do step-up
"""


def judged(lines: str, today: str | None = None, plan: str = PLAN, more: dict[str, str] | None = None) -> list[Finding]:
    """The findings of a diary of these lines beside the plan."""
    source = Source("p019.diary", f"diary for P-019\n{lines}\n")
    beside = InTexts({"p019.plan": plan, **(more or {})})
    day = date.fromisoformat(today) if today else None
    return list(check_diary(source, BOOK, day, beside, {}, beside.files).findings)


def rules_of(findings: list[Finding]) -> list[str]:
    return sorted({f.rule for f in findings if f.waived is None})


OVER = '2027-03-08 done "Hall" during 6/10\n2027-03-11 done "Hall" during 6/10'
DONE = '2027-03-01 done "Hall"\n2027-03-04 done "Hall"'


@pytest.mark.parametrize(
    ("lines", "today", "loud"),
    [
        (f"{DONE}\n{OVER}", None, "over-the-limit-twice"),
        (f"{DONE}\n{OVER}".replace('11 done "Hall" during 6', '11 done "Hall" during 5'), None, ""),
        ("2027-03-04 flare", "2027-03-18", "flare-not-easing"),  # its fifteenth day
        ("2027-03-04 flare", "2027-03-17", ""),
        ('2027-03-01 done "Hall"', "2027-03-15", "no-news"),  # the fourteenth day without a word
        ('2027-03-01 done "Hall"', "2027-03-14", ""),
        ("2027-03-01 rest\n2027-03-08 rest\n2027-03-15 rest\n2027-03-22 rest", None, "room-needs-new-dates"),
        ("2027-03-01 rest\n2027-03-08 rest\n2027-03-15 rest", None, ""),
        ("2027-03-02 walked 4501 steps\n2027-03-04 walked 1499 steps", None, "good-day-overrun"),
        ("2027-03-02 walked 4500 steps\n2027-03-04 walked 1499 steps", None, ""),
        ("2027-03-02 walked 4501 steps\n2027-03-05 walked 1499 steps", None, ""),  # three days later
        ('2027-03-01 done "Hall" morning 5/10', None, "morning-pain-creeping"),
        ('2027-03-01 done "Hall" morning 4/10', None, ""),
        ("2027-03-03 fell", None, "fall-or-giving-way"),
        ('2027-03-03 gave way\n2027-03-03 acted "looked at it" by T-03', None, ""),
    ],
)
def test_a_rule_speaks_at_its_edge_and_not_within(lines: str, today: str | None, loud: str) -> None:
    assert rules_of(judged(lines, today)) == ([loud] if loud else [])


def test_what_is_said_of_sessions_over_the_limit_holds_for_each_of_them() -> None:
    """The one in the morning only, the other during it only: neither reason is said of both."""
    lines = f'{DONE}\n2027-03-08 done "Hall" morning 5/10\n2027-03-11 done "Hall" during 6/10'
    (found,) = [f for f in judged(lines) if f.rule == "over-the-limit-twice"]
    assert "its last 2 sessions were more than the plan accepts, the last one over the limit, and" in found.message


def test_a_red_flag_blocks_and_is_never_waived() -> None:
    line = '2027-03-03 told "calf sore and swollen" by P-019'
    waived = PLAN + 'waive red-flag-not-acted-on by T-03 because "known" until 2027-04-01\n'
    for plan in (PLAN, waived):
        (found,) = [f for f in judged(line, plan=plan) if f.rule == "red-flag-not-acted-on"]
        assert found.level is Level.UNSAFE
        assert found.waived is None


def test_a_waiver_in_the_plan_takes_a_finding_of_the_diary_and_is_unused_in_neither() -> None:
    waiver = 'waive fall-or-giving-way by T-03 because "seen at the clinic" until 2027-04-01\n'
    plan = PLAN + waiver
    (found,) = [f for f in judged("2027-03-03 fell", plan=plan) if f.rule == "fall-or-giving-way"]
    assert found.waived is not None
    assert rules_of(judged('2027-03-03 done "Hall"', plan=plan)) == []
    assert not [f for f in check(Source("p019.plan", plan), BOOK).findings if f.rule.startswith("waiver")]


def test_a_finding_stands_in_the_diary() -> None:
    (found,) = judged("2027-03-03 fell")
    assert found.source is not None
    assert found.source.name == "p019.diary"
    assert found.span is not None
    assert found.source.place(found.span).line == 2


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('2027-03-01 done "Hal"', 'Did you mean "Hall"'),
        ('2027-03-01 done "Hall" except step-upp', 'Did you mean "step-up"'),
        ("2027-03-01 did cycling 10 min", "no exercise"),
        ('2027-03-07 kept "boots by the dor" 3 days', 'Did you mean "boots by the door"'),
        ('2027-06-01 done "Hall"', "outside the plan"),
        ("2027-03-05 flare over", "Nothing says when the flare"),
        ('2027-03-04 done "Hall" reported 2027-03-02', "before the day itself"),
        ('2027-03-04 moved "Hall" to 2027-03-04', "Moved to the day that it was on"),
        ("2027-03-02 sign calf-clott", 'Did you mean "calf-clot"'),
    ],
)
def test_a_line_that_does_not_go_with_the_plan_is_said(line: str, said: str) -> None:
    found = [f for f in judged(line) if f.rule == "unreckonable"]
    assert len(found) == 1
    assert said in f"{found[0].message} {found[0].advice}"


def test_done_and_not_done_contradict() -> None:
    (found,) = judged('2027-03-01 done "Hall"\n2027-03-01 not done "Hall"')
    assert found.rule == "contradiction"
    assert "done and as not done" in found.message


def test_a_day_still_to_come_is_said_only_where_a_day_is_given() -> None:
    assert judged('2027-03-04 done "Hall"') == []
    assert any("has not come yet" in f.message for f in judged('2027-03-04 done "Hall"', "2027-03-02"))


def test_a_diary_without_its_plan_says_so() -> None:
    source = Source("p020.diary", 'diary for P-020\n2027-03-01 done "Hall"\n')
    beside = InTexts({"p019.plan": PLAN})
    (found,) = check_diary(source, BOOK, None, beside, {}, beside.files).findings
    assert "no plan for P-020" in found.message


def test_of_two_blocks_the_diary_belongs_to_the_one_that_covers_its_last_day() -> None:
    second = PLAN.replace("starts 2027-03-01", "starts 2027-05-03").replace("without the rail", "with a bag")
    made = check_diary(
        Source("p019.diary", 'diary for P-019\n2027-05-03 done "Hall"\n'),
        BOOK,
        None,
        InTexts({"a.plan": PLAN, "b.plan": second}),
        {},
    )
    assert made.plan is not None
    assert made.plan.title == "Stairs with a bag"


STEPS = "date,steps\n2027-03-02,3100\n2027-03-03,2900\n"


def test_a_table_of_steps_is_read_where_the_person_agreed() -> None:
    assert judged('steps from "steps.csv"', more={"steps.csv": STEPS}) == []
    (found,) = judged('steps from "steps.csv"', plan=PLAN.replace("diary yes", "diary no"), more={"steps.csv": STEPS})
    assert "agreed to a diary" in found.message


def test_a_date_that_can_be_read_two_ways_is_refused_at_its_line() -> None:
    (found,) = judged('steps from "steps.csv"', more={"steps.csv": STEPS + "03/04/2027,3000\n"})
    assert found.source is not None
    assert found.span is not None
    assert (found.source.name, found.source.place(found.span).line) == ("steps.csv", 4)
