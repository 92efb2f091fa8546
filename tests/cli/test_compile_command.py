"""`planlang compile`, called as a clinician calls it."""

from __future__ import annotations

import json
from pathlib import Path

import icalendar
import pytest

from planlang.cli.main import run

PLANS = Path(__file__).parents[1] / "calendar" / "plans"
CLINIC = """clinic: Riverside physiotherapy
contacts:
  emergency: "112"
  same-day: "03 5550 0101"
  clinic: "03 5550 0100"
calendar-key-file: .calendar-key
zone: Australia/Hobart
"""


@pytest.fixture
def clinic(tmp_path: Path) -> Path:
    (tmp_path / "clinic.yaml").write_text(CLINIC, "utf-8")
    (tmp_path / ".calendar-key").write_text("made up for a test\n", "utf-8")
    return tmp_path


def plan(folder: Path, *changes: tuple[str, str]) -> Path:
    text = (PLANS / "two-raised-beds.plan").read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = folder / "one.plan"
    path.write_text(text, "utf-8")
    return path


def compiled(path: Path, *more: str) -> tuple[int, Path]:
    out = path.with_suffix(".ics")
    return run(["compile", str(path), "-o", str(out), *more]), out


def test_it_writes_the_calendar_and_says_how_many_sessions(clinic: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = compiled(plan(clinic))
    said = capsys.readouterr().out
    assert code == 0
    assert len(icalendar.Calendar.from_ical(out.read_bytes()).events) == 76
    assert "45 sessions in 15 training weeks, 9 more if no easier week is needed" in said
    assert "can't be recalled" in said
    assert "Free text is not understood." in said


def test_the_json_counts_the_entries(clinic: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = compiled(plan(clinic), "--json")
    told = json.loads(capsys.readouterr().out)
    assert code == 0
    assert told["file"] == str(out)
    assert told["entries"] == 76
    assert told["kinds"]["session"] == 45
    assert told["sequence"] == 1000
    assert (told["first"], told["last"]) == ("2027-03-01", "2027-07-04")


def test_the_clinics_numbers_stand_in_the_entries(clinic: Path) -> None:
    _, out = compiled(plan(clinic))
    text = out.read_bytes().replace(b"\r\n ", b"")
    assert b"emergency number 112" in text
    assert b"03 5550 0101" in text


def test_without_a_clinics_file_no_number_is_guessed(tmp_path: Path) -> None:
    code, out = compiled(plan(tmp_path))
    assert code == 0
    assert b"your local emergency number" in out.read_bytes().replace(b"\r\n ", b"")


def test_the_clinics_key_changes_the_identities_and_a_lint_line_asks_for_one(
    clinic: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = plan(clinic)
    _, out = compiled(path)
    with_key = {str(e["UID"]) for e in icalendar.Calendar.from_ical(out.read_bytes()).events}
    (clinic / ".calendar-key").unlink()
    capsys.readouterr()
    _, out = compiled(path)
    assert "calendar-key-missing" in capsys.readouterr().out
    assert not with_key & {str(e["UID"]) for e in icalendar.Calendar.from_ical(out.read_bytes()).events}


def test_the_clinics_zone_holds_where_the_plan_names_none(clinic: Path) -> None:
    code, out = compiled(plan(clinic, ("  zone       Australia/Hobart\n", "")))
    assert code == 0
    assert b"TZID:Australia/Hobart" in out.read_bytes()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("lasts      18 weeks", "lasts      18 weaks"), "unreadable"),
        (("clear      yes for moderate", "clear      no"), "screening-not-clear"),
        (("clear      yes for moderate", "clear      waiting"), "screening-not-clear"),
        (("revision   1", "revision   1\n  state draft"), "state-draft"),
        (
            ("review every 4 weeks", 'pause all from 2027-03-08 because "in hospital"\nreview every 4 weeks'),
            "pause-all",
        ),
        (("calendar full", "calendar none"), "calendar-not-agreed"),
        (("  easier     1x6", "  begin      3x6\n  easier     1x6"), "contradiction"),
    ],
)
def test_it_refuses_with_the_line_and_writes_nothing(
    clinic: Path, capsys: pytest.CaptureFixture[str], change: tuple[str, str], said: str
) -> None:
    code, out = compiled(plan(clinic, change))
    told = capsys.readouterr().err
    assert code == 1
    assert not out.exists()
    assert said in told
    assert "line " in told
    assert "No calendar was written" in told


