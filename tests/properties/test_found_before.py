"""Texts on which reading or reckoning once failed, found by the properties beside this file; each is a finding now."""

from __future__ import annotations

import pytest

from tests.properties.whole import checking, every_line_is_there, reading

PLAN = 'plan "Trial"\nstarts 2027-03-01\nlasts 12 weeks\n'
ACTIVITY = PLAN + "activity walking\n"
EXERCISE = PLAN + "exercise squat\n"
LONG = "9" * 5000


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (ACTIVITY + "begin 1 steps/day\nrise 10 % every week to 5000 steps/day rounded to 100000", "stands still"),
        (ACTIVITY + "begin 0.001 min/day\nrise 0.001 % every week to 5000 min/day", "rise 100 %"),
        (ACTIVITY + f"begin {LONG} steps/day\nrise 10 % every week to 5000 steps/day", "too long"),
        (EXERCISE + "begin 99999x99999 min", "more sets"),
        (EXERCISE + "begin 99999999x to fatigue", "too large"),
        (EXERCISE + 'begin 900x900 min\nsession "Long"\ndays Mon\nat 09:00\ndo squat', "more than a day"),
        (EXERCISE + f"begin 3x8 at {LONG}RM", "too long"),
        (EXERCISE + "begin 3x8 tempo 1000-1-1", "longer than can be meant"),
        (PLAN + 'target "Shoes"\nby\U000daf67 week 3', '"by'),
    ],
)
def test_it_is_a_finding(text: str, said: str):
    findings = checking(text).findings
    assert any(said in f.message + f.advice for f in findings), [(f.message, f.advice) for f in findings]


def test_a_plan_of_lone_surrogates_is_read():
    reading("\ud800" * 3)
    every_line_is_there(f'{PLAN}tell "\ud800"\n\udfff')


def test_a_review_far_off_makes_no_calendar_of_centuries():
    checking(PLAN + "review at 2200-12-31\nzone Europe/London\nagreed 2027-02-22 calendar full, diary yes")
