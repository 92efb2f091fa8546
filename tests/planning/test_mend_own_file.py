"""A proposal for a plan from a template, as a change of the plan's own file."""

from __future__ import annotations

import pytest

from planlang.model.composing.compose import compose
from planlang.model.composing.files import TextFiles
from planlang.model.reading import read_plan
from planlang.planning.mend.edits import Edit, applied
from planlang.planning.mend.own_file import in_own_file
from planlang.planning.mend.proposal import Proposal
from planlang.text.source import Source, Span
from tests.model.composing_help import KNEE, LIBRARY, PLAN

TEXT = PLAN + '  use library "lib.plan"\nchange goal\n  because "her dog"\nsession "Evening"\n  days Tue\n  do squat\n'
FILES = TextFiles({"knee.plan": KNEE, "lib.plan": LIBRARY})


def reads(source):
    return read_plan(compose(source, FILES)[0])[0]


def told(old, new, text=TEXT):
    """The own file after a change of the composed text, or None where it is not offered."""
    source, _ = compose(Source("p.plan", text), FILES)
    start = source.flat.text.index(old)
    edit = Edit(Span(start, start + len(old)), new)
    kept, elsewhere = in_own_file([Proposal("x", False, (edit,), old, new)], source, reads)
    assert len(kept) + elsewhere == 1
    return (applied(text, kept[0].edits), kept[0].after) if kept else None


OFFERED = [
    ("days Tue", "days Sat", 'session "Evening"\n  days Sat\n', None),
    ("by         week 10", "by         week 11", '\nchange target "More from the chair"\n  by         week 11\n', True),
    ("lasts      12", "lasts      14", "\nchange plan\n  lasts      14 weeks\n", True),
    ("room for   2", "room for   3", "\nchange rest\n  room for   3 weeks\n", True),
    ("accept     up to 5", "accept     up to 4", "\nchange pain\n  accept     up to 4/10 during\n", True),
    ("every 3 weeks", "every 2 weeks", "\nchange exercise hip-hinge\n  progress   every 2 weeks\n", True),
    ("by         week 12", "by         week 11", 'change goal\n  by         week 11\n  because "her dog"\n', True),
    ("rise       300", "rise       200", "\nchange activity walking\n", True),
]


@pytest.mark.parametrize(("old", "new", "lines", "headed"), OFFERED)
def test_change_is_said_in_the_plans_own_file(old, new, lines, headed):
    text, after = told(old, new)
    assert lines in text
    assert (after.startswith("change ") and after.endswith(f"; {new}")) == bool(headed)


def test_exercise_of_a_library_is_changed_in_a_block_of_its_own():
    source, _ = compose(Source("p.plan", TEXT), FILES)
    old = 'careful    "breathe out on the way up"'
    assert old in source.text
    text, _ = told(old, 'careful    "slowly"')
    assert text.endswith('\nexercise squat\n  careful    "slowly"\n')


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("then       2x8\n", "then       2x9\n"),
        ('begin      2x6 "chair"', 'begin      2x5 "chair"'),
        ("return     1 step", "return     2 steps"),
        ('tell "Sore', 'tell "Stiff'),
        ("exercise hip-hinge", "exercise hip-hinges"),
        ("still do   walking 5", "still do   walking 6"),
    ],
)
def test_change_that_no_line_by_itself_can_say_is_not_offered(old, new):
    assert told(old.rstrip("\n"), new.rstrip("\n")) is None


def test_change_in_own_and_templates_text_together():
    source, _ = compose(Source("p.plan", TEXT), FILES)
    text = source.flat.text
    first, second = text.index("Tue"), text.index("week 10")
    edits = (Edit(Span(first, first + 3), "Sat"), Edit(Span(second, second + 7), "week 9"))
    kept, _ = in_own_file([Proposal("x", False, edits, "", "")], source, reads)
    made = applied(TEXT, kept[0].edits)
    assert "days Sat" in made
    assert made.endswith('\nchange target "More from the chair"\n  by         week 9\n')
