"""Templates linted over their whole range: seeded ones with known ranges, and brute force beside the proof."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction
from functools import cache
from itertools import product

import pytest
from attrs import evolve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planlang.checking.check import check, judge
from planlang.checking.facts.registry import Facts
from planlang.checking.ranges.grid import holds
from planlang.checking.ranges.run import Where, where
from planlang.checking.ranges.template import CheckedTemplate, Ranged, check_template
from planlang.checking.rulebook import built_in
from planlang.model.composing.blanks import BlankLine
from planlang.model.composing.composed import Composed
from planlang.model.composing.files import TextFiles
from planlang.model.composing.instance import FIRST_DAY, blanks_of, instance
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.planning.week import Weeks
from planlang.text.finding import Finding
from planlang.text.source import Source

WALK = """\
template "A walk to the pond"
  about knee osteoarthritis
  lasts {weeks} weeks
{blanks}

rest
  room for 2 weeks
  still do knee-bends 2x8 each side

activity walking
  kind aerobic
  begin {begin}
  rise {rise} every week to {to}
"""


def checked(text: str, **options: int) -> CheckedTemplate:
    return check_template(Source("t.plan", text), built_in(), TextFiles({}), **options)


def walk(
    blanks: str = "  blank daily-steps-now 1000 to 6000 steps/day by 10",
    begin: str = "<daily-steps-now>",
    rise: str = "700 steps/day",
    to: str = "<daily-steps-now + 2800 steps/day>",
    weeks: str = "12",
) -> str:
    return WALK.format(blanks=blanks, begin=begin, rise=rise, to=to, weeks=weeks)


def of_rule(found: CheckedTemplate, rule: str) -> list[Ranged]:
    return [one for one in found.ranged if one.where.rule == rule]


def test_a_jump_is_named_for_whom_it_is_one_and_for_whom_it_would_pass() -> None:
    """700 steps a day more is over 25 % of what is walked below 2800, by the rule's own threshold."""
    found = checked(walk())
    (jump,) = of_rule(found, "steps-jump-without-a-strength-base")
    assert found.cover is not None
    assert found.cover.proved
    assert jump.finding.message.startswith("daily-steps-now 1000 to 2790 steps/day: walking goes from 1000 steps/day")
    assert "It passes with daily-steps-now 2800 to 6000 steps/day." in jump.finding.advice
    assert "Proved for every value" in jump.finding.advice
    assert [(box[0].first, box[0].last) for box in jump.boxes] == [(0, 179)]
    assert jump.finding.related[-1].message == "1000 to 6000 steps/day may be filled in here"


def test_a_handful_of_runs_speaks_for_thousands_of_values() -> None:
    found = checked(walk("  blank daily-steps-now 1000 to 6000 steps/day"))
    assert found.cover is not None
    assert found.cover.fillings == 5001
    assert found.cover.runs < 10


def test_what_holds_for_everybody_is_said_once_and_plainly() -> None:
    found = checked(walk())
    (missing,) = of_rule(found, "pain-rule-missing")
    assert missing.everywhere
    assert "daily-steps-now" not in missing.finding.message
    assert "Proved" not in missing.finding.advice


def test_two_blanks_cut_a_box() -> None:
    blanks = "  blank now 1000 to 3000 steps/day by 100\n  blank more 200 to 900 steps/day by 100"
    found = checked(walk(blanks, "<now>", "<more>", "<now + 2800 steps/day>"))
    (jump,) = of_rule(found, "steps-jump-without-a-strength-base")
    failing = {
        (now, more) for now in range(21) for more in range(8) if any(holds(box, (now, more)) for box in jump.boxes)
    }
    expected = {
        (n, m)
        for n, m in product(range(21), range(8))
        if (200 + 100 * m) > 500 and (200 + 100 * m) * 4 > 1000 + 100 * n
    }
    assert failing == expected
    assert "(Said for now 1000 steps/day, more 600 steps/day.)" in jump.finding.message


