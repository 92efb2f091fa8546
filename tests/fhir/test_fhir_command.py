"""`planlang fhir`, called as a clinician calls it."""

import json
from pathlib import Path

import pytest

from planlang.cli.main import run
from tests.fhir.fhir_made import ALLOTMENT
from tests.fhir.fhir_readers import everything

CLINIC = """clinic: Riverside physiotherapy
contacts: {emergency: "112", same-day: "03 5550 0101", clinic: "03 5550 0100"}
calendar-key-file: .calendar-key
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    (tmp_path / "clinic.yaml").write_text(CLINIC, "utf-8")
    (tmp_path / ".calendar-key").write_text("made up for a test\n", "utf-8")
    path = tmp_path / "one.plan"
    path.write_text(ALLOTMENT, "utf-8")
    return path


def written(path: Path, *more: str) -> tuple[int, Path]:
    out = path.with_suffix(".json")
    return run(["fhir", str(path), "-o", str(out), *more]), out


def test_it_writes_a_bundle_and_says_what_is_in_it(plan, capsys):
    code, out = written(plan)
    said = capsys.readouterr().out
    assert code == 0
    assert everything(json.loads(out.read_text("utf-8"))) == {}
    assert "a care plan, 4 goals, 4 requests" in said
    assert "that is not a statement that the plan is safe" in " ".join(said.split())


def test_json_counts_the_resources(plan, capsys):
    code, _ = written(plan, "--json", "--notes")
    told = json.loads(capsys.readouterr().out)
    assert code == 0
    assert told["resources"] == {"CarePlan": 1, "Goal": 4, "ServiceRequest": 4}
    assert told["notes"] is True


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("clear      yes for moderate", "clear      no", "screening-not-clear"),
        ("settle     within 24 hours", "settle by next mornig", "unreadable"),
        ('plan "Two raised beds by spring"', 'plan "Two raised beds by spring"\n state draft', "state-draft"),
    ],
    ids=["not clear", "unreadable", "draft"],
)
def test_it_refuses_as_the_calendar_does(plan, capsys, old, new, rule):
    assert old in ALLOTMENT
    plan.write_text(ALLOTMENT.replace(old, new), "utf-8")
    code, out = written(plan, "--json")
    rules = {f["rule"] for f in json.loads(capsys.readouterr().out)["findings"]}
    assert run(["compile", str(plan), "-o", str(plan.with_suffix(".ics"))]) == code == 1
    assert not out.exists()
    assert rule in rules


def test_a_plan_for_nobody_is_refused(plan, capsys):
    plan.write_text(ALLOTMENT.replace("  for        P-014, aged 67\n", ""), "utf-8")
    code, out = written(plan)
    assert code == 1
    assert "No bundle was written" in capsys.readouterr().err
    assert not out.exists()


@pytest.mark.parametrize("more", [["--system", "not a uri"], ["-o", "x.xml"]], ids=["system", "ending"])
def test_a_wrong_call_is_told(plan, more, capsys):
    assert written(plan, *more)[0] == 2


def test_an_operation_of_a_person_with_todays_date_blocks_a_plan_written_later(plan):
    assert written(plan, "--today", "2027-02-01")[0] == 1
    assert written(plan, "--today", "2027-02-22")[0] == 0
