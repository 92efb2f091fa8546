"""A template as the plan that it gives for chosen values, and where each of its numbers comes from."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.model.composing import expression
from planlang.model.composing.expression import Blank, Number, Product, Rounded, Sum
from planlang.model.composing.files import TextFiles
from planlang.model.composing.instance import blanks_of, instance, lowest
from planlang.model.composing.library import template
from planlang.model.reading import read_plan
from planlang.text.source import Source, Span
from tests.model.composing_help import KNEE, PLAN, clean

MONDAY = date(2027, 3, 1)
VALUES = {"steps-now": Fraction(3200), "reps-now": Fraction(6), "load": Fraction(2), "helper": "a neighbour"}


def of(text, values, **files):
    named = {f"{name}.plan": said for name, said in files.items()}
    return instance(Source("t.plan", text), TextFiles(named), values, MONDAY)


def test_instance_is_the_plan_made_by_filling_in():
    made, found = read_plan(of(KNEE, VALUES))
    assert found == ()
    assert made.title == "Knee base"
    plan = clean(PLAN.replace('plan "Hill"\n  for        P-014, aged 67\n', 'plan "Knee base"\n'), knee=KNEE)
    assert made == plan


def test_places_are_the_templates_own():
    made = of(KNEE, VALUES)
    start = made.text.index("3x8 at 2 kg")
    place = made.place(Span(start, start + 11))
    assert made.line(place.line) == "  then       3x<reps-now + 2> at <load>"
    assert made.line(place.line)[place.column - 1 : place.end_column - 1] == "3x<reps-now + 2> at <load>"


def test_each_number_says_what_it_is():
    made = of(KNEE, VALUES)
    by_text = {(made.text[at : at + 4]): expr for at, expr in made.symbols.items()}
    assert by_text["3200"] == Blank("steps-now")
    assert by_text["5000"] == Sum((Blank("steps-now"), Number(Fraction(1800))))
    assert by_text["2 kg"] == Blank("load")
    assert len(made.symbols) == 8


def test_numbers_of_inner_templates_come_from_the_outer_blanks():
    inner = """\
template "Inner"
  lasts 12 weeks
  blank first 10 to 60 min
exercise x
  begin <80 % of first rounded to 5>
  then <first - 5 min>
"""
    outer = 'template "Outer"\n  from template "inner.plan"\n  blank now 10 to 30 min\n  fill first <2 x now>\n'
    made = of(outer, {"now": Fraction(13)}, inner=inner)
    twice = Product((Number(Fraction(2)), Blank("now")))
    assert made.findings == ()
    assert {made.text[at : at + 2]: expr for at, expr in made.symbols.items()} == {
        "20": Rounded(Product((Number(Fraction(4, 5)), twice)), Fraction(5)),
        "21": Sum((twice, Number(Fraction(-5)))),
    }


def test_template_that_leaves_something_out_of_another_does_so_as_an_instance():
    outer = """\
template "Outer"
  from template "knee.plan"
  leave out exercise hip-hinge because "nobody here does it"
  leave out session "Bench" because "there is none"
  fill steps-now 3200 steps/day
  fill reps-now 6
  fill load 2 kg
  fill helper "a neighbour"
"""
    made = of(outer, {}, knee=KNEE)
    assert [made.line(made.place(f.span).line).split()[:3] for f in made.findings] == [["leave", "out", "session"]]
    plan, found = read_plan(made)
    assert found == ()
    assert [e.name for e in plan.exercises] == ["sit-to-stand", "walking"]
    assert plan.sessions[0].do == ("sit-to-stand",)


@pytest.mark.parametrize("line", ["fill x 3", "change rest", 'leave out exercise x because "y"'])
def test_template_without_a_template_fills_changes_and_leaves_out_nothing(line):
    made = of(f'template "T"\n  lasts 6 weeks\n{line}\n', {})
    assert ["this template names no template" in f.message for f in made.findings] == [True]
    assert made.line(made.place(made.findings[0].span).line) == line


def test_a_blank_in_another_unit_keeps_its_share():
    inner = 'template "I"\n  lasts 12 weeks\n  blank far 500 to 3000 m by 100\nexercise x\n  begin <far>\n'
    outer = 'template "O"\n  from template "i.plan"\n  blank now 1 to 2 km by 0.5\n  fill far <now>\n'
    made = of(outer, {"now": Fraction(3, 2)}, i=inner)
    assert made.findings == ()
    assert "begin 1500 m" in made.text
    assert list(made.symbols.values()) == [Product((Number(Fraction(1000)), Blank("now")))]


@settings(max_examples=60, deadline=None)
@given(
    st.integers(10, 60).map(lambda n: Fraction(100 * n)),
    st.integers(4, 12).map(Fraction),
    st.integers(5, 50).map(lambda n: Fraction(n, 10)),
)
def test_every_number_is_worth_what_stands_there(steps, reps, load):
    values = {"steps-now": steps, "reps-now": reps, "load": load}
    made = of(KNEE, {**values, "helper": "x"})
    assert made.findings == ()
    for at, expr in made.symbols.items():
        digits = made.text[at:].split("\n")[0].split(" ")[0].rstrip('"')
        assert Fraction(digits) == expression.value(expr, values)


def test_blanks_of_a_template():
    steps, reps, load, helper = blanks_of(Source("t.plan", KNEE))
    assert (steps.low, steps.high, steps.grain, steps.unit) == (1000, 6000, 100, "steps/day")
    assert (reps.unit, reps.grain, reps.whole) == ("", 1, True)
    assert (load.grain, load.whole) == (Fraction(1, 10), False)
    assert helper.text
    assert steps.ask == "steps on an ordinary day"


def test_lowest_fills_the_low_ends():
    made = lowest(Source("t.plan", KNEE), None)
    assert "begin      1000 steps/day" in made.text
    assert 'goal "Up the hill with who is there"' in made.text
    assert "starts 2024-01-01" in made.text


def test_blank_without_a_value_leaves_its_lines_out():
    made = of(KNEE, {})
    plan, found = read_plan(made)
    assert found == ()
    assert {"begin", "then", "rise", "reach"} <= plan.unread


@pytest.mark.parametrize("text", ['plan "P"\n', "", 'library "L"\n', "nonsense <x>\n"])
def test_what_is_no_template_comes_back_as_it_is(text):
    assert of(text, VALUES).text == text
    assert blanks_of(Source("t.plan", text)) == ()


def test_two_equal_templates_are_kept_apart():
    one, other = Source("t.plan", KNEE), Source("t.plan", KNEE)
    assert template(one) is template(one)
    assert template(one) is not template(other)


def test_part_of_a_ladder_with_blanks_is_no_template_for_everybody():
    outer = 'template "O"\n  from template "knee.plan"\n  blank n 4 to 12\n  fill reps-now <n>\n'
    outer += '  fill steps-now 3200 steps/day\n  fill load 2 kg\n  fill helper "x"\n'
    outer += "change exercise sit-to-stand\n  ladder steps 2 to 3\n"
    made = of(outer, {"n": Fraction(6)}, knee=KNEE)
    assert ["another one for each person" in f.message for f in made.findings] == [True]
