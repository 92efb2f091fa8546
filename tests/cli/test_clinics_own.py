"""A clinic's own rules, measures and conditions on the command line, with the clinic that comes as an example."""

import io
import json
import shutil
import sys
from pathlib import Path

import jsonschema
import pytest

from planlang.checking.clinic import rulebook
from planlang.cli.main import run

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
SCHEMA = ROOT / "tests" / "report" / "schemas" / "sarif-2.1.0-rtm.5.json"
PACK = "library/rules/riverside"
GRIP = f"{PACK}/grip-not-measured.yaml"
SEATED = "library/seated-class.plan"
PERSON = """\
plan "The blue scarf off the loom"
  for P-077, aged 63
  about hand osteoarthritis, both
  starts 2027-05-03
  lasts 12 weeks
  written 2027-04-28
today
  usual-pain 3/10
"""
WAIVER = 'waive grip-not-measured by T-03 because "too sore to squeeze" until 2027-06-01\n'


@pytest.fixture
def clinic(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    # without the templates: each is gone through for everybody, which takes its time and is no matter here
    shutil.copytree(EXAMPLES / "library", tmp_path / "library", ignore=shutil.ignore_patterns("templates"))
    shutil.copy(EXAMPLES / "clinic.yaml", tmp_path)
    (tmp_path / ".calendar-key").write_text("made up", "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def planlang(capsys: pytest.CaptureFixture[str]):
    def call(*words: str) -> tuple[int, str, str]:
        code = run(words)
        return code, *capsys.readouterr()

    return call


def changed(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


def found(out: str) -> list[str]:
    return [f["rule"] for f in json.loads(out)["findings"]]


def test_house_rules_run_beside_the_built_in_ones(clinic, planlang):
    code, out, _ = planlang("lint", "library", "--json")
    assert code == 0
    assert json.loads(out)["rules"] == len(rulebook()[0].rules) + 2
    assert not {"unknown-word", "grip-not-measured", "class-overruns-the-hall"} & set(found(out))
    changed(clinic / SEATED, "  grip-strength  16 kg\n", "")
    changed(clinic / "library/monday-class.plan", "for 45 min", "for 60 min")
    assert {"grip-not-measured", "class-overruns-the-hall"} <= set(found(planlang("lint", "library", "--json")[1]))


@pytest.mark.parametrize("pack", ["library/rules", PACK])
def test_a_pack_is_tested_by_its_folder_or_the_one_above(pack, clinic, planlang):
    code, out, _ = planlang("rules", "test", pack)
    assert (code, out) == (0, "5 examples of 2 rules, all as they should be.\n")


def test_a_pack_is_tested_with_its_own_clinics_data_from_anywhere(clinic, planlang, monkeypatch):
    monkeypatch.chdir("/")
    code, out, _ = planlang("rules", "test", str(clinic / PACK))
    assert (code, out) == (0, "5 examples of 2 rules, all as they should be.\n")


def test_an_example_that_fails_is_one(clinic, planlang):
    changed(clinic / GRIP, "      grip-strength 14 kg\n", "      usual-pain 3/10\n")
    code, out, _ = planlang("rules", "test", PACK)
    assert code == 1
    assert "grip-not-measured, clean example 1: it is flagged on line 2" in out
    answer = json.loads(planlang("rules", "test", PACK, "--json")[1])
    assert [(f["rule"], f["kind"], f["number"]) for f in answer["failures"]] == [("grip-not-measured", "clean", 1)]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"grip-strength"', '"grip-strenght"', 'no measure is called "grip-strenght". Did you mean "grip-strength"?'),
        ("[hand osteoarthritis]", "[hand ostheoarthritis]", 'Did you mean "hand osteoarthritis"?'),
        ("limits: >-", "limts: >-", 'nothing here is called "limts". Did you mean "limits"?'),
        ("no baseline", "no baselin", 'no list is called "baselin". Did you mean "baseline"?'),
        ("no baseline where its measure", f"{'(' * 1000}no baseline where its measure", "nested more than 40 deep"),
        ("no baseline where its measure", "its length > 99999999999999999 weeks and no baseline where its measure",
         "too large to be meant"),
        ("since:", "x: &x [1]\ny: *x\nsince:", "used twice by an alias"),
        ("level: incomplete", "level: incomplete\nlevel: advice", 'the key "level" stands twice here'),
    ],
)  # fmt: skip
@pytest.mark.parametrize("command", [("rules", "test", PACK), ("lint", "library"), ("rules", "list")])
def test_a_wrong_rule_is_two_and_nothing_runs(command, old, new, told, clinic, planlang):
    changed(clinic / GRIP, old, new)
    code, out, err = planlang(*command)
    assert (code, out) == (2, "")
    assert "grip-not-measured.yaml:" in err
    assert told in err


def test_a_wrong_clinic_file_is_two_for_several_processes_too(clinic, planlang):
    changed(clinic / "clinic.yaml", "first contact: 5 weeks", "first contact: 50 weeks")
    told = 'clinic.yaml:13:49: "50 weeks" is outside what can be set here. It may be from 2 weeks to 8 weeks.'
    for jobs in ("1", "2"):
        code, out, err = planlang("lint", "library", "--jobs", jobs)
        assert (code, out) == (2, "")
        assert told in err


@pytest.mark.parametrize("command", ["weeks", "leeway", "mend"])
def test_other_commands_know_the_clinics_words(command, clinic, planlang):
    code, out, _ = planlang(command, SEATED, "--json")
    assert code == 0
    assert "unknown" not in out
    changed(clinic / "clinic.yaml", "library/measures.yaml", "library/nowhere.yaml")
    code, _, err = planlang(command, SEATED)
    assert code == 2
    assert 'there is no file "library/nowhere.yaml" in the library' in err


def test_house_rules_are_listed_and_explained(clinic, planlang):
    _, out, _ = planlang("rules", "list")
    assert "\nriverside\n  class-overruns-the-hall  (incomplete, common practice, 2026-11-25)\n" in out
    assert "A clinic answers for its own packs." in " ".join(out.split())
    code, out, _ = planlang("explain", "class-overruns-the-hall")
    assert code == 0
    assert 'its minutes are more than "longest class" (50 min)' in out
    assert "- house rule of Riverside physiotherapy (made up): common practice, no source" in out


def test_a_changed_setting_and_level_say_what_was_written(clinic, planlang):
    changed(
        clinic / "clinic.yaml",
        "  first-review-late:",
        "  class-overruns-the-hall: {level: advice}\n  first-review-late:",
    )
    assert "first contact: 5 weeks here, 6 weeks as written (from 2 weeks to 8 weeks)" in " ".join(
        planlang("explain", "first-review-late")[1].split()
    )
    assert "class-overruns-the-hall  (advice here, incomplete as written," in planlang("rules", "list")[1]


def test_a_pack_long_unread_says_so_by_today_only(clinic, planlang):
    assert "24 months" not in planlang("rules", "list")[1]
    assert "24 months" not in planlang("rules", "list", "--today", "2028-11-01")[1]
    assert (
        "\nriverside\n  This pack was not reviewed for 24 months.\n"
        in planlang("rules", "list", "--today", "2028-12-26")[1]
    )
    changed(clinic / GRIP, 'reviewed: "2026-11-25"', 'reviewed: "2028-10-01"')
    out = planlang("rules", "list", "--today", "2028-12-26")[1]
    assert "\nriverside\n  1 of these 2 rules was not reviewed for 24 months.\n" in out
    rules = json.loads(planlang("rules", "list", "--today", "2028-12-26", "--json")[1])["rules"]
    assert {r["name"]: r["overdue"] for r in rules if r["pack"] == "riverside"} == {
        "class-overruns-the-hall": True,
        "grip-not-measured": False,
    }


def test_the_clinic_is_found_from_the_name_of_standard_input(clinic, planlang, monkeypatch):
    people = clinic / "people"
    people.mkdir()
    for name, rules in (("people/x.plan", ["grip-not-measured"]), ("/x.plan", [])):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(PERSON.encode())))
        out = planlang("lint", "-", "--stdin-filename", name, "--json")[1]
        assert [rule for rule in found(out) if rule == "grip-not-measured"] == rules


