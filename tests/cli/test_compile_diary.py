"""`planlang compile --diary`, called as a clinician calls it."""

from __future__ import annotations

import json
from pathlib import Path

import icalendar
import pytest

from planlang.cli.main import run
from tests.calendar.made import text_of

PLAN = text_of("five-weeks")


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    (tmp_path / "one.plan").write_text(PLAN, "utf-8")
    return tmp_path


def compiled(desk: Path, *lines: str, code: str = "P-021", more: tuple[str, ...] = ()) -> tuple[int, Path]:
    (desk / "one.diary").write_text(f"diary for {code}\n" + "".join(f"{line}\n" for line in lines), "utf-8")
    out = desk / "one.ics"
    return run(["compile", str(desk / "one.plan"), "-o", str(out), "--diary", str(desk / "one.diary"), *more]), out


DONE = [f'2027-03-{d:02} done "Chair and bench"' for d in (1, 3, 5)]


def test_it_follows_and_says_how_many_easier_weeks_there_were(desk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = compiled(desk, *DONE, "2027-03-08 rest")
    assert code == 0
    assert "12 sessions in 4 training weeks, 1 easier week" in capsys.readouterr().out
    summaries = [str(e["SUMMARY"]) for e in icalendar.Calendar.from_ical(out.read_bytes()).events]
    assert summaries.count("Easier week") == 1


def test_the_person_is_told_that_nothing_is_lost(desk: Path) -> None:
    _, out = compiled(desk, *DONE, "2027-03-08 rest")
    text = " ".join(str(e["DESCRIPTION"]) for e in icalendar.Calendar.from_ical(out.read_bytes()).events)
    assert "This week is part of the plan. Nothing is lost." in text
    assert "Welcome back" in text


def test_a_second_calendar_needs_no_new_revision_and_a_third_is_the_same(desk: Path) -> None:
    first = desk / "first.ics"
    assert run(["compile", str(desk / "one.plan"), "-o", str(first)]) == 0
    code, out = compiled(desk, *DONE, "2027-03-08 rest", more=("--previous", str(first)))
    assert code == 0
    second = out.read_bytes()
    events = icalendar.Calendar.from_ical(second).events
    assert sum(str(e["STATUS"]) == "CANCELLED" for e in events) == 3
    code, out = compiled(desk, *DONE, "2027-03-08 rest", more=("--previous", str(out)))
    assert (code, out.read_bytes()) == (0, second)


def test_the_json_counts_what_moved(desk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    compiled(desk, *DONE, "2027-03-08 rest", more=("--json",))
    told = json.loads(capsys.readouterr().out)
    assert told["sequence"] == 1000
    assert told["moves"] >= 1
    assert told["kinds"]["easier week"] == 1


def test_an_open_sign_refuses_and_writes_nothing(desk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = compiled(desk, '2027-03-02 told "calf sore and swollen" by P-021')
    assert code == 1
    assert not out.exists()
    assert "open-red-flag" in capsys.readouterr().err
    code, out = compiled(desk, '2027-03-02 told "calf sore and swollen" by P-021', '2027-03-02 acted "sent on" by T-03')
    assert (code, out.exists()) == (0, True)


def test_a_line_that_cannot_be_read_refuses_with_its_place(desk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = compiled(desk, "2027-03-02 dnoe something")
    assert (code, out.exists()) == (1, False)
    assert "one.diary" in capsys.readouterr().err


@pytest.mark.parametrize("more", [("--rest", "2"), ("--today", "yesterday")])
def test_a_wrong_call_is_a_two(desk: Path, more: tuple[str, str]) -> None:
    assert compiled(desk, *DONE, more=more)[0] == 2


def test_another_persons_diary_is_a_wrong_call(desk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert compiled(desk, *DONE, code="P-022")[0] == 2
    assert "P-022" in capsys.readouterr().err


def test_a_diary_that_is_not_there_is_said(desk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = run(["compile", str(desk / "one.plan"), "-o", str(desk / "one.ics"), "--diary", str(desk / "none.diary")])
    assert code == 1
    assert "Traceback" not in capsys.readouterr().err
