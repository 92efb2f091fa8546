"""Where the block before ended is what its diary tells, not what was planned."""

from __future__ import annotations

from datetime import date

import pytest

from planlang.checking.beside import InFolder, InTexts
from planlang.checking.check import check
from planlang.checking.looked_back import weeks_of
from planlang.checking.rulebook import built_in
from planlang.model.reading import read_plan
from planlang.text.load import load
from planlang.text.source import Source

FIRST = """\
plan "Autumn"
  for P-014
  starts 2027-03-01
  lasts 8 weeks
exercise squat
  kind strength
  begin 2x6
  then 2x8
  then 2x10
  then 3x10
  progress every 2 weeks
session "S"
  days Mon, Thu
  do squat
"""
NEXT = """\
plan "Winter"
  for P-014
  starts {starts}
  lasts 8 weeks
  continues "first.plan"
exercise squat
  kind strength
  begin {begin}
  then 3x12
  progress every 2 weeks
session "S"
  days Mon, Thu
  do squat
"""


def diary(weeks, code="P-014"):
    days = [f'2027-03-{1 + 7 * w:02d} done "S"\n2027-03-{4 + 7 * w:02d} done "S"\n' for w in range(weeks)]
    return f"diary for {code}\n{''.join(days)}"


def jumps(begin, starts="2027-04-26", **texts):
    beside = InTexts({"first.plan": FIRST, **{f"{name}.diary": text for name, text in texts.items()}})
    text = NEXT.format(begin=begin, starts=starts)
    found = check(Source("next.plan", text), built_in(), beside=beside).findings
    return [f.message for f in found if f.rule == "jump-between-blocks"]


def test_without_a_diary_the_plan_is_taken_as_done():
    assert jumps("3x10") == []


def test_what_was_not_reached_by_the_diary_makes_it_a_jump():
    assert len(jumps("3x10", "2027-03-22", d=diary(3))) == 1
    assert jumps("2x8", "2027-03-22", d=diary(3)) == []


def test_weeks_of_which_nothing_is_written_are_a_gap():
    assert jumps("2x8", "2027-03-22", d=diary(3)) == []
    assert len(jumps("2x8", "2027-04-26", d=diary(3))) == 1


@pytest.mark.parametrize(
    "other", [diary(3, "P-015"), 'diary for P-014\n2026-03-01 done "S"\n', "diary for P-014\n", "x"]
)
def test_diary_of_somebody_else_or_of_another_time_says_nothing(other):
    assert jumps("3x10", d=other) == []


def test_weeks_end_with_the_last_in_which_something_was_done():
    plan, _ = read_plan(Source("first.plan", FIRST))
    weeks = weeks_of(plan, [Source("d.diary", diary(3))], date(2027, 4, 26))
    assert [week.number for week in weeks] == [1, 2, 3]
    assert [week.exercises["squat"].step for week in weeks] == [0, 0, 1]
    assert weeks_of(plan, [Source("d.diary", 'diary for P-014\n2027-03-01 not done "S"\n')]) == ()


def test_easier_week_of_the_diary_counts():
    plan, _ = read_plan(Source("first.plan", FIRST))
    weeks = weeks_of(plan, [Source("d.diary", diary(3) + "2027-03-09 rest\n")])
    assert [week.kind.value for week in weeks] == ["training", "rest", "training"]


def test_diary_is_found_beside_the_plan_and_read_once_asked(tmp_path):
    (tmp_path / "first.plan").write_text(FIRST)
    (tmp_path / "winter.diary").write_text(diary(3))
    (tmp_path / "other.diary").write_text(diary(8, "P-015"))
    (tmp_path / "bad.diary").write_bytes(b"\xff\xfe\x00")
    path = tmp_path / "next.plan"
    path.write_text(NEXT.format(begin="3x10", starts="2027-03-22"))
    found = check(load(path), built_in(), beside=InFolder(path, tmp_path)).findings
    assert "jump-between-blocks" in {f.rule for f in found}
    (tmp_path / "winter.diary").unlink()
    found = check(load(path), built_in(), beside=InFolder(path, tmp_path)).findings
    assert "jump-between-blocks" not in {f.rule for f in found}
