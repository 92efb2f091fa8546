"""Blanks that stand for what a set holds: repetitions without a unit, a time with its own."""

from __future__ import annotations

import pytest

from planlang.model.composing.compose import compose
from planlang.model.composing.files import TextFiles
from planlang.model.reading import read_plan
from planlang.text.source import Source

TEMPLATE = """\
template "Standing"
  lasts 8 weeks
  blank hold 5 to 15 s
  blank go 2 to 6 min
  blank load 1 to 4 kg
  blank reps 4 to 12 reps
exercise stand
  kind balance
  begin {dose}
"""


def made(dose, hold="8 s"):
    fills = f"fill hold {hold}\nfill go 3 min\nfill load 2 kg\nfill reps 6\n"
    text = f'plan "P"\nfrom template "t.plan"\nstarts 2027-03-01\n{fills}'
    source, found = compose(Source("p.plan", text), TextFiles({"t.plan": TEMPLATE.format(dose=dose)}))
    plan, more = read_plan(source)
    return plan, [*found, *more]


@pytest.mark.parametrize(
    ("dose", "written"),
    [
        ("2x<hold>", "2x8 s"),
        ("2x<hold> each side", "2x8 s each side"),
        ("2x<hold> s each side", "2x8 s each side"),
        ("2x<2 x hold>", "2x16 s"),
        ("2x<hold + 3 s>", "2x11 s"),
        ("3x<go> resting 1 min", "3x3 min resting 1 min"),
        ("3x<reps>", "3x6"),
        ("3x<reps> holding <hold>", "3x6 holding 8 s"),
    ],
)
def test_a_time_in_a_set_keeps_its_unit_and_repetitions_have_none(dose, written):
    plan, found = made(dose)
    assert [f.message for f in found] == []
    meant, _ = read_plan(
        Source("m.plan", f'plan "P"\nstarts 2027-03-01\nlasts 8 weeks\nexercise stand\nbegin {written}\n')
    )
    assert plan.exercise("stand").steps[0].dose == meant.exercise("stand").steps[0].dose


def test_a_time_filled_in_another_unit_is_the_same_time():
    plan, found = made("2x<hold>", hold="0.2 min")
    assert [f.message for f in found] == []
    assert plan.exercise("stand").steps[0].dose.size.amounts[0].low == 12


def test_a_weight_is_nothing_that_a_set_holds():
    _, found = made("2x<load>")
    assert [f.message for f in found] == ["`<load>`: load is in kg, and a set holds repetitions or a time."]