def test_the_smallest_person_is_the_first_of_all_corners() -> None:
    blanks = "  blank more 200 to 900 steps/day by 100\n  blank now 1000 to 3000 steps/day by 100"
    found = checked(walk(blanks, "<now>", "<more>", "<now + 2800 steps/day>"))
    (jump,) = of_rule(found, "steps-jump-without-a-strength-base")
    assert "(Said for more 600 steps/day, now 1000 steps/day.)" in jump.finding.message


def test_weeks_are_gone_through_one_by_one() -> None:
    found = checked(walk("  blank long 4 to 30 weeks", "3000 steps/day", "100 steps/day", "3500 steps/day", "<long>"))
    (room,) = of_rule(found, "room-above-a-third")
    assert "long 4 to 5 weeks" in room.finding.message
    assert found.cover is not None
    assert found.cover.proved


def test_a_dose_of_nothing_for_some_is_a_finding() -> None:
    text = walk("  blank minutes 0 to 8 min", "<minutes>", "10 %", "20 min")
    unreadable = of_rule(checked(text), "unreadable")
    assert [one.finding.message for one in unreadable] == ["minutes 0 min: A dose of nothing."]


def test_less_than_nothing_for_some_is_a_finding() -> None:
    blanks = "  blank stands 1 to 8"
    text = walk(blanks, "3000 steps/day", "100 steps/day", "3500 steps/day") + (
        "exercise sit-to-stand\n  kind strength\n  begin 1x<stands - 3>\n"
    )
    found = of_rule(checked(text), "unreadable")
    assert {one.finding.message.partition(":")[0] for one in found} == {"stands 1 to 2", "stands 3"}


def test_the_start_may_be_on_any_day_of_the_week() -> None:
    """Hard work on two days running: Monday and Tuesday, or in a week that begins on Tuesday not running at first."""
    text = walk("  blank room 1 to 2", "3000 steps/day", "100 steps/day", "3500 steps/day", "12") + (
        'session "Pool"\n  days Mon\n  at 10:00 for 40 min\n  place "pool"\n  do sit-to-stand\n'
        'session "Home"\n  days Tue\n  at 10:00 for 20 min\n  place "home"\n  do sit-to-stand\n'
        "exercise sit-to-stand\n  kind strength\n  works quadriceps\n  begin 2x8 at effort 8/10\n  then 2x9\n"
        "  progress every 2 weeks\n"
    )
    found = checked(text)
    brute = {(one, day) for day in range(7) for one in found_of(found, (0,), day)}
    assert {(one.where, day) for one in found.ranged for day in one.starts} == brute


def test_a_template_that_says_its_start_is_checked_for_that_day() -> None:
    text = walk().replace("  lasts", "  starts 2027-03-03\n  lasts")
    found = checked(text)
    assert all(one.starts == frozenset((0,)) for one in found.ranged)
    assert not [one for one in found.ranged if one.where.rule == "contradiction"]


def test_past_the_bound_it_says_searched_and_never_proved() -> None:
    blanks = '  blank now 1000 to 6000 steps/day\ntell "Some <now> steps."'
    found = checked(walk(blanks, "<now>", "700 steps/day", "<now + 2800 steps/day>"), most=8, tries=20)
    (note,) = [f for f in found.findings if f.rule == "range-searched"]
    assert "not proved" in note.message
    assert "20 fillings" in note.message
    (jump,) = of_rule(found, "steps-jump-without-a-strength-base")
    assert not jump.proved
    assert "Searched (ends, middles and evenly spread values" in jump.finding.advice
    assert "Proved" not in jump.finding.advice
    for box in jump.boxes:
        assert jump.where in found_of(found, tuple(each.first for each in box), min(jump.starts))


def test_the_number_in_a_text_is_not_read_past() -> None:
    """A rule of texts sees the number: what is put into quotes is gone through value by value."""
    found = checked(
        walk('  blank now 1000 to 1040 steps/day by 10\ntell "Some <now> steps."', "<now>"[0:5], to="4000 steps/day")
    )
    assert found.cover is not None
    assert found.cover.runs == 5


