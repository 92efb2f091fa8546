"""`planlang leeway`: the fixed JSON, the verdicts in words, the picture, the exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from planlang.cli.main import run
from planlang.report.quoting import columns

EXAMPLES = sorted((Path(__file__).parents[2] / "examples" / "people").glob("*.plan"))
ALLOTMENT = next(path for path in EXAMPLES if "allotment" in path.name)
NOT_RECKONED = 'plan "Nothing"\n  lasts 6 weeks\n'


@pytest.fixture
def leeway(capsys, monkeypatch):
    def call(*args, width=80):
        monkeypatch.setenv("COLUMNS", str(width))
        code = run(["leeway", *map(str, args)])
        return code, *capsys.readouterr()

    return call


def changed(tmp_path, *changes):
    text = ALLOTMENT.read_text(encoding="utf-8")
    for before, after in changes:
        assert before in text
        text = text.replace(before, after)
    path = tmp_path / "changed.plan"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_allotment_plan_gives_the_fixed_json(leeway):
    """The example of the page that fixes names and fields, to the last digit."""
    code, out, _ = leeway(ALLOTMENT, "--json")
    answer = json.loads(out)
    targets = answer.pop("targets")
    assert code == 0
    assert answer == {
        "plan": "Two raised beds by spring",
        "as_of": None,
        "allowance": 3,
        "rest_used": 0,
        "rest_left": 3,
        "expect": {"flares": 1, "weeks": 8, "lasting": 1, "varies": None, "default": False},
        "enough_rest": 0.8441,
        "rest_weeks_used": [0.0624, 0.2166, 0.3153, 0.2499, 0.1171, 0.0329, 0.0054, 0.0005, 0.0, 0.0],
        "room_needed": {"80": 3, "95": 4},
    }
    assert targets[0] == {
        "name": "Rise from the dining chair with a weight",
        "by": "2027-07-04",
        "verdict": "always",
        "reason": None,
        "earliest": "2027-04-26",
        "latest": "2027-06-28",
        "worst_rest": [3, 6, 9],
        "margin": 3,
        "chance": 0.9296,
        "met_by": {"50": "2027-05-17", "80": "2027-06-07", "95": None},
    }
    assert [target["verdict"] for target in targets] == ["always", "open", "open"]


def test_an_open_target_has_a_reason_and_no_chance(leeway):
    _, out, _ = leeway(ALLOTMENT, "--json")
    habit = json.loads(out)["targets"][1]
    assert habit["reason"].startswith("a habit")
    assert (habit["chance"], habit["met_by"]) == (None, {"50": None, "80": None, "95": None})


def test_published_rates_are_told_from_the_plans_own(leeway, tmp_path):
    _, out, _ = leeway(changed(tmp_path, ("  expect     1 flare in 8 weeks lasting 1 week\n", "")), "--json")
    assert json.loads(out)["expect"] == {"flares": 1, "weeks": 13, "lasting": 1, "varies": 1, "default": True}


def test_for_the_hip_they_are_borrowed_from_the_knee(leeway, tmp_path):
    path = changed(
        tmp_path, ("  expect     1 flare in 8 weeks lasting 1 week\n", ""), ("about      knee", "about      hip")
    )
    assert json.loads(leeway(path, "--json")[1])["expect"]["note"] == "borrowed from the knee"
    assert "borrowed from the knee" in " ".join(leeway(path)[1].split())


def test_without_rates_there_are_verdicts_only(leeway, tmp_path):
    path = changed(
        tmp_path, ("  expect     1 flare in 8 weeks lasting 1 week\n", ""), ("about      knee", "about      hand")
    )
    answer = json.loads(leeway(path, "--json")[1])
    assert (answer["expect"], answer["enough_rest"], answer["rest_weeks_used"], answer["room_needed"]) == (None,) * 4
    assert answer["targets"][0]["chance"] is None
    text = " ".join(leeway(path)[1].split())
    assert "No chances, verdicts only. No rate of flares is published for hand osteoarthritis" in text
    assert "prognosis" not in text


def test_the_text_says_what_holds_and_what_the_chances_assume(leeway):
    code, out, err = leeway(ALLOTMENT)
    text = " ".join(out.split())
    assert (code, err) == (0, "")
    for said in (
        "Holds wherever the 3 easier weeks fall.",
        "First on 26 Apr 2027, at the latest on 28 Jun 2027.",
        "Hardest weeks for it: 3, 6 and 9.",
        "Chance by its date 93 %; 50 % by 17 May 2027, 80 % by 7 Jun 2027, 95 % not within the plan.",
        "Assumed: 1 flare in 8 weeks lasting 1 week, everyone alike: the plan's own `expect` line.",
        "Arithmetic on this plan's own assumptions, not a prognosis.",
        "No verdict says that a plan is safe.",
    ):
        assert said in text


def test_the_text_says_where_the_rest_must_not_fall(leeway, tmp_path):
    text = " ".join(leeway(changed(tmp_path, ("2027-07-04", "2027-06-16")))[1].split())
    assert "Not yet by its date if easier weeks fall in weeks 3, 6 and 9: then 12 days later." in text


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_no_line_is_wider_than_the_terminal(leeway, path, width):
    _, out, _ = leeway(path, width=width)
    assert max(columns(line) for line in out.splitlines()) <= width


@pytest.mark.parametrize("json_flag", [[], ["--json"]], ids=["text", "json"])
def test_a_plan_that_cannot_be_reckoned_is_a_one(leeway, tmp_path, json_flag):
    path = tmp_path / "nothing.plan"
    path.write_text(NOT_RECKONED)
    code, out, err = leeway(path, *json_flag)
    assert code == 1
    if json_flag:
        assert json.loads(out)["targets"] == []
    else:
        assert "can't be reckoned" in err


def test_a_file_that_is_not_there_is_a_one_with_the_fixed_fields(leeway, tmp_path):
    code, out, _ = leeway(tmp_path / "gone.plan", "--json")
    answer = json.loads(out)
    assert code == 1
    assert (answer["plan"], answer["targets"]) == (None, [])
    assert answer["findings"][0]["rule"] == "unreadable"


def test_the_picture_is_written_whole_and_the_same_each_time(leeway, tmp_path):
    one, other = tmp_path / "one.svg", tmp_path / "other.svg"
    assert leeway(ALLOTMENT, "--svg", one)[0] == 0
    leeway(ALLOTMENT, "--svg", other)
    assert one.read_bytes() == other.read_bytes()
    assert one.read_text(encoding="utf-8").startswith("<svg ")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["one.svg", "other.svg"]


def test_a_picture_that_cannot_be_written_is_a_wrong_call(leeway, tmp_path):
    code, out, err = leeway(ALLOTMENT, "--svg", tmp_path / "no-such-folder" / "a.svg")
    assert (code, out) == (2, "")
    assert "can't be written" in err
