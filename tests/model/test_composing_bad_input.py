"""What can be wrong with a plan that is put together: one finding each, at a line of the plan's own file."""

from __future__ import annotations

import pytest

from planlang.checking.check import check
from planlang.checking.clinic import rulebook
from planlang.model.composing.compose import compose
from planlang.model.composing.files import InLibrary, NotOpened, TextFiles
from planlang.model.composing.instance import lowest
from planlang.text.finding import Level
from planlang.text.source import Source
from tests.model.composing_help import KNEE, LIBRARY, PLAN, one, together


def without(word):
    return "".join(line for line in PLAN.splitlines(keepends=True) if word not in line)


FILLS = [
    ("reps-now 6", "reps-now 13", "contradiction", "made for 4 to 12"),
    ("reps-now 6", "reps-now 3", "contradiction", "made for 4 to 12"),
    ("steps-now 3200 steps/day", "steps-now 3250 steps/day", "contradiction", "counts by 100"),
    ("steps-now 3200 steps/day", "steps-now 3200", "unreadable", "has no unit"),
    ("steps-now 3200 steps/day", "steps-now 32 min", "unreadable", "is in steps/day"),
    ("steps-now 3200 steps/day", 'steps-now "many"', "unreadable", "asks for an amount"),
    ('helper "a neighbour"', "helper 3", "unreadable", "asks for a text"),
    ("load 2 kg", "load 2.05 kg", "contradiction", "counts by 0.1"),
    ("reps-now 6", "reps-now 6.5", "contradiction", "counts by 1"),
    ("reps-now 6", "reps-now 99999999999999999", "unreadable", "too large"),
]


@pytest.mark.parametrize(("old", "new", "rule", "message"), FILLS)
def test_fill_that_the_template_does_not_take(old, new, rule, message):
    finding, line = one(PLAN.replace(old, new), knee=KNEE)
    assert finding.rule == rule
    assert finding.level is Level.UNSAFE
    assert finding.blocks
    assert message in finding.message
    assert line == f"fill       {new}"
    assert finding.related[0].source.name == "knee.plan"


def test_unfilled_blank_is_said_once_at_the_template_and_its_lines_are_left_out():
    finding, line = one(without("steps-now"), knee=KNEE)
    assert line == 'from template "knee.plan"'
    assert "steps-now (1000 to 6000 steps/day)" in finding.message
    plan, _, _ = together(without("steps-now"), knee=KNEE)
    assert {"begin", "rise"} <= plan.unread


def test_all_unfilled_blanks_are_one_finding():
    finding, _ = one(without("fill "), knee=KNEE)
    assert all(name in finding.message for name in ("steps-now", "reps-now", "load", "helper"))


def test_unknown_blank_is_asked_back_and_what_was_meant_is_not_asked_again():
    finding, line = one(PLAN.replace("reps-now", "rep-now"), knee=KNEE)
    assert line == "fill       rep-now 6"
    assert finding.advice == 'Did you mean "reps-now"?'


def test_blank_filled_twice_differently_says_both():
    finding, line = one(PLAN + "  fill reps-now 8\n", knee=KNEE)
    assert "fill reps-now 6" in finding.message
    assert "fill reps-now 8" in finding.message
    assert line == "fill reps-now 8"
    assert finding.blocks


def test_blank_filled_twice_alike_is_a_slip():
    finding, _ = one(PLAN + "  fill reps-now 6\n", knee=KNEE)
    assert finding.level is Level.INCOMPLETE


@pytest.mark.parametrize(
    ("line", "message", "help"),
    [
        ("change exercise hip-hings\n  progress every week", "has none", 'Did you mean "hip-hinge"?'),
        ("change activity hip-hinge\n  progress every week", "has none", "exercise hip-hinge"),
        ('change session "Hinge"\n  days Mon', "has none", "Chair and hinge"),
        ('leave out session "Hinge" because "x"', "nothing is left out", "Chair and hinge"),
        ('leave out exercise hip-hings because "x"', "nothing is left out", 'Did you mean "hip-hinge"?'),
    ],
)
def test_what_the_template_has_not(line, message, help):
    finding, at = one(f"{PLAN}{line}\n", knee=KNEE)
    assert message in finding.message
    assert help in finding.advice
    assert at == line.splitlines()[0]
    assert finding.blocks


def test_leaving_out_wants_a_reason_and_is_done():
    finding, line = one(f"{PLAN}leave out exercise hip-hinge\n", knee=KNEE)
    assert finding.level is Level.INCOMPLETE
    assert line == "leave out exercise hip-hinge"
    plan, _, _ = together(f"{PLAN}leave out exercise hip-hinge\n", knee=KNEE)
    assert plan.exercise("hip-hinge") is None


