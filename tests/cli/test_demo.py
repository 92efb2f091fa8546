"""`planlang demo`: a made-up clinic that one can go on working in."""

import json
import subprocess
from pathlib import Path

import pytest

from planlang.cli.console import plan_at
from planlang.cli.main import run

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def demo(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)

    def call(*args):
        code = run(["demo", *args])
        return code, *capsys.readouterr()

    return call


def test_demo_writes_a_clinic_and_runs_the_commands(demo, tmp_path):
    code, out, _ = demo("clinic")
    assert code == 0
    for command in (
        "lint clinic/people clinic/drafts",
        "lint clinic/library/templates/knee-middle.plan",
        "weeks clinic/people/p014-allotment.plan",
        "compile clinic/people/p014-allotment.plan",
        "caseload clinic/people",
        "review clinic/people/p014-allotment.plan clinic/people/p014-allotment.diary",
    ):
        assert f"$ planlang {command}" in out
    assert "no person, clinic or number in it is real" in out
    for name in ("clinic.yaml", ".gitignore", "library/rules/riverside", "people/p014-allotment.ics"):
        assert (tmp_path / "clinic" / name).exists()


def test_people_are_not_taken_into_git(demo, tmp_path):
    demo("clinic")
    subprocess.run(["git", "init", "-q", "clinic"], cwd=tmp_path, check=True)
    done = subprocess.run(
        ["git", "ls-files", "-o", "--exclude-standard"],
        cwd=tmp_path / "clinic",
        capture_output=True,
        text=True,
        check=True,
    )
    taken = done.stdout.split()
    assert "clinic.yaml" in taken
    assert not [name for name in taken if "people" in name or "key" in name]


def test_demo_writes_into_no_folder_that_holds_something(demo, tmp_path):
    (tmp_path / "clinic").mkdir()
    (tmp_path / "clinic" / "a.txt").write_text("x")
    code, out, err = demo("clinic")
    assert (code, out) == (2, "")
    assert "Name a new folder" in err
    assert [p.name for p in (tmp_path / "clinic").iterdir()] == ["a.txt"]


def test_two_demos_are_the_same_bytes(demo, tmp_path):
    demo("one")
    demo("two")
    for path in (tmp_path / "one").rglob("*"):
        other = tmp_path / "two" / path.relative_to(tmp_path / "one")
        assert path.is_dir() or path.read_bytes() == other.read_bytes()


def test_json_says_what_was_done(demo):
    code, out, _ = demo("clinic", "--json")
    answer = json.loads(out)
    assert code == 0
    assert answer["folder"] == "clinic"
    assert "people/p014-allotment.plan" in answer["files"]
    assert [done["command"][1] for done in answer["ran"]] == ["lint", "lint", "weeks", "compile", "caseload", "review"]


@pytest.mark.parametrize(
    "path", sorted([*EXAMPLES.glob("people/*.plan"), *EXAMPLES.glob("library/*.plan")]), ids=lambda path: path.stem
)
def test_every_example_is_read_without_a_finding(path):
    plan, result = plan_at(str(path))
    assert plan is not None
    assert [(f.rule, f.message) for f in result.findings] == []


TOLD = {
    "p014-allotment": set(),
    "p047-lamp-room": {"over-the-limit-twice", "good-day-overrun"},
    "p062-lock-gates": set(),
}


@pytest.mark.parametrize(("name", "rules"), TOLD.items(), ids=TOLD)
def test_a_diary_of_the_examples_tells_what_its_story_is(name, rules, demo, tmp_path, capsys):
    demo("clinic")
    run(["lint", f"clinic/people/{name}.diary", "--json"])
    assert {f["rule"] for f in json.loads(capsys.readouterr().out)["findings"]} == rules


def test_an_example_made_from_a_template_says_what_it_is_made_of():
    plan, _ = plan_at(str(EXAMPLES / "people" / "p047-lamp-room.plan"))
    assert plan.goal.title == "Take visitors up to the lamp room, all 96 stairs"
    assert [c.side for c in plan.about] == ["left"]
    assert plan.exercise("heel-raise") is None
    assert [s.name for s in plan.sessions] == ["Chair and step", "Tower stairs"]
    assert plan.exercise("stair-practice").steps[0].dose.variant.startswith("four stairs")
