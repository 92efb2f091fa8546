"""Templates of the example clinic: plans made from them, at the ends of every range and between, are clean.

A template that fails for one person fails many. Linting the template proves it over the ranges; these are plans made.
"""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise

import pytest

from planlang.model.composing.instance import blanks_of
from planlang.planning.week import WeekKind
from planlang.text.load import load
from tests.world.clinic_library import ROOT, TEMPLATES, ends, exercises, made_from, proved

NAMES = [path.stem for path in TEMPLATES]


@pytest.mark.parametrize("path", TEMPLATES, ids=NAMES)
def test_no_rule_has_a_finding_whatever_is_filled_in_and_that_is_proved(path):
    checked = proved(path)
    assert [(f.rule, f.message) for f in checked.findings] == []
    assert not checked.cover.left
    assert checked.rules


@pytest.mark.parametrize("path", TEMPLATES, ids=NAMES)
def test_no_plan_made_at_the_ends_or_between_has_a_finding(path):
    for number, fills in enumerate(ends(path, 1)):
        checked = made_from(path, fills, age=(50, 75)[number % 2])
        assert [(f.rule, f.message, fills) for f in checked.findings] == []


@pytest.mark.parametrize("path", TEMPLATES, ids=NAMES)
def test_every_target_is_reached_wherever_the_rest_falls(path):
    # a lead of the templates: dates that hold for whoever takes all the easier weeks (our own reading, no source)
    for fills in ends(path, 0):
        checked = made_from(path, fills)
        assert not [f for f in checked.findings if f.rule.startswith("target-")]
        assert [target.by for target in checked.plan.targets].count(None) == 0


def test_knee_and_hip_begin_at_three_levels():
    # what the person walks now is what the plan begins with, and the three ranges meet
    for joint in ("knee", "hip"):
        ranges = []
        for level in ("low", "middle", "active"):
            blanks = {b.name: b for b in blanks_of(load(str(ROOT / f"library/templates/{joint}-{level}.plan")))}
            ranges.append((blanks["daily-steps-now"].low, blanks["daily-steps-now"].high))
        assert all(a[0] < b[0] <= a[1] < b[1] for a, b in pairwise(ranges))


@pytest.mark.parametrize("path", TEMPLATES, ids=NAMES)
def test_the_first_week_asks_no_more_steps_than_are_walked_now(path):
    for fills in ends(path, 0):
        plan = made_from(path, fills).plan
        now = [b.value for b in plan.today.measures if b.measure == "daily-steps"]
        first = [a.steps[0].dose.size.amounts[0].low for a in plan.exercises if a.name == "walking" and a.steps]
        assert not now or not first or first[0] <= now[0].value


@pytest.mark.parametrize("path", TEMPLATES, ids=NAMES)
def test_an_exercise_of_a_template_is_one_of_the_library(path):
    plan = made_from(path, next(ends(path, 0))).plan
    assert {e.name for e in plan.exercises} <= exercises().keys()


@pytest.mark.parametrize("path", TEMPLATES, ids=NAMES)
def test_a_ladder_of_a_template_counts_what_the_librarys_counts(path):
    # repetitions stay repetitions and seconds seconds, whatever a blank stands for
    plan = made_from(path, next(ends(path, 0))).plan
    for exercise in plan.exercises:
        kept = [step.dose for step in exercises()[exercise.name].steps]
        own = [step.dose for step in exercise.steps]
        assert {dose.size.kind for dose in own} <= {dose.size.kind for dose in kept}, exercise.name
        assert {dose.each_side for dose in own} <= {dose.each_side for dose in kept}, exercise.name


def test_by_the_date_goes_up_whatever_the_day_feels_like():
    # quotas begin below what is done on an ordinary day and go up by the date: Lindstrom et al 1992, Phys Ther 72:279
    # (from memory); eight tenths of an ordinary walk is our own
    path = ROOT / "library/templates/by-the-date.plan"
    fills = next(ends(path, 0)) | {"walk-now": 10, "room": 2}
    checked = made_from(path, fills)
    walk = checked.plan.exercise("easy-walk")
    assert walk.steps[0].dose.size.amounts[0].low == 8
    done = {name for week in checked.weeks.weeks for name in week.exercises}
    assert {e.pace.by for e in checked.plan.exercises if e.name in done and e.pace} == {"date"}


def test_upkeep_has_few_contacts_and_leaves_no_half_year_without_one():
    # Fernandes et al 2013, Ann Rheum Dis 72:1125 (EULAR): regular evaluation and follow-up; how far apart is common
    # practice
    path = ROOT / "library/templates/upkeep.plan"
    checked = made_from(path, next(ends(path, 0)))
    days = sorted(day for review in checked.plan.reviews for day in review_days(checked.plan, review))
    assert days
    assert max(b - a for a, b in pairwise([checked.plan.starts, *days])) <= timedelta(weeks=8)
    assert [w for w in checked.weeks.weeks if w.kind is WeekKind.TRAINING]


def review_days(plan, review):
    return [plan.starts + timedelta(weeks=when.week) - timedelta(days=1) for when in review.at]
