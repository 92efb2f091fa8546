"""The commands lint, explain and rules: what they print and their exit codes."""

import io
import json
import sys
from pathlib import Path

import pytest

from planlang.cli.main import run
from tests.checking.conftest import HEAD, RULE

PAIN = "pain\n  accept up to 4/10 during\n  settle within 24 hours\n"
REST = """\
goal "Up to the attic without the rail"
  by 2027-05-23
  because "my books are there"
target "Ask about a second rail"
  by week 3
  do "ask the landlord about a second rail"
target "Shoes by the stairs"
  by week 4
  keep "shoes by the stairs" 5 days/week
review at week 6
after "the same stairs with the laundry, from what was reached"
"""
CLEAN = HEAD + PAIN + REST
UNSAFE = HEAD + PAIN + "screening 2027-02-22\n  by T-03\n  clear no\n" + REST


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "clean.plan").write_text(CLEAN, "utf-8")
    (tmp_path / "deep").mkdir()
    (tmp_path / "deep" / "unsafe.plan").write_text(UNSAFE, "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_nothing_found_claims_nothing(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["lint", "clean.plan"]) == 0
    said = capsys.readouterr().out
    assert "none flagged; that is not a statement that the plan is safe" in " ".join(said.split())


def test_findings_at_the_failing_levels_make_one(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["lint", "."]) == 1
    assert "screening-not-clear" in capsys.readouterr().out
    assert run(["lint", ".", "--fail-on", "advice"]) == 0
    assert run(["lint", ".", "--fail-on", "none"]) == 0
    assert run(["lint", ".", "--fail-on", "advice,unsafe"]) == 1


def test_json_has_the_promised_fields(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["lint", "deep", "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert (answer["tool"], answer["files"], answer["not_judged"]) == ("planlang", 1, [])
    assert answer["rules"] >= 16
    (finding,) = answer["findings"]
    assert {k: finding[k] for k in ("file", "line", "column", "end_line", "end_column", "rule", "level", "waived")} == {
        "file": "deep/unsafe.plan",
        "line": 11,
        "column": 3,
        "end_line": 11,
        "end_column": 11,
        "rule": "screening-not-clear",
        "level": "unsafe",
        "waived": None,
    }


@pytest.mark.parametrize("format_", ["text", "json", "sarif", "junit", "github"])
def test_every_format_is_written(format_: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["lint", ".", "--format", format_]) == 1
    assert "screening-not-clear" in capsys.readouterr().out


def test_several_processes_say_the_same_as_one(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for i in range(5):
        (folder / f"more{i}.plan").write_text(UNSAFE, "utf-8")
    run(["lint", "."])
    alone = capsys.readouterr().out
    run(["lint", ".", "--jobs", "2"])
    assert capsys.readouterr().out == alone


def test_standard_input_has_the_name_that_is_given(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(UNSAFE.encode())))
    assert run(["lint", "-", "--stdin-filename", "deep/here.plan", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["findings"][0]["file"] == "deep/here.plan"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["lint", "empty"], "There is no file"),
        (["lint", ".", "--fail-on", "unsfe"], 'Did you mean "unsafe"?'),
        (["lint", ".", "--today", "soon"], "is no date"),
        (["lint", ".", "--packs", "nowhere"], "no file or folder nowhere"),
        (["lint", ".", "--packs", "empty"], "holds no rules"),
        (["explain", "no-room-for-rst"], 'Did you mean "no-room-for-rest"?'),
        (["rules", "test", "rst"], 'Did you mean "rest"?'),
    ],
)
def test_wrong_calls_are_two(words: list[str], said: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "empty").mkdir()
    assert run(words) == 2
    assert said in capsys.readouterr().err


def test_a_wrong_clinic_file_is_two_and_nothing_is_linted(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "clinic.yaml").write_text("rules:\n  no-room-for-rst: {off: x}\n", "utf-8")
    assert run(["lint", "."]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert 'clinic.yaml:2:20: there is no rule "no-room-for-rst". Did you mean "no-room-for-rest"?' in told.err


def test_a_rule_of_the_clinics_own_runs_beside_the_others(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pack = folder / "ours"
    pack.mkdir()
    (pack / "our-rule.yaml").write_text(RULE, "utf-8")
    run(["lint", "clean.plan", "--packs", "ours", "--json"])
    assert "our-rule" in [f["rule"] for f in json.loads(capsys.readouterr().out)["findings"]]


def test_rules_switched_off_are_told(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "clinic.yaml").write_text("rules:\n  no-room-for-rest: {off: short plans}\n", "utf-8")
    run(["lint", "clean.plan", "--json"])
    assert json.loads(capsys.readouterr().out)["off"] == {"no-room-for-rest": "short plans"}


def test_the_rules_own_examples_are_run(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rules", "test"]) == 0
    assert "all as they should be" in capsys.readouterr().out
    pack = folder / "ours"
    pack.mkdir()
    (pack / "our-rule.yaml").write_text(RULE, "utf-8")
    assert run(["rules", "test", "ours"]) == 1
    assert "our-rule, flagged example 1: it is not flagged" in capsys.readouterr().out


def test_the_rules_are_listed_and_say_who_reviewed_them(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rules", "list"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "no-room-for-rest (unrealistic, cohort" in said
    assert "no clinician or clinical body has reviewed them" in said
    assert run(["rules", "list", "--json"]) == 0
    rules = json.loads(capsys.readouterr().out)["rules"]
    assert set(rules[0]) >= {"name", "pack", "level", "strength", "title", "reviewed"}


def test_rules_long_unread_say_so(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(["rules", "list", "--today", "2030-01-01"])
    assert "Not reviewed for 24 months." in " ".join(capsys.readouterr().out.split())


def test_every_fact_is_listed_with_its_type_and_meaning(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rules", "facts", "--json"]) == 0
    facts = json.loads(capsys.readouterr().out)["facts"]
    length = next(f for f in facts if (f["of"], f["name"]) == ("plan", "length"))
    assert length == {
        "of": "plan",
        "name": "length",
        "type": "number",
        "unit": "week",
        "thing": None,
        "words": [],
        "meaning": "how many calendar weeks it lasts",
    }
    assert all(f["meaning"] for f in facts)
    assert run(["rules", "facts"]) == 0
    assert "length (a number of weeks): how many calendar weeks it lasts" in capsys.readouterr().out


def test_a_rule_is_explained_without_its_file(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["explain", "no-room-for-rest"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    for part in (
        "What it says, in one of its examples This plan lasts 12 weeks",
        'For the plan, if all of these hold: - its length is at least "longest without" (6 weeks) - its room is',
        "plan's room: how many easier weeks there is room for",
        "longest without: 6 weeks (from 4 weeks to 12 weeks)",
        "Why About half",
        "May miss, or flag wrongly Flare figures",
        "Rests on - Thomas et al 2021",
        "(read in a published text or table)",
        'waive no-room-for-rest by T-03 because "the reason" until 2027-05-01',
        'rules: {no-room-for-rest: {off: "the reason"}}',
        "Flagged, on the line marked",
        "Not flagged",
    ):
        assert part in said
    assert run(["explain", "no-room-for-rest", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["settings"][0] == {
        "name": "longest without",
        "value": "6 weeks",
        "as_written": "6 weeks",
        "at_least": "4 weeks",
        "at_most": "12 weeks",
        "means": "from which length on a plan should have room for an easier week",
    }


def test_the_engines_own_findings_are_explained(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["explain", "unreadable"]) == 0
    assert "It can't be waived." in capsys.readouterr().out
