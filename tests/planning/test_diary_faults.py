"""Diary lines that can't go with their plan: one finding each, in place, with what to do, and no word of blame."""

from __future__ import annotations

import re
from datetime import date

import pytest

from planlang.model.reading import read_diary
from planlang.planning.diary_days import past_faults
from planlang.planning.diary_faults import diary_faults
from planlang.planning.looking_back import past_of
from planlang.text.finding import Level
from planlang.text.source import Source
from tests.planning.plans import BEDS, read

MORE = """
away 2027-04-19 to 2027-04-25 "school holidays"

target "Boots"
  by week 4
  keep "boots by the door" 5 days/week

target "Meet"
  by week 4
  do "ask the crew"

today
  chair-stands 9 reps
  usual-pain 3/10

rest
"""
PLAN = read(BEDS.replace("\nrest\n", MORE, 1))
BLAME = re.compile(
    r"\b(?:miss|fail|late|behind|excuse|complian|adheren|should have|too little|lapse)\w*", re.IGNORECASE
)


def faults(lines, today=None):
    """What is found of these lines beside the plan: the line's number, the message, the help."""
    diary, findings = read_diary(Source("p014.diary", f"diary for P-014\n{lines}\n"))
    assert [f.message for f in findings] == []
    assert diary is not None
    day = date.fromisoformat(today) if today else None
    found = [*diary_faults(PLAN, diary, day), *past_faults(past_of(PLAN, diary, day))]
    for finding in found:
        assert finding.advice
        assert finding.level in (Level.INCOMPLETE, Level.ADVICE)
        assert not finding.blocks
        assert not BLAME.search(finding.message + finding.advice)
    return [(diary.source.place(f.span).line - 1, f.message, f.advice) for f in found if f.span]


WEEK = ("2027-03-01", "2027-03-03", "2027-03-05")

# lines | the line of the finding | its message | in its help
TABLE = [
    (
        '2027-03-01 done "Chair and bnch"',
        1,
        'The plan has no session "Chair and bnch"; the line counts nowhere.',
        '"Chair and bench"?',
    ),
    (
        '2027-03-01 done "Chair and bench" except knee-bend',
        1,
        '`knee-bend` is not part of the session "Chair and bench".',
        '"knee-bends"?',
    ),
    (
        "2027-03-06 extra walkin 20 min",
        1,
        'The plan has no session or exercise "walkin"; the line counts nowhere.',
        '"walking"?',
    ),
    ("2027-03-01 did walkin 20 min", 1, 'The plan has no exercise "walkin"; the line counts nowhere.', '"walking"?'),
    (
        '2027-03-01 did "ask the crw"',
        1,
        'The plan has no one-off among the targets and tasks "ask the crw"; the line counts nowhere.',
        '"ask the crew"?',
    ),
    (
        '2027-03-01 kept "boots by door"',
        1,
        'The plan has no habit among the targets "boots by door"; the line counts nowhere.',
        '"boots by the door"?',
    ),
    ("2027-03-01 measured chair-stnds 11 reps", 1, '"chair-stnds" is no measure that is known.', '"chair-stands"?'),
    (
        "2027-03-01 measured chair-stands 11 kg",
        1,
        '"chair-stands" is in another unit in the plan, so the two can\'t be compared.',
        "unit of the plan",
    ),
    (
        "2027-03-01 measured usual-pain 3 points",
        1,
        '"usual-pain" is in another unit in the plan, so the two can\'t be compared.',
        "unit of the plan",
    ),
    ("2027-03-01 sign calf-clt", 1, 'The plan has no sign "calf-clt"; the line counts nowhere.', '"calf-clot"?'),
    ("2027-03-01 flare of kneee, right", 1, '"kneee" is no joint that is known.', '"knee"?'),
    (
        "2027-03-01 rest for hand",
        1,
        "Nothing in this plan is known to load the hand, so nothing rests here.",
        "joints hand, left",
    ),
    (
        "2027-04-20 rest",
        1,
        "The week of 2027-04-20 is away; an easier week is never placed on it.",
        "takes nothing from the room",
    ),
    ("2027-03-01 flare over", 1, "Nothing says when the flare that is over here began.", "2027-03-01 flare"),
    (
        "2027-03-01 flare\n2027-03-03 flare over\n2027-03-05 flare over",
        3,
        "The flare that is over here was over on 2027-03-03 already.",
        "2027-03-05 flare",
    ),
    (
        '2027-03-01 note "x" reported 2027-02-01',
        1,
        "Reported on 2027-02-01, before the day itself.",
        "Check the two dates.",
    ),
    (
        "\n".join(['2027-03-02 not done "Chair and bench"', *(f'{d} done "Chair and bench"' for d in WEEK)]),
        1,
        '"Chair and bench" was not due on 2027-03-02 or on another day of its week, so the line counts nowhere.',
        "planlang weeks",
    ),
    (
        '2027-03-02 moved "Chair and bench" to 2027-03-04',
        1,
        '"Chair and bench" was not due on 2027-03-02, so nothing is moved.',
        "planlang weeks",
    ),
    ('2027-03-01 moved "Chair and bench" to 2027-03-01', 1, "Moved to the day that it was on.", "Check the two dates."),
    (
        '2027-03-01 moved "Chair and bench" to 2027-02-20',
        1,
        "2027-02-20 is outside the plan, which runs from 2027-03-01 to 2027-07-04.",
        "moved to",
    ),
    (
        '2027-03-01 done "Chair and bench"\n2027-03-01 done "Chair and bench"',
        2,
        '"Chair and bench" of 2027-03-01 is told more often than it stands in the plan.',
        "`extra`",
    ),
    (
        '2027-03-01 not done "Chair and bench"\n2027-03-01 done "Chair and bench"',
        1,
        '"Chair and bench" of 2027-03-01 is told as done and as not done.',
        "the line that is right",
    ),
    (
        '2027-03-01 kept "boots by the door" 5 days\n2027-03-02 kept "boots by the door" 4 days',
        2,
        '"boots by the door" is told twice for one week, 5 and 4 days.',
        "begin on Mondays",
    ),
    (
        "2027-03-01 walked 3000 steps\n2027-03-01 walked 4000 steps",
        2,
        "The steps of 2027-03-01 are told twice, with two numbers; the higher one counts.",
        "total of the day",
    ),
    (
        "2027-02-20 pain 3/10\n2027-02-21 pain 3/10",
        1,
        (
            "2 lines from here on are of 2027-02-20 to 2027-02-21, "
            "outside the plan, which runs from 2027-03-01 to 2027-07-04."
        ),
        "date right",
    ),
    (
        "2028-03-01 pain 3/10",
        1,
        "This line is of 2028-03-01, outside the plan, which runs from 2027-03-01 to 2027-07-04.",
        "date right",
    ),
]