def test_a_weight_is_looked_for_by_its_words() -> None:
    """Kit is known by its words, here too late: a text that is compared is one more thing that a number decides."""
    text = walk("  blank load 1 to 4 kg by 0.5", "3000 steps/day", "100 steps/day", "3500 steps/day") + (
        'prepare "borrow a 2 kg weight" by week 1\n'
        'exercise curl\n  kind strength\n  begin 2x8 at <load>\nsession "Home"\n  days Mon, Thu\n  do curl\n'
        '  place "home"\n'
    )
    found = checked(text)
    (kit,) = of_rule(found, "kit-not-there-in-time")
    assert kit.finding.message.startswith("load 2 kg: curl needs")


def test_a_nested_template_is_gone_through_by_its_own_blanks() -> None:
    inner = walk()
    outer = (
        'template "For those who walk more"\n  from template "inner.plan"\n  blank base 1000 to 3000 steps/day by 100\n'
        "  fill daily-steps-now <base + 1000 steps/day>\n"
    )
    found = check_template(Source("outer.plan", outer), built_in(), TextFiles({"inner.plan": inner}))
    (jump,) = of_rule(found, "steps-jump-without-a-strength-base")
    assert jump.finding.message.startswith("base 1000 to 1700 steps/day: ")
    assert found.cover is not None
    assert found.cover.runs < 8
    assert any(one.source is not None and one.source.name == "inner.plan" for one in jump.finding.related)


def test_lint_of_a_template_is_that_of_its_whole_range() -> None:
    found = check(Source("t.plan", walk()), built_in())
    assert isinstance(found, CheckedTemplate)
    assert any(f.rule == "steps-jump-without-a-strength-base" for f in found.findings)


@cache
def _blanks(text: str) -> tuple[BlankLine, ...]:
    return tuple(blank for blank in blanks_of(Source("t.plan", text)) if not blank.text)


@cache
def _filled(text: str, point: tuple[int, ...]) -> tuple[Composed, Plan | None, tuple[Finding, ...]]:
    fills = {blank.name: blank.low + k * blank.grain for blank, k in zip(_blanks(text), point, strict=True)}
    composed = instance(Source("t.plan", text), TextFiles({}), fills, FIRST_DAY)
    plan, findings = read_plan(composed, built_in().catalogue)
    return composed, plan, (*composed.findings, *findings)


@cache
def _found(text: str, point: tuple[int, ...], day: int) -> frozenset[Where]:
    composed, plan, findings = _filled(text, point)
    if plan is None:
        return frozenset(where(composed, one) for one in findings)
    assert plan.starts is not None
    begun = evolve(plan, starts=plan.starts + timedelta(days=day))
    judged, _ = judge(built_in(), Facts(begun, reckon(begun)), findings, kind="template")
    return frozenset(where(composed, one) for one in judged)


def found_of(found: CheckedTemplate, point: tuple[int, ...], day: int) -> frozenset[Where]:
    """What the ordinary check finds for one filling, reached without a trace."""
    assert isinstance(found.source, Composed)
    return _found(found.source.own.text, point, day)


STEPS = st.sampled_from(("100", "250", "300", "500", "700", "1200"))


