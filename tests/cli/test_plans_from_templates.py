"""The commands on a plan that is made from a template, in a clinic on disk."""

from __future__ import annotations

import json

import pytest

from planlang.cli.main import run
from tests.model.composing_help import KNEE, LIBRARY, PLAN, SMALL

JUMP = "today\n  base strength 8 weeks\nchange activity walking\n  rise 1200 steps/day every week to 9000 steps/day\n"


@pytest.fixture
def plan(tmp_path):
    (tmp_path / "library").mkdir()
    (tmp_path / "people").mkdir()
    (tmp_path / "library" / "knee.plan").write_text(KNEE)
    (tmp_path / "library" / "lib.plan").write_text(LIBRARY)
    (tmp_path / "clinic.yaml").write_text("clinic: Made up\n")
    path = tmp_path / "people" / "p.plan"
    path.write_text(PLAN.replace("knee.plan", "../library/knee.plan"))
    return path


@pytest.fixture
def call(capsys, monkeypatch):
    def called(*args):
        monkeypatch.setenv("COLUMNS", "120")
        code = run([str(arg) for arg in args])
        return code, *capsys.readouterr()

    return called


def test_weeks_of_a_plan_from_a_template(call, plan):
    code, out, _ = call("weeks", plan, "--json")
    data = json.loads(out)
    assert code == 0
    assert data["findings"] == []
    assert data["weeks"][0]["exercises"]["sit-to-stand"]["dose"] == "2x6"
    assert data["weeks"][0]["activities"]["walking"]["value"] == 3200


def test_leeway_of_a_plan_from_a_template(call, plan):
    code, out, _ = call("leeway", plan, "--json")
    assert code == 0
    assert [t["name"] for t in json.loads(out)["targets"]] == ["More from the chair"]


def test_lint_says_both_lines_in_text_and_json(call, plan):
    plan.write_text(plan.read_text().replace("reps-now 6", "reps-now 14"))
    code, out, _ = call("lint", plan)
    assert code == 1
    said = " ".join(out.split())
    assert "reps-now is 14 here, and the template is made for 4 to 12." in said
    assert "knee.plan, line 5, the template asks for it here" in said
    code, out, _ = call("lint", plan, "--json")
    found = next(f for f in json.loads(out)["findings"] if f["rule"] == "contradiction")
    assert (found["file"].endswith("p.plan"), found["line"]) == (True, 6)
    assert found["related"][0]["file"].endswith("knee.plan")
    assert found["related"][0]["line"] == 5


def test_lint_takes_the_folder_whole_in_two_processes(call, plan):
    (plan.parents[1] / "library" / "knee.plan").write_text(SMALL)
    _, out, _ = call("lint", plan.parents[1], "--json", "--jobs", "2")
    data = json.loads(out)
    assert data["files"] == 3
    assert not [f for f in data["findings"] if f["rule"] in ("unreadable", "contradiction", "unreckonable")]


def test_without_clinic_file_the_plans_folder_is_the_library(call, plan):
    (plan.parents[1] / "clinic.yaml").unlink()
    code, out, _ = call("weeks", plan, "--json")
    assert code == 1
    assert "outside the library" in json.loads(out)["findings"][0]["message"]


def test_compile_refuses_what_cannot_be_put_together(call, plan, tmp_path):
    plan.write_text(plan.read_text().replace("  fill       load 2 kg\n", ""))
    code, _, err = call("compile", plan, "-o", tmp_path / "p.ics")
    assert code == 1
    assert "load (0.5 to 5 kg)" in err
    assert not (tmp_path / "p.ics").exists()


def test_compile_of_a_plan_from_a_template(call, plan, tmp_path):
    plan.write_text(plan.read_text() + "  written 2027-02-22\n  revision 1\n  zone Europe/London\n")
    code, out, err = call("compile", plan, "-o", tmp_path / "p.ics")
    assert code == 0, out + err
    assert b"BEGIN:VEVENT" in (tmp_path / "p.ics").read_bytes()


