"""Who is on the list, in which order, and how it is shown."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from planlang.cli.caseload import command

PLAN = """\
plan "Stairs without the rail"
  for {code}, aged 71
  about knee osteoarthritis, right
  starts 2027-03-01
  lasts 8 weeks
  revision 1
screening 2027-02-20
  by T-03
agreed 2027-02-25 calendar discreet, diary yes
today
  usual-pain 3/10
target "Up to the hall"
  by 2027-04-25
  reach {reach} in step-up
rest
  room for 2 weeks
  still do knee-bends 2x10 twice a day
pain
  accept up to 5/10 during
  settle by next morning
exercise step-up
  kind strength
  works quadriceps
  begin 2x6
  then 2x8
  then 3x8
  progress every {pace}
session "Hall"
  days Mon, Thu
  do step-up
review every 4 weeks
"""
DONE = "\n".join(f'2027-03-{day:02} done "Hall"' for day in (1, 4, 8, 11, 15, 18))
DIARIES = {
    "P-101": DONE,  # nothing to say
    "P-102": f'{DONE}\n2027-03-18 told "calf sore and swollen" by P-102',
    "P-103": '2027-03-01 done "Hall"\n2027-03-02 flare\n2027-03-17 pain 5/10',
    "P-104": f"{DONE}\n2027-03-10 fell",
    "P-105": f"{DONE}\n".replace('08 done "Hall"', '08 done "Hall" during 6/10')
    .replace('18 done "Hall"', '18 done "Hall" during 7/10')
    .replace('15 done "Hall"', '15 done "Hall" during 7/10')
    .replace('11 done "Hall"', '11 done "Hall" during 7/10'),
    "P-106": '2027-03-01 done "Hall"',
}
REASONS = {
    "P-101": [],
    "P-102": ["open-flag"],
    "P-103": ["flare"],
    "P-104": ["fall"],
    "P-105": ["over-the-limit"],
    "P-106": ["no-news"],
}


@pytest.fixture
def people(tmp_path: Path) -> Path:
    (tmp_path / "clinic.yaml").write_text("clinic: made up\ncontacts: {emergency: '112', same-day: '1', clinic: '2'}\n")
    folder = tmp_path / "people"
    folder.mkdir()
    for code, lines in DIARIES.items():
        pace = "3 weeks" if code == "P-105" else "2 weeks"
        (folder / f"{code.lower()}.plan").write_text(PLAN.format(code=code, reach="2x6", pace=pace))
        (folder / f"{code.lower()}.diary").write_text(f"diary for {code}\n{lines}\n")
    return folder


def listed(*args: str) -> dict[str, object]:
    result = CliRunner().invoke(command, [*args, "--json"], standalone_mode=False)
    assert result.exception is None, result.output
    answer: dict[str, object] = json.loads(result.output)
    return answer


def kinds(answer: dict[str, object]) -> dict[str, list[str]]:
    return {one["code"]: one["kinds"] for one in answer["people"]}  # type: ignore[attr-defined]


def test_each_reason_puts_a_person_on_the_list(people: Path) -> None:
    assert kinds(listed(str(people))) == REASONS


def test_the_order_is_that_of_what_should_not_wait(people: Path) -> None:
    assert list(kinds(listed(str(people)))) == ["P-102", "P-103", "P-104", "P-105", "P-106", "P-101"]


def test_the_last_day_of_any_diary_is_looked_back_from_unless_one_is_given(people: Path) -> None:
    assert listed(str(people))["as_of"] == "2027-03-18"
    later = listed(str(people), "--today", "2027-05-10")
    assert later["as_of"] == "2027-05-10"
    assert all("past-its-dates" in found for found in kinds(later).values())


def test_no_news_is_silent_in_rest_and_away_weeks(people: Path) -> None:
    plan = people / "p-106.plan"
    plan.write_text(plan.read_text() + 'away 2027-03-02 to 2027-03-17 "the coast"\n')
    assert kinds(listed(str(people)))["P-106"] == []


def test_a_target_that_hangs_on_the_easier_weeks_is_said_with_its_date(people: Path) -> None:
    plan = people / "p-101.plan"
    text = plan.read_text().replace("reach 2x6", "reach 3x8").replace("by 2027-04-25", "by 2027-04-06")
    plan.write_text(text)
    (one,) = [p for p in listed(str(people))["people"] if p["code"] == "P-101"]  # type: ignore[attr-defined]
    assert one["kinds"] == ["target-not-always"]
    assert "hangs on where the easier weeks fall" in one["reasons"][0]


def test_two_running_plans_are_one_line_and_said(people: Path) -> None:
    (people / "second.plan").write_text(
        PLAN.format(code="P-101", reach="2x6", pace="2 weeks").replace("Stairs", "Steps")
    )
    answer = listed(str(people))
    assert [p["code"] for p in answer["people"]].count("P-101") == 1  # type: ignore[attr-defined]
    assert "two-plans" in kinds(answer)["P-101"]


def test_what_cannot_be_read_comes_first_and_stops_nothing(people: Path) -> None:
    (people / "p-101.diary").write_text('diary for P-101\n2027-03-01 dnoe "Hall"\n')
    (people / "broken.plan").write_bytes(b"\xff\xfeplan")
    answer = listed(str(people))
    assert next(iter(kinds(answer))) == "P-101"
    assert kinds(answer)["P-101"][0] == "cannot-be-read"
    assert len(kinds(answer)) == len(REASONS)


def test_a_rule_that_the_clinic_turned_off_puts_nobody_on_the_list(people: Path) -> None:
    clinic = people.parent / "clinic.yaml"
    clinic.write_text(clinic.read_text() + "rules:\n  no-news: {off: 'we ring everybody monthly'}\n")
    answer = listed(str(people))
    assert kinds(answer)["P-106"] == []
    assert answer["off"] == ["no-news"]


def test_a_person_without_a_diary_is_looked_at_by_the_plans_dates(people: Path) -> None:
    (people / "p-102.diary").unlink()
    assert kinds(listed(str(people)))["P-102"] == ["no-news"]


def test_the_table_is_read_by_a_csv_reader(people: Path) -> None:
    result = CliRunner().invoke(command, [str(people), "--format", "csv"], standalone_mode=False)
    rows = list(csv.DictReader(io.StringIO(result.output)))
    assert [row["code"] for row in rows] == ["P-102", "P-103", "P-104", "P-105", "P-106", "P-101"]
    assert all(not row["why on the list"].startswith(("=", "+", "-", "@")) for row in rows)


BANNED = (
    r"\b(score|rank|risk|adheren\w*|complian\w*|non-complian\w*|missed|late|behind|lapse\w*|overdue|failed|failure)\b"
)


def test_nothing_blames_and_nothing_scores(people: Path) -> None:
    page = people.parent / "list.html"
    result = CliRunner().invoke(
        command, [str(people), "--html", str(page), "--today", "2027-05-10"], standalone_mode=False
    )
    for text in (result.output, re.sub(r"<style>.*?</style>", "", page.read_text(), flags=re.DOTALL)):
        assert re.findall(BANNED, text, re.IGNORECASE) == []
        assert "Nobody watches these diaries" in text


def test_the_page_is_whole_and_needs_nothing_beside_itself(people: Path) -> None:
    page = people.parent / "list.html"
    CliRunner().invoke(command, [str(people), "--html", str(page)], standalone_mode=False)
    text = page.read_text()
    assert not re.search(r"<script|https?://|url\(|src=", text)
    assert text.count("<main>") == 1
    assert text.startswith('<!DOCTYPE html>\n<html lang="en"')


def test_a_folder_without_people_is_a_wrong_call(tmp_path: Path) -> None:
    (tmp_path / "class.plan").write_text('plan "For everybody"\n')
    result = CliRunner().invoke(command, [str(tmp_path)])
    assert result.exit_code == 2
    assert "says whose it is" in result.output