def test_it_refuses_what_was_written_in_the_future_of_today(clinic: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = compiled(plan(clinic), "--today", "2027-02-20")
    assert code == 1
    assert not out.exists()
    assert "2027-02-22" in capsys.readouterr().err
    assert compiled(plan(clinic), "--today", "2027-02-22")[0] == 0


def test_a_refusal_in_json_holds_the_findings(clinic: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, _ = compiled(plan(clinic, ("calendar full", "calendar none")), "--json")
    told = json.loads(capsys.readouterr().out)
    assert code == 1
    assert told["file"] is None
    assert [f["rule"] for f in told["findings"]] == ["calendar-not-agreed"]
    assert told["findings"][0]["line"] == 18


def test_a_second_version_cancels_what_is_gone(clinic: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, out = compiled(plan(clinic))
    second = plan(clinic, ("revision   1", "revision   2"), ("Mon, Wed, Fri", "Mon, Fri"))
    code, out = compiled(second, "--previous", str(out))
    assert code == 0
    assert "18 cancelled" in capsys.readouterr().out
    events = icalendar.Calendar.from_ical(out.read_bytes()).events
    assert sum(str(e["STATUS"]) == "CANCELLED" for e in events) == 18


def test_a_change_without_a_new_revision_leaves_the_old_file_as_it_was(
    clinic: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, out = compiled(plan(clinic))
    before = out.read_bytes()
    code, out = compiled(plan(clinic, ("Mon, Wed, Fri", "Mon, Fri")), "--previous", str(out))
    assert code == 1
    assert out.read_bytes() == before
    assert "Write `revision 2`" in " ".join(capsys.readouterr().err.split())


def test_easier_weeks_that_came_are_placed(clinic: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = compiled(plan(clinic), "--rest", "9")
    assert code == 0
    assert b"SUMMARY:Easier week" in out.read_bytes()


@pytest.mark.parametrize(
    "more",
    [
        ("-o", "calendar.txt"),
        ("-o", "nowhere/at/all.ics"),
        ("--previous", "not-there.ics"),
        ("--rest", "40"),
        ("--today", "01/03/2027"),
    ],
)
def test_a_wrong_call_is_a_two_and_one_sentence(
    clinic: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, more: tuple[str, str]
) -> None:
    monkeypatch.chdir(clinic)
    path = plan(clinic)
    arguments = ["compile", str(path), *(() if more[0] == "-o" else ("-o", str(clinic / "one.ics"))), *more]
    assert run(arguments) == 2
    assert "Traceback" not in capsys.readouterr().err
    assert not (clinic / "one.ics").exists()


def test_another_plans_calendar_is_a_wrong_call(clinic: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, out = compiled(plan(clinic, ("P-014", "P-015")))
    code, _ = compiled(plan(clinic, ("revision   1", "revision   2")), "--previous", str(out))
    assert code == 2
    assert "another plan's" in " ".join(capsys.readouterr().err.split())


def test_a_faulty_clinics_file_is_a_wrong_call(clinic: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (clinic / "clinic.yaml").write_text('contacts:\n  emergancy: "112"\n', "utf-8")
    code, out = compiled(plan(clinic))
    assert code == 2
    assert not out.exists()
    assert "emergency" in capsys.readouterr().err


def test_an_empty_key_is_a_wrong_call(clinic: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (clinic / ".calendar-key").write_text("\n", "utf-8")
    assert compiled(plan(clinic))[0] == 2
    assert "empty" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["missing.plan", "."])
def test_a_plan_that_is_not_there_is_said(clinic: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    assert run(["compile", str(clinic / name), "-o", str(clinic / "one.ics")]) == 1
    assert "Traceback" not in capsys.readouterr().err


def test_the_plan_itself_is_never_overwritten(clinic: Path) -> None:
    path = plan(clinic).rename(clinic / "plan.ics")
    before = path.read_bytes()
    assert run(["compile", str(path), "-o", str(path)]) == 2
    assert path.read_bytes() == before
