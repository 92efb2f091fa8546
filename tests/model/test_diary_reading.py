"""Diaries read into entries: every statement, marks, one finding for a slip, and the order of lines without effect."""

from __future__ import annotations

import random
from datetime import date
from fractions import Fraction

import pytest

from planlang.model.diary import Diary, What
from planlang.model.exercise import Joint
from planlang.model.quantity import Quantity
from planlang.model.reading import read_diary
from planlang.text.finding import Finding
from planlang.text.source import Source

EVERY_LINE = """\
2027-03-01 done "Chair and bench" before 2/10 during 4/10 morning 3/10 effort 5/10
2027-03-03 done "Chair and bench" except tandem-stance, knee-bends
2027-03-05 part "Chair and bench" of sit-to-stand
2027-03-05 part "Chair and bench"
2027-03-06 extra "Chair and bench"
2027-03-06 extra walking 20 min
2027-03-08 not done "Chair and bench" because life "visitors"
2027-03-08 not done "Chair and bench" because flare
2027-03-10 moved "Chair and bench" to 2027-03-11
2027-03-15 rest
2027-03-15 rest for hand, left
2027-03-16 flare of knee, right
2027-03-16 flare
2027-03-22 flare over
2027-04-05 illness "a cold"
2027-04-09 illness over
2027-04-12 pause "waiting for the result of a scan"
2027-04-19 pause over
2027-03-16 pain 6/10
2027-03-17 morning 4/10
2027-03-22 walked 3400 steps
2027-03-23 walked 2 km
2027-03-24 walked 25 min
2027-04-27 did "ask the Saturday crew when they start"
2027-04-02 did cycling 15 min
2027-04-26 kept "boots and band by the door at night" 5 days
2027-04-27 kept "boots and band by the door at night"
2027-04-26 measured chair-stands 11 reps
2027-04-26 measured pain 3/10
2027-05-02 told "calf sore and swollen" by P-014
2027-05-02 acted "sent to same-day clinic" by T-03
2027-05-02 sign calf-clot "since this morning" reported 2027-05-03
2027-05-04 fell "on the path, no harm done"
2027-05-04 gave way
2027-04-26 confidence 6/10
2027-04-26 worry "the stairs at the station"
2027-04-26 note "rain all week"
2027-04-26 new medicine "a tablet for blood pressure"
2027-04-27 new operation "cataract"
steps from "p014-steps.csv"
"""


def read(lines: str) -> tuple[Diary | None, tuple[Finding, ...]]:
    return read_diary(Source("p014.diary", f"diary for P-014\n{lines}\n"))


def one(line: str):
    """The one entry of a line that reads without a finding."""
    diary, findings = read(line)
    assert [f.message for f in findings] == []
    assert diary is not None
    (entry,) = diary.entries
    return entry


def test_every_line_reads_and_every_kind_of_entry_is_among_them():
    diary, findings = read(EVERY_LINE)
    assert [f.message for f in findings] == []
    assert diary is not None
    assert diary.code == "P-014"
    assert len(diary.entries) == len(EVERY_LINE.splitlines()) - 1
    assert [s.file for s in diary.steps] == ["p014-steps.csv"]
    assert {e.what for e in diary.entries} == set(What)
    assert (diary.first, diary.last) == (date(2027, 3, 1), date(2027, 5, 4))


def test_a_session_with_its_pains():
    entry = one('2027-03-01 done "Chair and bench" before 2/10 during 4/10 morning 3/10 effort 13/20')
    assert (entry.what, entry.name, entry.day) == (What.DONE, "Chair and bench", date(2027, 3, 1))
    assert (entry.before, entry.during, entry.morning) == (2, 4, 3)
    assert (entry.effort, entry.effort_of) == (13, 20)


def test_who_wrote_it_and_when():
    entry = one('2027-03-01 told "calf sore" reported 2027-03-09 by P-014')
    assert (entry.reported, entry.by, entry.known_on) == (date(2027, 3, 9), "P-014", date(2027, 3, 9))


@pytest.mark.parametrize(
    ("line", "because", "text"),
    [
        ('not done "A" because flare', "flare", None),
        ('not done "A" because life "visitors"', "life", "visitors"),
        ('not done "A" because "the boiler"', None, "the boiler"),
        ('missed "A" because illness', "illness", None),
        ('not done "A"', None, None),
    ],
)
def test_why_a_session_was_not_done(line, because, text):
    entry = one(f"2027-03-05 {line}")
    assert (entry.what, entry.name, entry.because, entry.text) == (What.NOT_DONE, "A", because, text)


def test_a_joint_with_its_side():
    assert one("2027-03-15 rest for hand, left").joint == Joint("hand", "left")
    assert one("2027-03-15 flare of knee").joint == Joint("knee")
    assert one("2027-03-15 rest").joint is None


@pytest.mark.parametrize(
    ("said", "value"),
    [("3400 steps", Quantity(Fraction(3400), "steps")), ("2 km", Quantity(Fraction(2), "km"))],
)
def test_what_was_walked_keeps_its_unit(said, value):
    assert one(f"2027-03-22 walked {said}").value == value


def test_another_name_of_a_measure_is_put_right():
    assert one("2027-03-22 measured chair-stand 11 reps").name == one("2027-03-22 measured chair-stands 11 reps").name


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ('2027-03-05 kept "x" 9 days', "A week has no 9 days."),
        ('2027-03-05 done "A" morning 3/10 morning 4/10', "`morning` is said twice here."),
        ('2027-03-05 done "A" during 12/10', "12/10 is more than its scale holds."),
        ("2027-03-05 pain 4/5", "4/5: a rating here is out of 10."),
        ('2027-02-30 note "x"', "There is no 2027-02-30 in the calendar."),
        ("2027-03-05 walked 3.5 steps", "3.5 steps: these are counted whole."),
        ("begin 2x8", '"begin" belongs under'),
    ],
)
def test_one_fault_is_one_finding_on_its_line(line, words):
    diary, findings = read(f'2027-03-01 note "before"\n{line}\n2027-03-06 note "after"')
    assert [words in f.message for f in findings] == [True]
    assert diary is not None
    assert findings[0].span is not None
    assert diary.source.place(findings[0].span).line == 3
    assert [e.text for e in diary.of(What.NOTE) if e.text in ("before", "after")] == ["before", "after"]


def test_a_day_that_can_not_be_read_is_no_entry_and_the_diary_knows_it():
    diary, findings = read("2027-03-05 slept badly")
    assert len(findings) == 1
    assert diary is not None
    assert (diary.entries, diary.unread) == ((), True)


@pytest.mark.parametrize(
    "text", ["", 'plan "x"\n  lasts 3 weeks\n', "for P-014\n2027-03-01 rest\n", "diary for Anna\n"]
)
def test_a_file_without_a_diary_is_one_finding(text):
    diary, findings = read_diary(Source("x.diary", text))
    assert diary is None
    assert len(findings) == 1
    assert "Anna" not in findings[0].message + findings[0].advice


def test_two_diaries_in_a_file_contradict():
    diary, findings = read("diary for P-015\n2027-03-01 rest")
    assert diary is not None
    assert [f.message for f in findings] == ["A file holds one diary."]


@pytest.mark.parametrize("seed", range(5))
def test_the_order_of_the_lines_makes_no_difference(seed):
    lines = EVERY_LINE.splitlines()
    random.Random(seed).shuffle(lines)
    assert read("\n".join(lines))[0] == read(EVERY_LINE)[0]