@pytest.mark.parametrize("line", ["fill reps-now 3", "change rest", 'leave out exercise x because "y"'])
def test_nothing_is_filled_changed_or_left_out_without_a_template(line):
    finding, at = one(f'plan "P"\n  starts 2027-03-01\n  lasts 6 weeks\n{line}\n')
    assert "names no template" in finding.message
    assert at == line


@pytest.mark.parametrize(
    ("files", "message"),
    [
        ({}, 'There is no file "knee.plan"'),
        ({"knee": 'plan "No template"\n'}, '"knee.plan" is no template'),
        ({"knee": LIBRARY}, '"knee.plan" is no template'),
        ({"knee": "nonsense\n"}, '"knee.plan" is no template'),
    ],
)
def test_template_that_cannot_be_had_is_one_finding_and_nothing_is_judged(files, message):
    finding, line = one(PLAN, **files)
    assert message in finding.message
    assert line == 'from template "knee.plan"'
    plan, _, _ = together(PLAN, **files)
    assert "?" in plan.unread


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ("from template", "from templete", 'from templete "knee.plan"'),
        ("from template", "frm template", 'frm template "knee.plan"'),
        ("reps-now 6", "reps-now six", "fill       reps-now six"),
        ("fill       reps-now", "fil reps-now", "fil reps-now 6"),
        ("fill       reps-now", "fill reps now", "fill reps now 6"),
    ],
)
def test_line_of_the_plan_that_cannot_be_read_brings_no_other_finding(old, new, line):
    _, found, source = together(PLAN.replace(old, new), knee=KNEE)
    assert [f.rule for f in found] == ["unreadable"], [f.message for f in found]
    assert source.line(source.place(found[0].span).line).strip() == line


def test_library_line_that_cannot_be_read_brings_no_other_finding():
    text = (
        'plan "P"\n  starts 2027-03-01\n  lasts 6 weeks\n  use librry "lib.plan"\nexercise squat\n  ladder step 2 on\n'
    )
    _, found, _ = together(text, lib=LIBRARY)
    assert [f.rule for f in found] == ["unreadable"], [f.message for f in found]


def test_second_template_is_a_contradiction():
    finding, line = one(PLAN + '  from template "other.plan"\n', knee=KNEE)
    assert finding.rule == "contradiction"
    assert line == 'from template "other.plan"'


def test_templates_in_a_circle():
    files = {
        "knee": 'template "A"\n  lasts 6 weeks\n  from template "b.plan"\n',
        "b": 'template "B"\n  from template "knee.plan"\n',
    }
    finding, line = one(without("fill "), **files)
    assert '"knee.plan" to "b.plan" to "knee.plan"' in finding.message
    assert line == 'from template "knee.plan"'


def test_templates_more_than_four_deep():
    files = {f"t{n}": f'template "T"\n  from template "t{n + 1}.plan"\n' for n in range(1, 9)}
    finding, _ = one('plan "P"\n  starts 2027-03-01\n  from template "t1.plan"\n', **files)
    assert "4 deep" in finding.message
    assert finding.related[0].source.name == "t4.plan"


SPOTS = [
    ("2x<reps>", "names the blank reps"),
    ("2x<reps-now plus 2>", "no value that is understood"),
    ("2x<>", "no value that is understood"),
    ("2x<7>", "no blank is named"),
    ("2x<reps-now + load>", "in another"),
    ("2x<helper>", "helper is a text"),
    ("2x<reps-now - 20>", "less than nothing"),
    ("2x<30 % of reps-now>", "counted whole"),
    ("2x<50 % of load>", "counted whole"),
    ("2x<reps-now rounded to 0>", "rounded to 0"),
    ("<steps-now + 300>", "has no unit"),
    ("<steps-now + 3 furlongs>", "no unit"),
]


@pytest.mark.parametrize(("spot", "message"), SPOTS)
def test_blank_that_the_template_uses_wrongly(spot, message):
    text = KNEE.replace(
        "<steps-now>\n" if spot.startswith("<") else "2x<reps-now>", f"{spot}\n" if spot.startswith("<") else spot
    )
    assert text != KNEE
    _, found, source = together(PLAN.replace("load 2 kg", "load 2.3 kg"), knee=text)
    wrong = [f for f in found if message in f.message]
    assert len(wrong) == 1, [f.message for f in found]
    assert wrong[0].rule == "unreadable"
    assert wrong[0].related[0].source.name == "knee.plan"
    assert source.line(source.place(wrong[0].span).line).split()[0] in ("fill", "from")


