"""Exercises taken from a library: whole, line by line, a part of their ladder."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.model.build.assemble import assemble
from planlang.syntax.read import read
from planlang.text.source import Source
from tests.model.composing_help import KNEE, LIBRARY, PLAN, by_hand, clean, one, together

HEAD = 'plan "P"\n  starts 2027-03-01\n  lasts 20 weeks\n'
USES = HEAD + '  use library "lib.plan"\n'
SESSION = 'session "S"\n  days Mon, Thu\n  do squat\n'
SQUAT = LIBRARY[LIBRARY.index("exercise squat") : LIBRARY.index("activity cycling")]
CYCLING = LIBRARY[LIBRARY.index("activity cycling") : LIBRARY.index("exercise calf")]
LADDER = SQUAT[SQUAT.index("  easier") : SQUAT.index("  progress")]


def library(text, lib=LIBRARY):
    return clean(text, lib=lib)


def test_exercise_that_a_session_names_is_taken_whole():
    assert library(USES + SESSION) == by_hand(HEAD + SESSION + SQUAT)


@pytest.mark.parametrize(
    "line",
    [
        "rest\n  room for 1 week\n  still do squat 1x5\n",
        'target "T"\n  by week 9\n  reach 2x10 at 2 kg in squat\n',
        SESSION + 'exercise step\n  begin 1x5\n  then 1x6\n  progress every week\n  if "wet" do cycling 15 min\n',
    ],
)
def test_exercise_that_another_line_names_is_taken(line):
    taken = SQUAT + (CYCLING if "cycling" in line else "")
    assert library(USES + line) == by_hand(HEAD + line + taken)


def test_block_without_lines_is_the_librarys():
    assert library(USES + SESSION + "exercise squat\n") == by_hand(HEAD + SESSION + SQUAT)


@pytest.mark.parametrize(
    ("own", "old"),
    [
        ("  progress every 3 weeks\n", "  progress   every 2 weeks\n"),
        ("  progress every 1 week by date\n", "  progress   every 2 weeks\n"),
        ('  careful "slowly"\n', '  careful    "breathe out on the way up"\n'),
        ("  works gluteals\n", "  works      quadriceps, gluteals\n"),
        ('  kit "stool" from step 2\n', '  kit        "sturdy chair"\n'),
        ("  begin 1x5\n  then 1x6\n", LADDER),
        ("  begin 1x5\n  then 1x6\n  progress every 3 weeks\n", LADDER + "  progress   every 2 weeks\n"),
    ],
)
def test_line_of_the_plan_takes_the_place_of_the_librarys(own, old):
    assert library(f"{USES}{SESSION}exercise squat\n{own}") == by_hand(HEAD + SESSION + SQUAT.replace(old, own))


def test_what_goes_with_the_exercise_reaches_the_plan():
    squat = library(USES + SESSION).exercise("squat")
    assert squat.tags == ("bending",)
    assert [joint.name for joint in squat.joints] == ["knee"]
    assert squat.careful == "breathe out on the way up"
    assert [kit.text for kit in squat.kit] == ["sturdy chair"]


def test_own_ladder_needs_no_library():
    own = "exercise squat\n  begin 1x5\n  then 1x6\n  progress every week\n"
    assert library(USES + SESSION + own, 'library "Empty"\n') == by_hand(HEAD + SESSION + own)


PARTS = [
    ("steps 2 to 3", ['easier 2x5 "from a chair"', 'begin 2x8 at 2 kg "from a chair"', "then 2x10"]),
    (
        "step 3 on",
        ['easier 2x8 at 2 kg "from a chair"', 'begin 2x10 at 2 kg "from a chair"', 'then 3x10 "from a low chair"'],
    ),
    ("steps 1 to 2", ['easier 1x5 "from a high chair"', 'begin 2x5 "from a chair"', "then 2x8 at 2 kg"]),
    ("step 4", ['easier 2x10 at 2 kg "from a chair"', 'begin 3x10 "from a low chair"']),
]


@pytest.mark.parametrize(("steps", "lines"), PARTS)
def test_part_of_a_ladder_is_what_it_comes_to(steps, lines):
    ladder = "".join(f"  {line}\n" for line in lines)
    taken = library(f"{USES}{SESSION}exercise squat\n  ladder {steps}\n")
    assert taken == by_hand(HEAD + SESSION + SQUAT.replace(LADDER, ladder))


def test_part_of_a_template_s_ladder():
    taken = clean(PLAN + "change exercise sit-to-stand\n  ladder steps 2 to 3\n", knee=KNEE)
    steps = taken.exercise("sit-to-stand").steps
    assert [(step.dose.size.amounts[0].low, step.dose.size.sets.low, step.dose.variant) for step in steps] == [
        (8, 2, "chair"),
        (8, 3, "chair"),
    ]
    assert taken.exercise("sit-to-stand").easier.dose.size.amounts[0].low == 6


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        (
            "steps 2 to 4",
            "  easier 60 min/week\n  begin 66 min/week\n  rise 10 % every week to 79 min/week rounded to 1\n",
        ),
        (
            "step 7 on",
            "  easier 94 min/week\n  begin 103 min/week\n  rise 10 % every week to 120 min/week rounded to 1\n",
        ),
    ],
)
def test_part_of_a_ladder_that_rises(steps, expected):
    taken = library(f"{USES}activity cycling\n  ladder {steps}\n")
    assert taken == by_hand(f"{HEAD}activity cycling\n  kind aerobic\n{expected}")


DOSES = ("2x5", "2x8", "3x8", "2x10 s", "20 min", "3x8 each side", "4x5", "10, 8, 6 reps", "left 2x8 right 2x6")
MORE = (
    "",
    " at 2 kg",
    ' "low"',
    ' with "firm band"',
    " holding 5 s",
    " resting 30-60 s",
    " tempo 2-1-4",
    " step 15 cm",
)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(DOSES), st.sampled_from(MORE)), min_size=2, max_size=6),
    st.booleans(),
    st.data(),
)
def test_steps_of_any_part_are_those_of_the_whole(lines, easier, data):
    words = [f"{dose}{more}" for dose, more in lines if "left" not in dose or not more]
    words = words or ["2x5"]
    ladder = (
        ("  easier 1x3\n" if easier else "") + f"  begin {words[0]}\n" + "".join(f"  then {w}\n" for w in words[1:])
    )
    text = f"exercise squat\n{ladder}  progress every week\n"
    first = data.draw(st.integers(1, len(words)))
    last = data.draw(st.integers(first, len(words)))
    whole, _ = assemble(read(Source("", HEAD + text)))
    part, _, _ = together(f"{USES}exercise squat\n  ladder steps {first} to {last}\n", lib=f'library "L"\n{text}')
    steps = whole.exercise("squat").steps
    assert [step.dose for step in part.exercise("squat").steps] == [step.dose for step in steps[first - 1 : last]]
    before = (
        steps[first - 2].dose if first > 1 else whole.exercise("squat").easier and whole.exercise("squat").easier.dose
    )
    now = part.exercise("squat").easier
    assert (now and now.dose) == before


BAD = [
    ("  ladder steps 3 to 9\n", "the ladder has 4 steps"),
    ("  ladder steps 0 to 2\n", "from step 1 on"),
    ("  ladder steps 3 to 2\n", "taken upwards"),
    ("  ladder step 2 on\n  begin 1x5\n  then 1x6\n", "begins another"),
]


@pytest.mark.parametrize(("line", "message"), BAD)
def test_part_that_is_not_there(line, message):
    finding, at = one(f"{USES}{SESSION}exercise squat\n{line}", lib=LIBRARY)
    assert message in finding.message
    assert at == line.splitlines()[0].strip()


def test_name_that_is_nowhere_is_one_finding_that_knows_the_library():
    from planlang.planning.reckon import reckon

    plan, found, _ = together(USES + SESSION.replace("do squat", "do squad"), lib=LIBRARY)
    found = (*found, *reckon(plan).findings)
    assert [f.advice for f in found] == ['Did you mean "squat"?']


def test_block_without_ladder_that_is_nowhere():
    finding, at = one(USES + SESSION.replace("squat", "squad") + "exercise squad\n  kind strength\n", lib=LIBRARY)
    assert "no exercise of that name stands in lib.plan" in finding.message
    assert finding.advice == 'Did you mean "squat"?'
    assert at == "exercise squad"


def test_exercise_that_is_an_activity_there():
    finding, at = one(USES + "exercise cycling\n", lib=LIBRARY)
    assert "activity in lib.plan" in finding.message
    assert at == "exercise cycling"
    assert finding.related[0].source.name == "lib.plan"


@pytest.mark.parametrize(("files", "message"), [({}, "There is no file"), ({"lib": KNEE}, "is no library")])
def test_library_that_cannot_be_had(files, message):
    finding, at = one(USES + 'exercise squat\n  begin 1x5\n  stay on this step because "x"\n', **files)
    assert message in finding.message
    assert at == 'use library "lib.plan"'


def test_template_takes_from_its_own_library_and_a_plan_changes_it():
    knee = KNEE.replace("  blank      load", '  use library "lib.plan"\n  blank      load').replace(
        "do         sit-to-stand, hip-hinge", "do         sit-to-stand, hip-hinge, squat"
    )
    other = LIBRARY.replace("exercise squat", 'exercise squat\n  pause while "sore"')
    plan = clean(
        PLAN + '  use library "other.plan"\nchange exercise squat\n  ladder steps 1 to 2\n',
        knee=knee,
        lib=LIBRARY,
        other=other,
    )
    assert len(plan.exercise("squat").steps) == 2
    assert plan.exercise("squat").pause_while == ()


def test_first_library_that_has_the_name_counts():
    other = LIBRARY.replace("2x5", "2x4")
    plan = clean(USES + '  use library "other.plan"\n' + SESSION, lib=LIBRARY, other=other)
    assert plan.exercise("squat").steps[0].dose.size.amounts[0].low == 5


def test_left_out_exercise_of_a_library_goes_from_the_session():
    knee = KNEE.replace("  blank      load", '  use library "lib.plan"\n  blank      load').replace(
        "sit-to-stand, hip-hinge\n", "sit-to-stand, squat\n"
    )
    out = PLAN + '  leave out exercise squat because "too low"\n'
    assert clean(out, knee=knee, lib=LIBRARY).sessions[0].do == ("sit-to-stand",)
