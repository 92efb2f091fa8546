"""`planlang weeks --diary`: what happened in the weeks, in words, in JSON, and wrong calls."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from planlang.cli.main import run

PEOPLE = Path(__file__).parents[2] / "examples" / "people"
ALLOTMENT = PEOPLE / "p014-allotment.plan"
DIARY = PEOPLE / "p014-allotment.diary"


@pytest.fixture
def weeks(capsys, monkeypatch):
    def call(*args):
        monkeypatch.setenv("COLUMNS", "80")
        code = run(["weeks", *map(str, args)])
        return code, *capsys.readouterr()

    return call


def written(folder, text, name="p014.diary"):
    path = folder / name
    path.write_text(text, "utf-8")
    return path


def test_the_allotment_diary_moves_the_weeks_to_come(weeks):
    code, out, _ = weeks(ALLOTMENT, "--diary", DIARY, "--json")
    answer = json.loads(out)
    assert code == 0
    assert answer["findings"] == []
    assert [week["kind"] for week in answer["weeks"]][:4] == ["training", "training", "rest", "training"]
    steps = [week["exercises"].get("sit-to-stand", {}).get("step") for week in answer["weeks"]]
    assert steps[:10] == [1, 1, None, 0, 1, 2, 2, 3, 3, 4]
    assert answer["past"] == {
        "as_of": "2027-05-09",
        "sessions": {"done": 24, "due": 26, "blank": 0},
        "rest": {"taken": 1, "left": 2},
        "stays": {"walking": [10]},
        "joint_rests": {},
        "gentle_days": ["2027-04-26"],
    }


def test_the_same_in_words(weeks):
    code, out, _ = weeks(ALLOTMENT, "--diary", DIARY)
    assert code == 0
    assert "Sessions done up to 9 May 2027, reported, not measured: 24 of 26 due.\n1 of 3 easier weeks taken.\n" in out
    assert "walking stays a week longer after week 10: less than half of it was done.\n" in out
    assert "Gentle days instead of sessions: 26 Apr 2027.\n" in out


def test_today_looks_back_from_an_earlier_day(weeks):
    _, out, _ = weeks(ALLOTMENT, "--diary", DIARY, "--today", "2027-03-14", "--json")
    past = json.loads(out)["past"]
    assert (past["as_of"], past["rest"]) == ("2027-03-14", {"taken": 0, "left": 3})
    assert past["sessions"] == {"done": 5, "due": 6, "blank": 0}


def test_rest_places_easier_weeks_to_come(weeks):
    code, out, _ = weeks(ALLOTMENT, "--diary", DIARY, "--rest", "12", "--json")
    kinds = [week["kind"] for week in json.loads(out)["weeks"]]
    assert (code, kinds[2], kinds[11]) == (0, "rest", "rest")


def test_an_easier_week_in_a_week_that_is_told_is_a_wrong_call(weeks):
    code, out, err = weeks(ALLOTMENT, "--diary", DIARY, "--rest", "2")
    assert (code, out) == (2, "")
    assert "week 2 is told by the diary; with it, place easier weeks from week 11 on" in err


def test_more_easier_weeks_than_there_is_room_for_move_the_dates(weeks, tmp_path):
    lines = "\n".join(f"2027-03-{day:02d} rest" for day in (1, 8, 15, 22))
    _, out, _ = weeks(ALLOTMENT, "--diary", written(tmp_path, f"diary for P-014\n{lines}\n"))
    assert "4 easier weeks taken, with room for 3: the dates need to move.\n" in out


def test_what_does_not_go_with_the_plan_is_said_and_the_weeks_are_shown(weeks, tmp_path):
    path = written(tmp_path, 'diary for P-014\n2027-03-01 done "Chair and bnch"\n')
    code, out, _ = weeks(ALLOTMENT, "--diary", path)
    assert code == 0
    assert 'The plan has no session "Chair and bnch"; the line counts nowhere.' in out
    assert "0 of 1 due; of 1 nothing\nis written.\n" in out


@pytest.mark.parametrize(
    ("text", "said"),
    [("", "empty"), ("hello\n", "holds no diary"), ("diary for Anna\n", "People are codes here")],
)
def test_a_file_that_is_no_diary_shows_no_weeks(weeks, tmp_path, text, said):
    code, out, err = weeks(ALLOTMENT, "--diary", written(tmp_path, text))
    assert (code, out) == (1, "")
    assert said in err


def test_a_diary_that_is_not_there_shows_no_weeks(weeks, tmp_path):
    code, out, _ = weeks(ALLOTMENT, "--diary", tmp_path / "nowhere.diary", "--json")
    answer = json.loads(out)
    assert (code, answer["weeks"]) == (1, [])
    assert [f["rule"] for f in answer["findings"]] == ["unreadable"]


def test_another_persons_diary_is_a_wrong_call(weeks):
    code, _, err = weeks(ALLOTMENT, "--diary", PEOPLE / "p062-lock-gates.diary")
    assert code == 2
    assert "it is P-062's diary, and the plan is P-014's" in err


def test_a_date_that_is_none_is_a_wrong_call(weeks):
    code, _, err = weeks(ALLOTMENT, "--diary", DIARY, "--today", "05/03/2027")
    assert code == 2
    assert '"05/03/2027" is no date' in err
