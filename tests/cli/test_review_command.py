"""`planlang review`: one screen first, the fixed JSON, the page, the next block, the exit codes."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from planlang.cli.main import run
from planlang.model.reading import read_plan
from planlang.model.show import dose_text
from planlang.report.quoting import columns
from planlang.syntax.tidy import tidy
from planlang.text.source import Source
from tests.model.composing_help import KNEE, LIBRARY, PLAN

PEOPLE = Path(__file__).parents[2] / "examples" / "people"
BEDS, BEDS_DIARY = PEOPLE / "p014-allotment.plan", PEOPLE / "p014-allotment.diary"
DIARIES = sorted(PEOPLE.glob("*.diary"))


@pytest.fixture
def review(capsys, monkeypatch):
    def call(*args, width=80):
        monkeypatch.setenv("COLUMNS", str(width))
        code = run(["review", *map(str, args)])
        return code, *capsys.readouterr()

    return call


@pytest.fixture
def as_text(snapshot):
    class AsText(SingleFileSnapshotExtension):
        _write_mode = WriteMode.TEXT
        file_extension = "txt"

        @classmethod
        def get_snapshot_name(cls, *, test_location, index):
            return str(index)

    return lambda name: snapshot(extension_class=AsText, name=name)


def test_text_of_the_example(review, as_text):
    code, out, err = review(BEDS, BEDS_DIARY)
    assert (code, err) == (0, "")
    assert out == as_text("test_text_of_the_example")


def test_json_of_the_example(review, as_text):
    code, out, _ = review(BEDS, BEDS_DIARY, "--json")
    assert code == 0
    assert out == as_text("test_json_of_the_example")


def test_json_has_the_fields_that_are_fixed_for_scripts(review):
    _, out, _ = review(BEDS, BEDS_DIARY, "--json")
    answer = json.loads(out)
    assert answer["plan"] == "Two raised beds by spring"
    assert answer["as_of"] == "2027-05-09"
    assert answer["flags"] == []
    assert {key: answer["sessions"][key] for key in ("done", "due", "blank")} == {"done": 24, "due": 26, "blank": 0}
    assert answer["rest"] == {"taken": 1, "left": 2}
    assert [(e["name"], e["step"], e["next"]) for e in answer["exercises"]] == [
        ("sit-to-stand", 4, "on"),
        ("tandem-stance", 3, "on"),
        ("knee-bends", 1, "on"),
        ("walking", 5, "stay"),  # its week did not count: 4300 told, and the aim is 4400
    ]
    assert {k: answer["measures"][0][k] for k in ("name", "from", "to", "error", "beyond_error")} == {
        "name": "chair-stands",
        "from": 9,
        "to": 11,
        "error": 2.5,
        "beyond_error": False,
    }
    leeway = ["name", "by", "verdict", "reason", "earliest", "latest", "worst_rest", "margin", "chance", "met_by"]
    assert all(set(leeway) <= set(target) for target in answer["targets"])
    assert [t["met"] for t in answer["targets"]] == [None, "2027-03-14", "2027-03-13"]
    assert answer["goal_score"] is None
    assert len(answer["ask"]) == 2


def test_verdicts_are_those_of_leeway_from_the_same_day(review, capsys):
    _, out, _ = review(BEDS, BEDS_DIARY, "--json")
    run(["leeway", str(BEDS), "--diary", str(BEDS_DIARY), "--json"])
    leeway = json.loads(capsys.readouterr().out)["targets"]
    mine = [{k: v for k, v in t.items() if k not in ("met", "most_kept")} for t in json.loads(out)["targets"]]
    assert mine == leeway


def test_first_screen_of_the_example_fits_a_terminal_of_24_lines(review):
    _, out, _ = review(BEDS, BEDS_DIARY)
    first = out.split("\n\n")[0].splitlines()
    assert len(first) <= 24
    labels = [line[:14].strip() for line in first[2:] if line[0] != " "]
    assert labels == [
        "Noted",
        "Goal",
        "Last 4 weeks",
        "Next morning",
        "Flare",
        "Exercises",
        "To ask",
        "To decide",
        "Next date",
    ]


@pytest.mark.parametrize("diary", DIARIES, ids=lambda path: path.stem)
@pytest.mark.parametrize("width", [46, 60, 80, 120])
def test_no_line_is_wider_than_the_terminal(review, diary, width, monkeypatch):
    monkeypatch.chdir(PEOPLE)
    code, out, _ = review(diary.with_suffix(".plan").name, diary.name, width=width)
    assert code == 0
    assert max(columns(line) for line in out.splitlines()) <= width


def test_what_is_always_said(review):
    _, out, _ = review(BEDS, BEDS_DIARY)
    said = " ".join(out.split())
    for words in (
        "Nobody watches this diary. Notes are shown, not understood.",
        "diary up to 9 May 2027",
        "reported, not measured",
        "Arithmetic on this plan's own assumptions, not a prognosis.",
        "Assumed: 1 flare in 8 weeks",
        "that is not a statement that the plan is safe",
        "None switched off, none waived.",
        "Free text is not understood.",
    ):
        assert words in said
    assert " 10 rules ran on 1 file" in said
    assert "warning signs" not in said


def test_findings_of_the_diary_rules_are_told_and_fail_nothing(review):
    code, out, _ = review(PEOPLE / "p047-lamp-room.plan", PEOPLE / "p047-lamp-room.diary")
    assert code == 0
    assert "over-the-limit-twice" in out
    _, out, _ = review(PEOPLE / "p047-lamp-room.plan", PEOPLE / "p047-lamp-room.diary", "--json")
    assert "over-the-limit-twice" in [f["rule"] for f in json.loads(out)["findings"]]


def test_today_is_an_option(review):
    _, out, _ = review(BEDS, BEDS_DIARY, "--today", "2027-03-28", "--json")
    answer = json.loads(out)
    assert answer["as_of"] == "2027-03-28"
    assert answer["sessions"]["due"] == 9
    assert review(BEDS, BEDS_DIARY, "--today", "28 March")[0] == 2


def test_plan_that_can_not_be_reckoned_is_a_one(review, tmp_path):
    path = tmp_path / "a.plan"
    path.write_text('plan "Nothing"\n  for P-014\n  lasts 6 weeks\n')
    code, out, err = review(path, BEDS_DIARY)
    assert (code, out) == (1, "")
    assert "There is no review until that is put right" in err
    code, out, _ = review(path, BEDS_DIARY, "--json")
    answer = json.loads(out)
    assert code == 1
    assert (answer["plan"], answer["targets"], answer["sessions"]) == (None, [], {"done": 0, "due": 0, "blank": 0})


@pytest.mark.parametrize("missing", [0, 1])
def test_file_that_is_not_there_is_a_one_that_says_which(review, tmp_path, missing):
    names = [BEDS, BEDS_DIARY]
    names[missing] = tmp_path / "gone.plan"
    code, out, err = review(*names)
    assert (code, out) == (1, "")
    assert "gone.plan" in " ".join(err.split())


def test_another_persons_diary_is_a_wrong_call(review):
    code, _, err = review(BEDS, PEOPLE / "p047-lamp-room.diary")
    assert code == 2
    assert "P-047's diary" in err
    assert "--diary" not in err


def test_line_that_can_not_be_read_is_told_and_the_rest_reviewed(review, tmp_path):
    diary = tmp_path / "a.diary"
    diary.write_text(BEDS_DIARY.read_text() + "2027-05-09 wlaked 4 steps\n")
    code, out, _ = review(BEDS, diary, width=120)
    assert code == 0
    assert "unreadable" in out
    assert "24 of 26 done" in out
    assert "Not judged" in out


def test_next_block_is_a_new_plan_that_is_read_whole(review, tmp_path):
    written = tmp_path / "next.plan"
    code, out, _ = review(BEDS, BEDS_DIARY, "--next-block", written)
    assert code == 0
    assert "next.plan" in out
    plan, findings = read_plan(Source("next.plan", written.read_text()))
    assert plan is not None
    assert findings == ()
    assert plan.draft
    assert plan.continues == "p014-allotment.plan"
    assert dose_text(plan.exercise("sit-to-stand").steps[0].dose) == "3x10"
    assert [t.title for t in plan.targets] == ["Rise from the dining chair with a weight"]
    # "from step 5" of five steps, of which the first three are behind: the weight is needed from the second on.
    assert [(k.text, k.from_step) for k in plan.sessions[0].kit] == [("sturdy chair", None), ("2 kg weight", 2)]


def test_next_block_never_takes_the_place_of_a_file(review, tmp_path):
    written = tmp_path / "next.plan"
    written.write_text("mine\n")
    code, out, err = review(BEDS, BEDS_DIARY, "--next-block", written)
    assert (code, out) == (2, "")
    assert "is there already" in err
    assert written.read_text() == "mine\n"


@pytest.mark.parametrize(("option", "name"), [("--html", "a.pdf"), ("--next-block", "a.txt")])
def test_wrong_endings_are_wrong_calls(review, tmp_path, option, name):
    code, _, err = review(BEDS, BEDS_DIARY, option, tmp_path / name)
    assert code == 2
    assert "ends in" in err
    assert not (tmp_path / name).exists()


def test_page_is_written_beside_the_text(review, tmp_path):
    code, out, _ = review(BEDS, BEDS_DIARY, "--html", tmp_path / "a.html")
    assert code == 0
    assert out.startswith("Two raised beds by spring")
    assert "<!DOCTYPE html>" in (tmp_path / "a.html").read_text("utf-8")


def test_page_in_a_folder_that_is_not_there_is_a_wrong_call(review, tmp_path):
    code, _, err = review(BEDS, BEDS_DIARY, "--html", tmp_path / "no" / "a.html")
    assert code == 2
    assert "can't be written" in err


def test_plan_from_a_template_is_reviewed_and_its_next_block_stands_by_itself(review, tmp_path):
    (tmp_path / "clinic.yaml").write_text("clinic: Made up\n")
    (tmp_path / "knee.plan").write_text(KNEE)
    (tmp_path / "lib.plan").write_text(LIBRARY)
    (tmp_path / "p.plan").write_text(PLAN)
    made, _ = read_plan(Source("p.plan", PLAN))
    assert made is not None
    lines = [f"diary for {made.code}"]
    lines += [f'2027-03-{day:02} done "Chair and hinge" morning 2/10' for day in (1, 3, 5, 8, 10, 12, 15, 17, 19)]
    (tmp_path / "p.diary").write_text("\n".join(lines) + "\n")
    code, out, err = review(tmp_path / "p.plan", tmp_path / "p.diary", "--next-block", tmp_path / "next.plan", "--json")
    assert (code, err) == (0, "")
    answer = json.loads(out)
    assert answer["sessions"]["done"] == 9
    plan, findings = read_plan(Source("next.plan", (tmp_path / "next.plan").read_text()))
    assert plan is not None
    assert [f.message for f in findings if f.rule in ("unreadable", "contradiction")] == []
    assert plan.exercise("sit-to-stand").steps[0].dose == made_step(answer)


@pytest.mark.parametrize("name", ["p014-allotment", "p047-lamp-room", "p062-lock-gates"])
def test_next_block_is_tidy_and_keeps_nothing_of_how_its_plan_was_put_together(review, tmp_path, name):
    own = BEDS.with_name(f"{name}.plan")
    written = tmp_path / "next.plan"
    assert review(own, own.with_suffix(".diary"), "--next-block", written)[0] == 0
    text = written.read_text("utf-8")
    assert tidy(Source("next.plan", text)).text == text
    remarks = re.findall("#.*", own.read_text("utf-8"))
    assert [remark for remark in re.findall("#.*", text) if remark not in remarks] == []
    assert not re.search("^ *(fill|from template|use library|leave out exercise|change|ladder) ", text, re.MULTILINE)


def made_step(answer):
    """The dose at which the review has the exercise stand."""
    said = next(one for one in answer["exercises"] if one["name"] == "sit-to-stand")
    text = f'plan "x"\nexercise sit-to-stand\n  kind strength\n  begin {said["dose"]} "chair"\n'
    plan, _ = read_plan(Source("x.plan", text))
    return plan.exercise("sit-to-stand").steps[0].dose


def test_the_command_stands_in_the_list(capsys):
    assert run(["--help"]) == 0
    assert "review" in capsys.readouterr().out