BLANKS = [
    ("blank x 9 to 4", "runs downwards"),
    ("blank x 1 to 4 by 0", "by 0"),
    ("blank reps-now 1 to 4", "declared twice"),
    ("blank x 0.5 to 4 steps/day", "counted whole"),
    ("blank x 1 to 99999999999999999999", "too long"),
]


@pytest.mark.parametrize(("line", "message"), BLANKS)
def test_blank_that_makes_no_sense(line, message):
    finding, at = one(PLAN, knee=KNEE.replace("\ngoal", f"  {line}\n\ngoal"))
    assert message in finding.message
    assert at == 'from template "knee.plan"'


def test_line_of_the_template_that_cannot_be_read_is_one_finding():
    finding, line = one(PLAN, knee=KNEE.replace("cue        ", "cu         "))
    assert finding.rule == "unreadable"
    assert line == 'from template "knee.plan"'


def test_ten_thousand_blanks_are_said_once():
    blanks = "".join(f"  blank b{n} 1 to 9\n" for n in range(10_000))
    uses = "".join(f"exercise e{n}\n  begin 1x<b{n}>\n" for n in range(300))
    fills = "".join(f"  fill b{n} 3\n" for n in range(300))
    text = f'plan "P"\n  starts 2027-03-01\n  lasts 6 weeks\n  from template "t.plan"\n{fills}'
    source, found = compose(Source("p.plan", text), TextFiles({"t.plan": f'template "T"\n{blanks}{uses}'}))
    assert sum("at most 100 blanks" in f.message for f in found) == 1
    assert sum("has no blank" in f.message for f in found) == 200
    assert all(1 <= source.place(f.span).line <= text.count("\n") for f in found)
    assert "begin 1x3\nexercise e1\n" in source.text


def test_plan_from_nowhere_opens_nothing():
    source, found = compose(Source("p.plan", PLAN))
    assert [source.place(f.span).line for f in found] == [4]
    assert "not looked for here" in found[0].message


def test_a_template_that_no_plan_can_be_made_from_is_too_deep_itself():
    """Four templates at most: the one that is checked is the first of them."""
    texts = {f"t{n}": f'template "T"\n  from template "t{n + 1}"\n' for n in range(1, 4)}
    files = TextFiles({**texts, "t4": 'template "T"\n  lasts 6 weeks\n'})
    within = lowest(Source("t1", 'template "T"\n  from template "t2"\n'), files)
    assert within.findings == ()
    beyond = lowest(Source("t0", 'template "T"\n  from template "t1"\n'), files)
    assert "4 deep" in beyond.findings[0].message


def test_what_is_left_out_is_not_changed_too():
    finding, line = one(
        PLAN + 'leave out exercise hip-hinge because "the back"\nchange exercise hip-hinge\n  begin 2x5\n', knee=KNEE
    )
    assert finding.rule == "contradiction"
    assert line == 'leave out exercise hip-hinge because "the back"'
    assert finding.related[0].message == "the other is here"


def test_what_to_leave_out_is_named_not_written_without_change():
    finding, _ = one(PLAN + 'leave out exercise zzz because "x"\n', knee=KNEE)
    assert finding.advice.startswith("Take the line out, or name one of the template's: sit-to-stand")


def test_an_exercise_without_a_ladder_gives_no_part_of_one():
    finding, _ = one(PLAN + "exercise hop\n  kind strength\n  ladder steps 1 to 2\n", knee=KNEE)
    assert finding.advice == "Write the ladder here, beginning with a line: begin 2x6"


def test_folders_written_the_windows_way_are_shown_the_other_way(tmp_path):
    made = InLibrary(tmp_path).open("..\\knee.plan", Source(str(tmp_path / "p.plan"), ""))
    assert isinstance(made, NotOpened)
    assert made.help == 'Folders are parted by a plain stroke here: "../knee.plan"'


def test_of_thousands_of_blanks_that_nobody_declares_the_first_are_told() -> None:
    lines = "".join(f"exercise e{n}\n  begin 2x<nobody-{n}>\n" for n in range(3_000))
    found = check(Source("a.plan", f'template "Too many"\n  lasts 8 weeks\n{lines}'), rulebook()[0]).findings
    said = [f for f in found if "not declared here" in f.message]
    assert 100 <= len(said) <= 300
    assert any(f.message == "More is wrong here than is told." for f in found)