@st.composite
def templates(draw: st.DrawFn) -> str:
    """Templates with one to three blanks of few values, used in doses, rises, targets, rest and pain."""
    lines = ['template "Drawn"', "  about knee osteoarthritis", f"  lasts {draw(st.sampled_from((6, 9, 14)))} weeks"]
    steps = draw(st.integers(8, 40)) * 100
    by = draw(st.sampled_from((50, 130, 400)))
    lines.append(f"  blank now {steps} to {steps + by * draw(st.integers(2, 9))} steps/day by {by}")
    reps = draw(st.booleans())
    pain = draw(st.booleans())
    minutes = draw(st.booleans())
    if reps:
        lines.append(f"  blank reps 2 to {draw(st.integers(4, 9))}")
    if pain:
        lines.append("  blank usual 1 to 6")
    elif minutes:
        lines.append("  blank long 7.5 to 12 min by 0.5")
    lines += ["today", "  daily-steps <now> over 7 days"]
    lines += ["  usual-pain <usual>/10"] if pain else []
    lines += ["pain", f"  accept up to {draw(st.integers(1, 6))}/10 during", "  settle within 24 hours"]
    lines += ["rest", f"  room for {draw(st.integers(1, 2))} weeks", "  still do knee-bends 2x8"]
    more = draw(STEPS)
    by_share = draw(st.booleans())
    rise = f"rise {draw(st.integers(5, 40))} % every week" if by_share else f"rise {more} steps/day every week"
    to = draw(st.sampled_from(("<now + 1800 steps/day>", "<150 % of now>", "5000 steps/day")))
    rounded = " rounded to 100" if by_share and draw(st.booleans()) else ""
    lines += ["activity walking", "  kind aerobic", "  begin <now>", f"  {rise} to {to}{rounded}"]
    lines += [f"  start after {draw(st.integers(1, 4))} weeks of strength"] if draw(st.booleans()) else []
    lines += ['target "More"', "  by week 5", "  reach <now + 600 steps/day> in walking"]
    one = "<reps>" if reps else "6"
    two = "<2 x reps>" if reps else "9"
    lines += ["exercise stand", "  kind strength", "  works quadriceps", f"  begin 2x{one}", f"  then 3x{two}"]
    lines += [f"  then 3x{two} at effort 8/10", "  progress every 2 weeks"]
    if not pain and minutes:
        lines += ["exercise bike", "  kind aerobic", "  begin <long>", "  rise 20 % every 2 weeks to 20 min"]
    done = "stand, bike" if not pain and minutes else "stand"
    length = draw(st.sampled_from((" for 10 min", "")))
    days = draw(st.sampled_from(("Mon, Wed, Fri", "Mon, Tue", "3 a week", "every second")))
    lines += ['session "Home"', f"  days {days}", f"  at 07:30{length}", '  place "home"', f"  do {done}"]
    lines += ["review every 4 weeks"]
    return "\n".join(lines) + "\n"


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(templates(), st.data())
def test_where_a_range_is_proved_a_filling_has_a_finding_just_where_the_template_says_so(
    text: str, data: st.DataObject
) -> None:
    found = checked(text, most=300)
    assert found.cover is not None
    counts = [axis.count for axis in found.cover.axes]
    for _ in range(4):
        point = tuple(data.draw(st.integers(0, count - 1)) for count in counts)
        day = data.draw(st.integers(0, 6))
        brute = found_of(found, point, day)
        said = frozenset(one.where for one in found.ranged if any(holds(box, point) for box in one.boxes))
        if found.cover.proved:
            assert brute <= said
            assert said <= {one for on in range(7) for one in found_of(found, point, on)}
        for cell in found.cover.cells:
            if holds(cell.box, point):
                assert {one for one, days in cell.outcome.items() if day in days} == brute
        for one in found.ranged:
            smallest = tuple(each.first for each in one.boxes[0])
            assert any(one.where in found_of(found, smallest, d) for d in one.starts)


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(templates())
def test_where_it_is_searched_every_range_holds_a_filling_that_fails(text: str) -> None:
    found = checked(text, most=2, tries=3)
    for one in found.ranged:
        for box in one.boxes:
            assert any(one.where in found_of(found, tuple(each.first for each in box), day) for day in one.starts)


@pytest.mark.parametrize("by", [100, 1])
def test_a_coarser_grain_asks_less_and_says_the_same(by: int) -> None:
    found = checked(walk(f"  blank daily-steps-now 1000 to 6000 steps/day by {by}"))
    (jump,) = of_rule(found, "steps-jump-without-a-strength-base")
    assert f"to {2800 - by} steps/day" in jump.finding.message


def test_a_fraction_of_a_blank_keeps_its_decimals() -> None:
    text = walk("  blank long 10 to 20 min", "<75 % of long>", "20 %", "40 min")
    found = checked(text)
    assert found.cover is not None
    assert found.cover.proved
    for k in range(11):
        for day in (0, 3):
            said = {one.where for one in found.ranged if any(holds(box, (k,)) for box in one.boxes)}
            assert found_of(found, (k,), day) == said
    assert Fraction(75, 100) * 10 == Fraction(15, 2)