@pytest.mark.parametrize(("lines", "line", "message", "help"), TABLE)
def test_a_line_that_does_not_go_with_the_plan_is_one_finding(lines, line, message, help):
    ((at, said, advice),) = faults(lines)
    assert (at, said) == (line, message)
    assert help in advice


def test_a_day_that_has_not_come_is_said_where_today_is_known():
    assert faults('2027-03-01 note "x"\n2027-03-20 note "y"', "2027-03-10") == [
        (2, "2027-03-20 has not come yet on 2027-03-10.", "Check the date.")
    ]


@pytest.mark.parametrize(
    "lines",
    [
        '2027-03-02 done "Chair and bench"',
        '2027-03-02 not done "Chair and bench"',  # written a day late: the one of the day before
        '2027-03-01 not done "Chair and bench"\n2027-03-02 done "Chair and bench"',
        '2027-03-01 illness\n2027-03-02 not done "Chair and bench" because illness\n2027-03-03 illness over',
        '2027-03-01 rest\n2027-03-02 not done "Chair and bench"\n2027-03-03 moved "Chair and bench" to 2027-03-04',
        '2027-03-01 moved "Chair and bench" to 2027-03-03' + 2 * '\n2027-03-03 done "Chair and bench"',
        '2027-03-01 moved "Chair and bench" to 2027-03-02\n2027-03-02 moved "Chair and bench" to 2027-03-04',
        "2027-03-01 flare\n2027-03-03 flare over\n2027-03-05 flare\n2027-03-08 flare over",
        "2027-03-01 flare of knee, left\n2027-03-03 flare of knee, right\n2027-03-08 flare over",
        "2027-03-01 pain 3/10\n2027-03-01 pain 6/10",
        "2027-03-01 walked 2 km\n2027-03-01 walked 1 km",
        "2027-03-01 rest for knee, left",
        "2027-03-01 measured chair-stands 11",
        '2027-03-07 kept "boots by the door" 5 days\n2027-03-08 kept "boots by the door" 4 days',
    ],
)
def test_what_goes_together_brings_no_finding(lines):
    assert faults(lines) == []


def test_days_of_the_block_before_are_told_there():
    plan = read(BEDS.replace("  revision   1", '  revision   1\n  continues "autumn.plan"'))
    diary, _ = read_diary(Source("p014.diary", "diary for P-014\n2027-02-20 pain 3/10\n"))
    assert diary is not None
    assert diary_faults(plan, diary) == ()
