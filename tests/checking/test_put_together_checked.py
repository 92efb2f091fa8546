"""Plans from templates, libraries and templates under the whole check."""

from __future__ import annotations

import pytest

from planlang.checking.check import blocks, check
from planlang.checking.rulebook import built_in
from planlang.model.composing.files import TextFiles
from planlang.model.reading import kind_of
from planlang.text.finding import Level
from planlang.text.source import Source
from tests.model.composing_help import KNEE, LIBRARY, PLAN, SMALL


def checked(text, **files):
    named = {f"{name}.plan": said for name, said in files.items()}
    return check(Source("p.plan", text), built_in(), files=TextFiles(named))


def at(result, finding):
    source = finding.source or result.source
    return source.line(source.place(finding.span).line).strip()


def test_rule_finds_what_the_template_says_at_the_fill_and_names_the_templates_line():
    knee = KNEE.replace("rise       300 steps/day", "rise       <50 % of steps-now>")
    result = checked(PLAN, knee=knee)
    found = next(f for f in result.findings if f.rule == "steps-jump-without-a-strength-base")
    assert at(result, found) == "fill       steps-now 3200 steps/day"
    there = found.related[0]
    assert there.source.name == "knee.plan"
    line = there.source.line(there.source.place(there.span).line).strip()
    assert line == "rise       <50 % of steps-now> every week to <steps-now + 1800 steps/day>"


def test_findings_stand_in_the_order_of_the_plans_own_file():
    text = PLAN.replace("reps-now 6", "reps-now 14") + "change exercise hip-hinge\n  begin 1x5\n"
    result = checked(text, knee=KNEE)
    places = [result.source.place(f.span).line for f in result.findings if f.span]
    assert places == sorted(places)


def test_plan_without_its_template_is_not_judged_and_blocks():
    result = checked(PLAN)
    assert [f.rule for f in result.findings if f.level is Level.UNSAFE] == ["unreadable"]
    assert "no-room-for-rest" in result.not_judged
    assert blocks(result)


def test_waiver_of_the_plan_holds_for_what_the_template_says():
    waiver = '  written 2027-02-22\nwaive strength-that-never-loads by T-03 because "hills" until 2027-06-01\n'
    knee = KNEE.replace("at <load>", 'with "<helper>"').replace("  then       3x<reps-now + 2> with", "  # ")
    plain = checked(PLAN, knee=knee)
    assert "strength-that-never-loads" in {f.rule for f in plain.findings}
    result = checked(PLAN + waiver, knee=knee)
    found = next(f for f in result.findings if f.rule == "strength-that-never-loads")
    assert found.waived is not None


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        (PLAN, "plan"),
        (KNEE, "template"),
        (LIBRARY, "library"),
        ("diary for P-014\n", "diary"),
        ('# plan\n\n \ufefftemplate "T"\r\n', "template"),
        ('# one\rlibrary "L"', "library"),
        ("planning", None),
        ("", None),
    ],
)
def test_kind_of_a_file(text, kind):
    assert kind_of(Source("x", text)) == kind


def test_library_without_fault():
    result = checked(LIBRARY)
    assert result.findings == ()
    assert result.plan.title == "Clinic"


LIBRARIES = [
    ("kind       aerobic", "kind       aerobc", "unknown-word", "kind       aerobc"),
    ("works      quadriceps", "works      quadricep", "unknown-word", "works      quadricep, gluteals"),
    ("then       2x10\n", "then       2x8 at 2 kg\n", "unreckonable", "then       2x8 at 2 kg"),
    ("rise 10 %", "rise 0 %", "contradiction", "rise       0 % every week to 120 min/week"),
    ("rise       10 %", "rise       0 %", "contradiction", "rise       0 % every week to 120 min/week"),
    ("  begin      2x5", "  begi       2x5", "unreadable", 'begi       2x5 "from a chair"'),
    ("exercise calf-raise", "exercise squat", "contradiction", "exercise squat"),
    ("exercise calf-raise", "exercise balance", "unreadable", "exercise balance"),
    ("exercise calf-raise\n", 'library "Second"\nexercise calf-raise\n', "contradiction", 'library "Second"'),
    ("exercise calf-raise\n", "  room for 2 weeks\nexercise calf-raise\n", "unreadable", "room for 2 weeks"),
]


@pytest.mark.parametrize(("old", "new", "rule", "line"), [row for row in LIBRARIES if row[0] in LIBRARY])
def test_fault_of_a_library_stands_at_its_line(old, new, rule, line):
    result = checked(LIBRARY.replace(old, new, 1))
    found = [f for f in result.findings if f.rule == rule]
    assert found
    assert line in {at(result, f) for f in found}
    assert all(f.source is result.source for f in result.findings)


def test_template_is_checked_at_its_own_lines():
    result = checked(SMALL.replace("quadriceps", "quadricep"))
    assert ("unknown-word", "works      quadricep") in {(f.rule, at(result, f)) for f in result.findings}


def test_rules_for_libraries_judge_them():
    frightening = LIBRARY.replace("slowly down and up", "spare what is worn out and crumbling")
    found = [f for f in checked(frightening).findings if f.rule == "words-that-frighten-or-blame"]
    assert len(found) == 1
    mistyped = LIBRARY.replace("begin      2x5", "begin      2x55")
    assert "number-looks-mistyped" in {f.rule for f in checked(mistyped).findings}
    assert "no-way-up-the-ladder" not in checked(LIBRARY).rules
