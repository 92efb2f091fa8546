"""From which step on a thing is needed, where a plan takes a part of a ladder, or its own."""

from __future__ import annotations

import pytest

from planlang.model.composing.compose import compose
from planlang.model.composing.files import TextFiles
from planlang.model.reading import read_plan
from planlang.text.source import Source

LIBRARY = """\
library "Clinic"
exercise step-up
  kind strength
  works quadriceps
  kit "rail", "low step", "band" from step 3, "backpack" from step 5  # as the ladder goes
  easier 1x4
  begin 2x4
  then 2x6
  then 2x8 with "band"
  then 3x8
  then 3x8 at 2 kg
  then 3x8 at 4 kg
  progress every 2 weeks
"""
HEAD = 'plan "P"\nstarts 2027-03-01\nlasts 12 weeks\n'
SESSION = 'session "S"\ndays Mon\ndo step-up\n'


def kit(text, **files):
    source, found = compose(Source("p.plan", text), TextFiles({"lib.plan": LIBRARY, **files}))
    plan, more = read_plan(source)
    assert [f.message for f in (*found, *more)] == []
    return [(item.text, item.from_step) for item in plan.exercise("step-up").kit]


@pytest.mark.parametrize(
    ("lines", "things"),
    [
        ("", [("rail", None), ("low step", None), ("band", 3), ("backpack", 5)]),
        ("ladder steps 1 to 4\n", [("rail", None), ("low step", None), ("band", 3)]),
        ("ladder steps 2 to 5\n", [("rail", None), ("low step", None), ("band", 2), ("backpack", 4)]),
        ("ladder steps 3 to 4\n", [("rail", None), ("low step", None), ("band", None)]),
        ("ladder step 5 on\n", [("rail", None), ("low step", None), ("band", None), ("backpack", None)]),
        ("begin 2x5\nthen 2x7\nprogress every 2 weeks\n", [("rail", None), ("low step", None)]),
        ('ladder steps 3 to 4\nkit "tyre" from step 2\n', [("tyre", 2)]),
    ],
)
def test_steps_of_the_librarys_kit_are_counted_on_the_ladder_that_is_done(lines, things):
    assert kit(f'{HEAD}use library "lib.plan"\nexercise step-up\n{lines}{SESSION}') == things


def test_the_same_where_a_plan_changes_what_its_template_says():
    template = 'template "T"\nlasts 12 weeks\n' + LIBRARY.split("\n", 1)[1] + SESSION
    head = 'plan "P"\nfrom template "t.plan"\nstarts 2027-03-01\n'
    change = f"{head}change exercise step-up\n"
    files = {"t.plan": template}
    assert kit(head, **files)[2:] == [("band", 3), ("backpack", 5)]
    assert kit(f"{change}ladder steps 2 to 4\n", **files)[2:] == [("band", 2)]
    assert kit(f"{change}begin 2x5\n", **files) == [("rail", None), ("low step", None)]


def test_a_kit_line_without_steps_stays_as_it_is():
    library = LIBRARY.replace(', "band" from step 3, "backpack" from step 5', "")
    text = f'{HEAD}use library "lib.plan"\nexercise step-up\nbegin 2x5\n{SESSION}'
    assert kit(text, **{"lib.plan": library}) == [("rail", None), ("low step", None)]
