"""Tables of steps that a diary names: opened in the library only, where the person has agreed, never half-read."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from planlang.checking.diary_file import read_beside
from planlang.model.composing.files import InLibrary, TextFiles
from planlang.planning.looking_back import past_of
from planlang.text.source import Source
from tests.planning.plans import read, row

PLAN = """
plan "Steps"
  for P-014
  starts 2027-03-01
  lasts 8 weeks
agreed 2027-02-22 calendar discreet, diary yes
activity walking
  kind aerobic
  begin 3000 steps/day
  rise 500 steps/day every week to 5000 steps/day
"""
WEEK = "date,steps\n" + "".join(f"2027-03-0{day},{steps}\n" for day, steps in enumerate([3100, 2000, 2500], 1))


def told(lines, tables, plan=PLAN):
    """The diary of these lines, and the messages of its findings with the file that each is about."""
    source = Source("p014.diary", f"diary for P-014\n{lines}\n")
    diary, findings = read_beside(source, read(plan), None if tables is None else TextFiles(tables))
    assert diary is not None
    return diary, [(f.source.name if f.source else None, f.message) for f in findings]


def test_the_steps_of_a_device_stand_for_their_days():
    diary, said = told('steps from "p014.csv"', {"p014.csv": WEEK})
    assert said == []
    assert (diary.first, diary.last) == (date(2027, 3, 1), date(2027, 3, 3))
    past = past_of(read(PLAN), diary, date(2027, 3, 7))
    assert row(past.weeks, "walking").startswith("1 1")  # one day of three came to 3000


def test_a_line_of_the_diary_goes_before_the_device():
    lines = 'steps from "p014.csv"\n2027-03-02 walked 3200 steps'
    diary, said = told(lines, {"p014.csv": WEEK})
    assert said == []
    past = past_of(read(PLAN), diary, date(2027, 3, 7))
    assert row(past.weeks, "walking").startswith("1 2")


@pytest.mark.parametrize(
    "agreed", ["agreed 2027-02-22 calendar discreet, diary no", "agreed 2027-02-22 calendar discreet", ""]
)
def test_without_an_agreed_diary_no_table_is_opened(agreed):
    plan = PLAN.replace("agreed 2027-02-22 calendar discreet, diary yes", agreed)
    diary, said = told('steps from "p014.csv"', {"p014.csv": WEEK}, plan)
    assert diary.steps[0].days == ()
    assert said == [("p014.diary", "The steps of a device are read only where the person has agreed to a diary.")]


def test_what_is_wrong_in_a_table_is_said_on_its_own_line():
    diary, said = told('steps from "p014.csv"', {"p014.csv": WEEK + "03/04/2027,5000\n"})
    assert len(diary.steps[0].days) == 3
    assert said == [("p014.csv", "03/04/2027 is not a date that can be read in one way only.")]


def test_a_table_that_is_not_there_is_said_in_the_diary():
    _, said = told('steps from "nowhere.csv"', {})
    assert said == [("p014.diary", 'The table of steps can\'t be had: there is no file "nowhere.csv".')]


def test_another_kind_of_file_is_no_table():
    _, said = told('steps from "p014.plan"', {"p014.plan": PLAN})
    assert said == [("p014.diary", '"p014.plan" is no table of steps.')]


@pytest.mark.parametrize("name", ["../outside.csv", "/etc/hosts.csv", "link.csv"])
def test_nothing_outside_the_library_is_opened(name, tmp_path: Path):
    library = tmp_path / "library"
    library.mkdir()
    (tmp_path / "outside.csv").write_text(WEEK, "utf-8")
    (library / "link.csv").symlink_to(tmp_path / "outside.csv")
    source = Source(str(library / "p014.diary"), f'diary for P-014\nsteps from "{name}"\n')
    diary, findings = read_beside(source, read(PLAN), InLibrary(library))
    assert diary is not None
    assert diary.steps[0].days == ()
    assert ["lies outside the library" in f.message for f in findings] == [True]


def test_two_tables_that_tell_one_day_differently_are_said():
    lines = 'steps from "a.csv"\nsteps from "b.csv"'
    diary, said = told(lines, {"a.csv": "date,steps\n2027-03-01,3000\n", "b.csv": "date,steps\n2027-03-01,4000\n"})
    assert said == [("p014.diary", "2027-03-01 stands in two tables, with 3000 and 4000 steps; neither counts.")]
    assert [days for table in diary.steps for days in table.days] == []