def test_what_can_not_be_followed_is_gone_through_value_by_value(monkeypatch: pytest.MonkeyPatch) -> None:
    """A part of the program that takes plain numbers only costs runs, and nothing else."""
    from planlang.checking.ranges import run

    plain = check_template(Source("t.plan", walk("  blank now 2000 to 3000 steps/day by 100", "<now>")), built_in())

    def plain_only(plan: Plan) -> Weeks:
        timedelta(days=plan.exercises[0].steps[0].dose.size.amounts[0].low.numerator)  # type: ignore[union-attr]
        if type(plan.exercises[0].steps[0].dose.size.amounts[0].low) is not Fraction:  # type: ignore[union-attr]
            raise TypeError("a plain number, please")
        return reckon(plan)

    monkeypatch.setattr(run, "reckon", plain_only)
    found = checked(walk("  blank now 2000 to 3000 steps/day by 100", "<now>"))
    assert found.cover is not None
    assert plain.cover is not None
    assert found.cover.runs == 11 > plain.cover.runs
    assert [one.finding.message for one in found.ranged] == [one.finding.message for one in plain.ranged]


def test_a_hundred_blanks_are_no_more_than_the_runs_they_need() -> None:
    names = [f"b-{'abcdefghij'[n // 10]}{'abcdefghij'[n % 10]}" for n in range(100)]
    blanks = "".join(f"  blank {name} 3 to 9\n" for name in names)
    steps = "".join(f"exercise e-{name}\n  kind strength\n  begin 1x<{name}>\n" for name in names)
    done = ", ".join(f"e-{name}" for name in names[:40])
    text = walk(blanks, "3000 steps/day", "100 steps/day", "3500 steps/day") + steps
    text += f'session "Long"\n  days Mon\n  at 10:00 for 20 min\n  place "home"\n  do {done}\n'
    found = checked(text, most=6, tries=2)
    assert found.cover is not None
    assert found.cover.runs <= 8
    assert of_rule(found, "session-longer-than-its-time")


def test_half_a_point_of_confidence_is_cut_off_as_ever() -> None:
    text = walk("  blank sure 5 to 8 by 0.5", "3000 steps/day", "100 steps/day", "3500 steps/day")
    found = checked(text + 'goal "The pond"\n  by week 12\n  because "ducks"\n  confidence <sure>/10\n')
    assert found.cover is not None
    assert found.cover.proved
    for k in range(7):
        assert {one.where for one in found.ranged if any(holds(box, (k,)) for box in one.boxes)} == found_of(
            found, (k,), 0
        )


def test_a_target_out_of_reach_for_many_is_proved_in_few_runs() -> None:
    """The numbers that a message names are nothing that a finding hangs on."""
    blanks = "  blank now 1000 to 6000 steps/day"
    text = walk(blanks, "<now>", "300 steps/day", "5000 steps/day") + (
        'target "More"\n  by week 10\n  reach <now + 900 steps/day> in walking\n'
    )
    found = checked(text)
    (never,) = of_rule(found, "target-out-of-reach")
    assert never.finding.message.startswith("now 4101 to 6000 steps/day: ")
    assert found.cover is not None
    assert found.cover.proved
    assert found.cover.runs < 40


def test_a_rise_that_stands_still_for_some_is_proved_in_few_runs() -> None:
    blanks = "  blank now 1000 to 6000 steps/day"
    found = checked(walk(blanks, "<now>", "5 %", "<now + 900 steps/day> rounded to 100"))
    still = [one for one in of_rule(found, "contradiction") if "stands still" in one.finding.message]
    assert len(still) == 1
    assert found.cover is not None
    assert found.cover.proved
    for value in (1000, 1500, 1999, 2000, 2050, 4321, 6000):
        said = any(holds(box, (value - 1000,)) for box in still[0].boxes)
        assert (still[0].where in found_of(found, (value - 1000,), 0)) is said
