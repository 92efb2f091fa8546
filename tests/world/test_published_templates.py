"""Published programmes as templates: a person's plan made from one gives the published numbers, each compared."""

from __future__ import annotations

import itertools

import pytest

from tests.world.clinic_library import PUBLISHED, made_from, proved
from tests.world.programmes import training

WALKING = PUBLISHED / "walking-schedule.plan"
STAGES = PUBLISHED / "strength-stages.plan"

# US National Heart, Lung, and Blood Institute / US DHHS, sample walking schedule (2006, 2013): brisk minutes of weeks 1
# to 12, and, in the older printing, the total of each session; five minutes of slow walking before and after
BRISK = [5, 7, 9, 11, 13, 15, 18, 20, 23, 26, 28, 30]
TOTAL = [15, 17, 19, 21, 23, 25, 28, 30, 33, 36, 38, 40]


def walking(walks=5, room=0):
    return made_from(WALKING, {"walks-a-week": walks, "walk-now": 10, "room": room})


@pytest.mark.parametrize("walks", [3, 4, 5])
def test_brisk_minutes_and_totals_are_the_printed_ones_however_often_it_is_walked(walks):
    # the newer printing says at least five times a week, the older at least three
    weeks = training(walking(walks).weeks)[:12]
    for week, brisk, total in zip(weeks, BRISK, TOTAL, strict=True):
        assert week.exercises["brisk-part"].dose.size.amounts[0].low == brisk
        assert {sitting.minutes for sitting in week.sittings} == {total}
        assert sum(sitting.count for sitting in week.sittings) == walks
        assert week.minutes == walks * total


def test_five_minutes_of_slow_walking_before_and_after():
    session = walking().plan.sessions[0]
    assert (session.warm_up.minutes, session.cool_down.minutes) == (5, 5)


def test_from_week_13_half_an_hour_to_an_hour_three_or_four_times_a_week():
    for week in training(walking().weeks)[12:]:
        amount = week.exercises["brisk-part"].dose.size.amounts[0]
        assert (amount.low, amount.high) == (30, 60)
        assert sum(sitting.count for sitting in week.sittings) == 3  # the lower end of 3 to 4 is planned


def test_a_tiring_week_may_be_repeated_and_all_of_it_is_walked_later():
    # older printing: repeat a week that tires you, you need not finish in 12 weeks
    assert len(training(walking(room=2).weeks)) - len(BRISK) == 4
    assert {t.title: t.by.week for t in walking().plan.targets} == {
        "A brisk quarter of an hour": 12,
        "Half an hour at a brisk pace": 18,
    }
    assert [f.rule for f in walking(room=2).findings] == []


def test_nothing_is_found_in_the_walking_schedule_however_it_is_filled_in():
    assert [(f.rule, f.message) for f in proved(WALKING).findings] == []


def test_in_the_stages_only_the_published_step_from_five_to_eight_pounds_is_asked_about():
    # three, five, then eight pounds are the published dumbbells for men; those between aren't sold everywhere
    found = proved(STAGES).findings
    assert [f.rule for f in found] == ["load-step-large"]
    assert found[0].message.startswith("first-weight 3 lb:")


# Seguin, Epping, Buchner, Bloch, Nelson 2002, US Centers for Disease Control and Prevention with Tufts University,
# stage pages: stage 2 after at least two weeks of stage 1, stage 3 after at least six weeks in all; pages of the
# schedule and of how to progress
def stages(first=2, days=3, room=0):
    return made_from(STAGES, {"first-weight": first, "days-a-week": days, "room": room})


def test_stage_two_after_two_weeks_and_stage_three_after_six():
    names = [{s.name for s in week.sittings} for week in training(stages().weeks)]
    assert names == [{"Stage one"}] * 2 + [{"Stages one and two"}] * 4 + [{"All three stages"}] * 10
    assert [len(set(stages().plan.sessions[n].do)) for n in (0, 1, 2)] == [4, 8, 11]


def test_a_stage_adds_and_takes_nothing_of_strength_away():
    one, two, three = (set(session.do) for session in stages().plan.sessions)
    assert one < two
    assert two - three == {"fingers-up-the-wall"}  # a warm-up of the fingers, left out for time: our own reading


@pytest.mark.parametrize("days", [2, 3])
def test_two_or_three_days_a_week_that_do_not_touch(days):
    for week in training(stages(days=days).weeks):
        on = sorted(sitting.day for sitting in week.sittings)
        assert len(on) == days
        assert all((b - a).days >= 2 for a, b in itertools.pairwise(on))


def test_two_sets_of_ten_up_for_two_down_for_four_with_a_minute_or_two_between():
    # ten with the right and ten with the left leg are one set; a rest of one to two minutes; then a second set of ten
    plan = stages().plan
    for exercise in plan.exercises:
        if exercise.kind != "strength":
            continue
        first = exercise.steps[0].dose
        assert (first.size.sets.low, first.size.amounts[0].low) == (2, 10), exercise.name
        assert (first.tempo[0], first.tempo[2]) == (2, 4), exercise.name
        assert (first.rest.amount.low, first.rest.amount.high, first.rest.unit) == (1, 2, "min"), exercise.name
    one_at_a_time = ("stair-step", "leg-to-the-side", "knee-out", "heel-back")
    assert all(plan.exercise(name).steps[0].dose.each_side for name in one_at_a_time)


@pytest.mark.parametrize(("first", "published"), [(2, [2, 3, 5]), (3, [3, 5, 8])], ids=["women", "men"])
def test_the_dumbbells_are_those_that_are_published_for_women_and_men(first, published):
    loads = [step.dose.load for step in stages(first).plan.exercise("arm-bend").steps]
    assert list(dict.fromkeys(load.amount.low for load in loads)) == published
    assert {load.unit for load in loads} == {"lb"}


def test_the_press_begins_at_one_pound_and_goes_on_to_two_or_three():
    loads = [step.dose.load.amount.low for step in stages().plan.exercise("press-up-high").steps]
    assert loads == [1, 2, 3]


def test_weights_are_looked_at_anew_every_two_weeks():
    # "after two weeks reassess": how to progress
    assert stages().plan.exercise("arm-bend").pace.weeks == 2
    assert "twelve" in stages().plan.exercise("arm-bend").pace.condition


def test_a_new_weight_may_be_taken_with_eight_and_no_fewer():
    # "if you cannot do at least eight, the weight is too heavy": how to progress
    reps = [step.dose.size.amounts[0].low for step in stages().plan.exercise("arm-bend").steps]
    assert min(reps) == 8


def test_five_minutes_of_walking_come_first():
    sessions = stages().plan.sessions
    assert {session.warm_up.minutes for session in sessions} == {5}
