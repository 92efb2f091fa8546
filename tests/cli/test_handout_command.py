"""`planlang handout`, called as a clinician calls it."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from planlang.cli.main import run

PLAN = Path(__file__).parents[2] / "examples" / "people" / "p014-allotment.plan"
CLINIC = """clinic: Riverside physiotherapy
contacts:
  emergency: "112"
  same-day: "03 5550 0101"
  clinic: "03 5550 0100"
calendar-key-file: .calendar-key
"""


@pytest.fixture
def clinic(tmp_path: Path) -> Path:
    (tmp_path / "clinic.yaml").write_text(CLINIC, "utf-8")
    (tmp_path / ".calendar-key").write_text("made up for a test\n", "utf-8")
    return tmp_path


def plan(folder: Path, *changes: tuple[str, str]) -> Path:
    text = PLAN.read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = folder / "one.plan"
    path.write_text(text, "utf-8")
    return path


def page_of(out: Path) -> str:
    """The page, its spaces that may not be broken as others."""
    return out.read_text("utf-8").replace("\u00a0", " ")


def handed(path: Path, *more: str, ending: str = ".html") -> tuple[int, Path]:
    out = path.with_suffix(ending)
    return run(["handout", str(path), "-o", str(out), *more]), out


def test_it_writes_the_page_of_the_first_week(clinic, capsys):
    code, out = handed(plan(clinic))
    said = capsys.readouterr().out
    assert code == 0
    page = page_of(out)
    assert page.startswith("<!DOCTYPE html>")
    assert "Week from Mon 1 Mar to 7 Mar 2027" in page
    assert "To be seen today: 03 5550 0101" in page
    assert "the sheet for week 1, from 2027-03-01" in said
    assert "can't be recalled: a safety change needs a call" in said
    assert "Free text is not understood." in said


def test_it_writes_a_pdf(clinic):
    code, out = handed(plan(clinic), ending=".pdf")
    assert code == 0
    assert out.read_bytes().startswith(b"%PDF-1.7")


@pytest.mark.parametrize(
    ("more", "week"),
    [
        (("--week", "5"), 5),
        (("--today", "2027-03-30"), 5),
        (("--today", "2027-02-25"), 1),
        (("--today", "2027-07-04"), 18),
        (("--today", "2027-03-30", "--week", "7"), 7),
        ((), 1),
    ],
)
def test_the_week_is_the_one_that_is_asked_for(clinic, capsys, more, week):
    code, _ = handed(plan(clinic), "--json", *more)
    told = json.loads(capsys.readouterr().out)
    assert code == 0
    assert told["week"] == week


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--week", "19"), "the plan has weeks 1 to 18"),
        (("--today", "2027-07-05"), "the plan ended on 2027-07-04"),
        (("--week", "0"), "0"),
        (("--rest", "19"), "19"),
    ],
)
def test_a_week_outside_the_plan_is_a_wrong_call(clinic, capsys, more, said):
    code, out = handed(plan(clinic), *more)
    assert code == 2
    assert said in capsys.readouterr().err
    assert not out.exists()


def test_an_easier_week_is_told_as_one(clinic):
    code, out = handed(plan(clinic), "--rest", "4", "--week", "4")
    assert code == 0
    assert "This is an easier week." in page_of(out)


def test_large_is_eighteen_points(clinic, capsys):
    code, out = handed(plan(clinic), "--large", "--json")
    assert code == 0
    assert json.loads(capsys.readouterr().out)["points"] == 18
    assert "font-size: 18pt" in page_of(out)


@pytest.mark.parametrize(
    "change",
    [
        ("  room for   3 weeks ", "  room for   3 weeks\n  room for   4 weeks # "),
        ("  revision   1", "  revision   1\n  state draft"),
        ("  clear      yes for moderate", "  clear      waiting"),
        ("  begin      2x6 ", "  begin      2xsix "),
        ("review every 4 weeks", 'review every 4 weeks\npause all from 2027-04-01 because "fever"'),
    ],
)
def test_what_blocks_a_calendar_blocks_the_sheet(clinic, capsys, change):
    path = plan(clinic, change)
    code, out = handed(path)
    said = capsys.readouterr().err
    assert code == 1
    assert not out.exists()
    assert "No sheet was written: nothing goes to the person until that is put right." in said
    assert ", line " in said
    assert run(["compile", str(path), "-o", str(path.with_suffix(".ics"))]) == 1


def test_a_person_without_a_calendar_may_have_a_sheet(clinic):
    code, out = handed(plan(clinic, ("calendar full", "calendar none")))
    assert code == 0
    assert out.exists()


def test_what_was_there_stays_when_it_refuses(clinic):
    path = plan(clinic, ("  revision   1", "  revision   1\n  state draft"))
    path.with_suffix(".html").write_text("the old one", "utf-8")
    assert handed(path)[0] == 1
    assert path.with_suffix(".html").read_text("utf-8") == "the old one"


def test_a_plan_without_weeks_has_no_sheet(clinic, capsys):
    code, _ = handed(plan(clinic, ("  lasts      18 weeks\n", "")))
    assert code == 1
    assert "there is no week to put on a sheet" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["sheet.docx", "sheet", "one.plan"])
def test_another_ending_is_a_wrong_call(clinic, capsys, name):
    path = plan(clinic)
    assert run(["handout", str(path), "-o", str(clinic / name)]) == 2
    assert "a sheet's name ends in .html or .pdf" in capsys.readouterr().err


def test_another_language_says_what_stands_in_english(clinic, capsys):
    code, out = handed(plan(clinic), "--language", "es", "--json")
    told = json.loads(capsys.readouterr().out)
    assert code == 0
    assert told["language"] == "es"
    assert told["not_translated"]
    assert "safety-not-translated" in {finding["rule"] for finding in told["findings"]}
    page = page_of(out)
    assert '<html lang="es" dir="ltr">' in page
    assert '<span lang="en" dir="ltr">Pain up to 5 out of 10 is fine' in page
    assert "<h2>Mi semana</h2>" in page


def test_the_plans_own_language_is_taken_where_none_is_asked_for(clinic, capsys):
    code, out = handed(plan(clinic, ("  revision   1", "  revision   1\n  language ar")), "--json")
    told = json.loads(capsys.readouterr().out)
    assert code == 0
    assert (told["language"], told["direction"]) == ("ar", "rtl")
    assert {"texts-not-translated", "safety-not-translated"} <= {finding["rule"] for finding in told["findings"]}
    page = page_of(out)
    assert '<html lang="ar" dir="rtl">' in page
    assert '<span lang="en" dir="ltr">My week</span>' in page


def test_a_language_that_is_no_code_is_said(clinic, capsys):
    path = plan(clinic, ("  revision   1", "  revision   1\n  language english"))
    code, out = handed(path, "--json", ending=".pdf")
    found = {finding["rule"]: finding for finding in json.loads(capsys.readouterr().out)["findings"]}
    assert code == 0
    assert found["language-not-known"]["line"] == 9
    assert out.exists()
    assert handed(path, "--language", "Spanish, please")[0] == 2
    assert "is no language code" in capsys.readouterr().err


def test_the_clinics_own_signed_texts_are_used(clinic, capsys):
    (clinic / "clinic.yaml").write_text(CLINIC + "languages: [es.yaml]\n", "utf-8")
    (clinic / "es.yaml").write_text(
        "language: es\nname: Spanish\ntexts: {}\nsafety:\n"
        '  call.list-emergency: {text: "Emergencia: {number}", by: "A. Made-Up", on: 2027-01-10}\n',
        "utf-8",
    )
    code, out = handed(plan(clinic), "--language", "es", "--json")
    assert code == 0
    assert "call.list-emergency" not in json.loads(capsys.readouterr().out)["not_translated"]
    assert "<li>Emergencia: 112</li>" in page_of(out)


SIGN = """language: es
name: Spanish
texts: {{}}
safety:
  {}: {{text: "x", by: "A. Made-Up", on: 2027-01-10}}