def test_a_waiver_of_a_house_rule_is_listed_in_every_format(clinic, planlang):
    (clinic / "people").mkdir()
    (clinic / "people" / "p.plan").write_text(PERSON + WAIVER, "utf-8")
    for name in ("text", "json", "sarif", "junit", "github"):
        out = planlang("lint", "people", "--format", name, "--today", "2027-05-01")[1]
        outside = name in ("sarif", "junit", "github")
        assert ("too sore to squeeze" in out) is not outside
        assert "T-03" in out
        assert "grip-not-measured" in out
    assert "too sore to squeeze" in planlang("lint", "people", "--format", "github", "--quote")[1]


def test_sarif_of_a_persons_file_is_valid_and_quotes_nothing(clinic, planlang):
    (clinic / "people").mkdir()
    (clinic / "people" / "p.plan").write_text(PERSON + WAIVER, "utf-8")
    log = json.loads(planlang("lint", str(clinic / "people"), "--format", "sarif")[1])
    jsonschema.validate(log, json.loads(SCHEMA.read_text("utf-8")))
    (result,) = (r for r in log["runs"][0]["results"] if r["ruleId"] == "grip-not-measured")
    assert result["locations"][0]["physicalLocation"]["artifactLocation"] == {"uri": "people/p.plan"}
    assert result["suppressions"] == [
        {"kind": "inSource", "status": "accepted", "justification": "by T-03 until 2027-06-01"}
    ]
    assert result["message"]["text"].startswith("A plan for the hands without a first grip strength")
    for words in ("scarf", "squeeze", "P-077"):
        assert words not in json.dumps(log)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["lint", "nowhere.plan"], "There is no file nowhere.plan."),
        (["lint", "library/seated-clas.plan"], 'Did you mean "library/seated-class.plan"?'),
        (["lint", "library/rules"], "There is no file that ends in .plan"),
        (["lint", "library", "-"], "Standard input (-) is checked by itself"),
        (["lint", "library", "--fail-on", ""], "it names no level"),
        (["lint", "library", "--packs", "library"], "lies too deep to be found"),
        (["rules", "test", "library/measures.yaml"], "There is no pack or folder"),
        (["explain", "grip-not-measurd"], 'Did you mean "grip-not-measured"?'),
    ],
)
def test_a_wrong_call_says_what_is_wrong(words, told, clinic, planlang):
    (clinic / "library" / "rules" / "deep" / "deeper").mkdir(parents=True)
    if "--packs" in words:
        (clinic / "library" / "rules" / "deep" / "deeper" / "x.yaml").write_text("title: x\n", "utf-8")
    code, out, err = planlang(*words)
    assert (code, out) == (2, "")
    assert told in " ".join(err.split())


def test_a_file_of_another_clinic_can_be_named(clinic, planlang):
    (clinic / "other.yaml").write_text("rules: {no-cue: {off: fixed times}}\n", "utf-8")
    answer = json.loads(planlang("lint", "library", "--packs", "other.yaml", "--json")[1])
    assert (answer["rules"], answer["off"]) == (len(rulebook()[0].rules) - 1, {"no-cue": "fixed times"})


def test_a_pack_named_twice_runs_once(clinic, planlang):
    code, out, _ = planlang("lint", "library", "--packs", "library/rules", "--json")
    assert (code, json.loads(out)["rules"]) == (0, len(rulebook()[0].rules) + 2)