def test_mend_changes_the_plans_own_file(call, plan):
    plan.write_text(plan.read_text() + JUMP)
    code, out, _ = call("mend", plan, "--json")
    data = json.loads(out)
    assert code == 0
    number, gentler = next((n, p) for n, p in enumerate(data["proposals"], 1) if p["kind"] == "gentler rise")
    assert gentler["before"] == "rise 1200 steps/day every week to 9000 steps/day"
    lines = plan.read_text().splitlines()
    for edit in gentler["edits"]:
        if edit["end_column"] > edit["column"]:
            assert lines[edit["line"] - 1][edit["column"] - 1 : edit["end_column"] - 1] == "1200"
    code, _, _ = call("mend", plan, "--apply", number)
    after = plan.read_text()
    assert code == 0
    assert "state draft" in " ".join(after.split())
    assert "rise 1200" not in after
    assert 'from template "../library/knee.plan"' in after
    assert (plan.parents[1] / "library" / "knee.plan").read_text() == KNEE


def test_mend_says_in_the_plan_what_differs_from_the_template(call, plan):
    knee = plan.parents[1] / "library" / "knee.plan"
    _, out, _ = call("mend", plan, "--json")
    later = next(p for p in json.loads(out)["proposals"] if p["kind"] == "later date")
    assert later["before"] == "by week 10"
    assert later["after"] == 'change target "More from the chair"; by week 11'
    code, _, _ = call("mend", plan, "--apply", later["number"])
    assert code == 0
    assert plan.read_text().endswith('\nchange target "More from the chair"\n  by         week 11\n')
    assert knee.read_text() == KNEE
    _, out, _ = call("leeway", plan, "--json")
    assert [t["verdict"] for t in json.loads(out)["targets"]] == ["always"]


def test_mend_does_not_offer_what_only_the_template_could_say(call, plan):
    plan.write_text(plan.read_text() + "today\n  daily-steps 1500 steps/day\n")
    _, out, _ = call("mend", plan, "--json")
    data = json.loads(out)
    assert data["elsewhere"] == 1
    assert all("begin" not in p["before"] for p in data["proposals"])
    _, out, _ = call("mend", plan)
    assert "1 more proposal is not offered: it would change a line that comes from the" in " ".join(out.split())


def test_block_that_continues_one_from_a_template(call, plan):
    later = plan.with_name("q.plan")
    later.write_text(
        'plan "Next"\n  for P-014\n  starts 2027-05-24\n  lasts 8 weeks\n  continues "p.plan"\n'
        "activity walking\n  kind aerobic\n  begin 9000 steps/day\n  rise 300 steps/day every week to 9600 steps/day\n"
    )
    _, out, _ = call("lint", later, "--json")
    found = [f for f in json.loads(out)["findings"] if f["rule"] == "jump-between-blocks"]
    assert len(found) == 1
    assert "5000" in found[0]["message"]


def test_a_chain_of_blocks_opens_only_what_is_asked(plan, monkeypatch, call):
    from planlang.checking import beside

    text = 'plan "Block {n}"\n  starts 2027-03-01\n  lasts 6 weeks\n  continues "b{before}.plan"\n'
    for n in range(40):
        plan.with_name(f"b{n}.plan").write_text(text.format(n=n, before=n - 1))
    opened = []
    real = beside.load
    monkeypatch.setattr(beside, "load", lambda path: opened.append(path.name) or real(path))
    code, _, _ = call("lint", plan.with_name("b39.plan"))
    assert code in (0, 1)
    assert opened == ["b38.plan"]


@pytest.mark.parametrize("command", ["weeks", "leeway", "mend"])
@pytest.mark.parametrize("kind", ["template", "library"])
def test_what_is_no_plan_is_one_finding_that_says_what_it_is(call, plan, command, kind):
    path = plan.parents[1] / "library" / {"template": "knee.plan", "library": "lib.plan"}[kind]
    code, out, _ = call(command, path, "--json")
    assert code == 1
    assert [f["message"] for f in json.loads(out)["findings"]] == [f"This is a {kind}, not a plan."]