"""


@pytest.mark.parametrize(
    ("settings", "text", "said"),
    [
        ("languages: [gone.yaml]\n", "", 'there is no file "gone.yaml"'),
        ("languages: [../es.yaml]\n", "", "is outside this library"),
        ("languages: [es.yaml]\n", "language: es\n", "es.yaml:1:1: a file of texts holds"),
        ("languages: [es.yaml]\n", SIGN.format("sign.hart"), 'called so: "sign.hart". Did you mean "sign.heart"'),
        ("languages: [es.yaml]\n", SIGN.format("goal.titel"), 'no text is called "goal.titel"'),
    ],
)
def test_a_clinics_file_of_texts_that_cannot_be_used_is_said(clinic, capsys, settings, text, said):
    (clinic / "clinic.yaml").write_text(CLINIC + settings, "utf-8")
    (clinic / "es.yaml").write_text(text, "utf-8")
    code, _ = handed(plan(clinic))
    assert code == 2
    assert said in capsys.readouterr().err


@pytest.mark.parametrize(
    ("module", "ending", "more", "extra"),
    [("typst", ".pdf", (), "planlang[pdf]"), ("babel", ".html", ("--language", "es"), "planlang[i18n]")],
)
def test_what_is_not_installed_is_named_with_how_to_get_it(clinic, capsys, monkeypatch, module, ending, more, extra):
    monkeypatch.setitem(sys.modules, module, None)
    code, out = handed(plan(clinic), *more, ending=ending)
    assert code == 2
    assert f"pip install '{extra}'" in capsys.readouterr().err
    assert not out.exists()


def test_english_pages_load_neither(clinic):
    """What is heavy is imported only where it is used."""
    import subprocess

    path = plan(clinic)
    code = (
        "import sys; from planlang.cli.main import run; "
        f"assert run(['handout', {str(path)!r}, '-o', {str(path.with_suffix('.html'))!r}]) == 0; "
        "assert not {'typst', 'babel', 'icalendar'} & set(sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=PLAN.parents[2]
    )
    assert done.returncode == 0, done.stderr


def test_a_calendar_speaks_the_plans_language(clinic):
    path = plan(clinic, ("  revision   1", "  revision   1\n  language es"))
    out = path.with_suffix(".ics")
    assert run(["compile", str(path), "-o", str(out)]) == 0
    import icalendar

    texts = [str(e["DESCRIPTION"]) for e in icalendar.Calendar.from_ical(out.read_bytes()).events]
    assert any(text.startswith("Hoy, unos 35 min\nCuándo: after the breakfast dishes") for text in texts)
    assert all("Made for the person it was given to" in text for text in texts)  # a safety line, not yet translated


def test_two_runs_give_the_same_bytes(clinic):
    path = plan(clinic)
    for ending in (".html", ".pdf"):
        first = handed(path, ending=ending)[1].read_bytes()
        assert handed(path, ending=ending)[1].read_bytes() == first


DIARY = """diary for P-014
2027-03-01 done "Chair and bench"
2027-03-03 done "Chair and bench"
2027-03-05 done "Chair and bench"
2027-03-08 flare of knee, right
2027-03-14 flare over
2027-03-15 done "Chair and bench"
"""


def with_diary(folder: Path, text: str = DIARY) -> str:
    path = folder / "one.diary"
    path.write_text(text, "utf-8")
    return str(path)


def test_with_a_diary_it_is_the_sheet_of_the_day_that_was_written_last(clinic, capsys):
    code, out = handed(plan(clinic), "--diary", with_diary(clinic), "--json")
    told = json.loads(capsys.readouterr().out)
    assert code == 0
    assert (told["week"], told["kind"]) == (3, "training")
    page = page_of(out)
    assert "1 of 3 easier weeks taken." in page
    assert "Welcome back. Start one step lower on purpose:" in page


def test_the_week_of_a_flare_in_the_diary_is_an_easier_one(clinic, capsys):
    code, out = handed(plan(clinic), "--diary", with_diary(clinic), "--today", "2027-03-13", "--json")
    assert code == 0
    assert json.loads(capsys.readouterr().out)["kind"] == "rest"
    assert "This is an easier week." in page_of(out)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('2027-03-15 told "calf sore and swollen" by P-014', "nothing says what was done about it"),
        ("2027-03-15 doen", "unreadable, line 8"),
    ],
)
def test_a_diary_with_an_open_flag_or_an_unread_line_gives_nothing_out(clinic, capsys, line, said):
    code, out = handed(plan(clinic), "--diary", with_diary(clinic, f"{DIARY}{line}\n"))
    err = capsys.readouterr().err
    assert code == 1
    assert said in " ".join(err.split())
    assert "No sheet was written" in err
    assert not out.exists()


def test_a_flag_that_was_answered_stands_in_no_ones_way(clinic):
    text = DIARY + '2027-03-15 told "calf sore" by P-014\n2027-03-15 acted "seen, a strain" by T-03\n'
    assert handed(plan(clinic), "--diary", with_diary(clinic, text))[0] == 0


def test_another_persons_diary_is_a_wrong_call(clinic, capsys):
    code, _ = handed(plan(clinic), "--diary", with_diary(clinic, DIARY.replace("P-014", "P-021")))
    assert code == 2
    assert "P-021" in capsys.readouterr().err


def test_nothing_of_the_diary_stands_on_the_sheet(clinic):
    text = DIARY + '2027-03-15 worry "the neighbour\'s ladder"\n2027-03-15 note "two funerals"\n2027-03-15 pain 6/10\n'
    code, out = handed(plan(clinic), "--diary", with_diary(clinic, text))
    assert code == 0
    page = page_of(out)
    assert not any(word in page for word in ("ladder", "funerals", "6/10", "6 out of 10"))


def test_a_diary_that_is_not_there_is_said(clinic, capsys):
    code, _ = handed(plan(clinic), "--diary", str(clinic / "gone.diary"))
    assert code == 1
    assert "gone.diary" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("templates/knee-middle.plan", "template"),
        ("exercises/everyday.plan", "library"),
        ("../people/p014-allotment.diary", "diary"),
    ],
)
@pytest.mark.parametrize("command", ["handout", "compile"])
def test_what_is_no_ones_plan_is_given_to_nobody(tmp_path, capsys, name, kind, command):
    path = PLAN.parents[1] / "library" / name
    out = tmp_path / ("out.html" if command == "handout" else "out.ics")
    assert run([command, str(path), "-o", str(out)]) == 1
    assert f"this is a {kind}" in " ".join(capsys.readouterr().err.split())
    assert not out.exists()
