"""Verdicts on plans small enough to check by hand, what stays open, and what is said of each in words."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from attrs import evolve

from planlang.model.dose import Dose, Effort
from planlang.model.exercise import Start
from planlang.model.plan import Measuring, Target, When
from planlang.model.quantity import Quantity, Range
from planlang.planning.leeway.band import bands
from planlang.planning.leeway.data import Assumption, Standing
from planlang.planning.leeway.reckon import leeway
from planlang.planning.leeway.verdicts import Verdicts, verdict
from planlang.planning.leeway.words import assumed_in_words, in_words, listed, margin_in_words
from tests.made import (
    away,
    ladder,
    make_activity,
    make_exercise,
    make_plan,
    minutes_a_week,
    reach,
    rungs,
    sets,
    steps_a_day,
    window,
)


def judged(plan, target):
    return verdict(evolve(plan, targets=(target,)), target)


def short(plan, target):
    found = judged(plan, target)
    return found.verdict.value, found.earliest, found.latest, found.worst_rest, found.margin


def one_to_three(returns):
    steps = rungs([sets(1, 8), sets(2, 8), sets(3, 8)])
    plan = make_plan(make_exercise(steps=steps), weeks=4, room=1, returns=returns)
    return plan, reach(sets(3, 8), "sit-to-stand", week=4)


def test_one_set_to_three_in_four_weeks_with_one_flexible_week_always_without_easing():
    """Common practice, no source."""
    assert short(*one_to_three([(0, 0, 1)])) == ("always", date(2027, 3, 15), date(2027, 3, 22), (1,), 1)


def test_with_one_easing_week_it_depends_on_where_the_rest_falls():
    """Common practice, no source."""
    assert short(*one_to_three([(1, 1, 1)])) == ("depends", date(2027, 3, 15), None, (2,), 0)


def test_a_late_start_counts_the_weeks_that_easing_keeps_it_waiting():
    walking = make_activity(start=Start(weeks=2, of="strength"))
    plan = make_plan(make_exercise(), walking, weeks=9, room=2)
    target = reach(steps_a_day(3300), "walking", week=7)
    # at best `. . 1 2`; with rest in weeks 3 and 5 it waits for the easing of weeks 4 and 6: `. . R . R . 1 2`
    assert short(plan, target) == ("depends", date(2027, 3, 22), date(2027, 4, 19), (3, 5), 1)


def test_a_window_that_closes_leaves_no_room():
    plan = make_plan(make_exercise(steps=3, window=window((2, 4))), weeks=8, room=1)
    assert short(plan, reach(sets(2, 7), "sit-to-stand", week=8)) == ("depends", date(2027, 3, 22), None, (3,), 0)


def test_an_away_week_is_never_rested_in():
    plan = make_plan(make_exercise(steps=3), weeks=6, room=2, away=(away(date(2027, 3, 1), 8, 14),))
    found = judged(plan, reach(sets(2, 7), "sit-to-stand", week=4))
    assert found.worst_rest is not None
    assert 2 not in found.worst_rest
    assert found.earliest == date(2027, 3, 22)


def test_a_weekly_quota_counts_on_the_last_day_of_its_week():
    steps = rungs([minutes_a_week(60), minutes_a_week(80)])
    plan = make_plan(make_activity("cycling", steps), weeks=4, room=0)
    assert judged(plan, reach(minutes_a_week(80), "cycling", week=2)).earliest == date(2027, 3, 14)


def test_a_daily_activity_counts_on_the_first_day_at_home():
    plan = make_plan(make_activity(steps=2), weeks=4, room=0, away=(away(date(2027, 3, 1), 7, 9),))
    assert judged(plan, reach(steps_a_day(3300), "walking", week=2)).earliest == date(2027, 3, 10)


def test_a_dose_above_the_ladder_is_never_reached_and_names_the_nearest_step():
    found = judged(make_plan(make_exercise(steps=3)), reach(sets(5, 20), "sit-to-stand", week=8))
    assert (found.verdict, found.earliest, found.margin) == ("never", None, None)
    assert found.reason == "No step of `sit-to-stand` is at least `5x20`; the nearest is step 3, 2x7."


def test_a_step_beyond_one_that_is_never_left_is_never_reached():
    found = judged(make_plan(make_exercise(steps=3, every=None)), reach(sets(2, 7), "sit-to-stand", week=8))
    assert found.reason == "`sit-to-stand` has no pace, so it stays on step 1; this is step 3."


def test_a_date_that_comes_too_soon_says_by_how_much():
    found = judged(make_plan(make_exercise(steps=3), room=0), reach(sets(2, 7), "sit-to-stand", week=2))
    assert found.reason == "Step 3 of `sit-to-stand` comes on 2027-03-15 at the earliest, 1 day after its date."


@pytest.mark.parametrize(
    ("target", "reason"),
    [
        (Target("A", When(week=4), keep="boots by the door", keep_days=5), "a habit"),
        (Target("B", When(week=4), do="ask the crew"), "a thing to do once"),
        (
            Target("C", When(week=4), measured=Measuring("pain", Quantity(Fraction(5)), Quantity(Fraction(3)))),
            "measured",
        ),
        (reach(Dose(set_at=2), "sit-to-stand", week=4), "its dose is not set yet"),
        (reach(sets(2, 6), "step-up", week=4), "there is no exercise `step-up`"),
        (reach(sets(2, 6), "sit-to-stand"), "it has no date"),
        (reach(evolve(sets(2, 6), effort=Effort(Range.of(6), 10)), "sit-to-stand", week=4), "it names effort"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_no_ladder_decides_is_open(target, reason):
    found = judged(make_plan(), target)
    assert found.verdict == "open"
    assert reason in found.reason
    assert (found.earliest, found.latest, found.worst_rest, found.margin) == (None, None, None, None)


def test_a_ladder_with_a_step_to_be_set_is_open_where_no_other_step_decides():
    steps = (*ladder(2), *rungs([Dose(set_at=3)]))
    plan = make_plan(make_exercise(steps=steps))
    assert judged(plan, reach(sets(4, 9), "sit-to-stand", week=4)).reason == "step 3 of `sit-to-stand` is not set yet."
    assert judged(plan, reach(sets(2, 6), "sit-to-stand", week=8)).verdict == "always"


@pytest.mark.parametrize("parts", [{"weeks": None}, {"starts": None}, {"weeks": 1}, {"weeks": 10**6}], ids=str)
def test_a_plan_that_cannot_be_reckoned_has_open_targets_only(parts):
    plan = evolve(make_plan(room=1), targets=(reach(sets(2, 6), "sit-to-stand", week=4),), **parts)
    found = leeway(plan)
    assert not found.reckoned
    assert [one.verdict for one in found.standings] == ["open"]


def test_verdicts_are_worked_out_once_a_plan():
    plan, target = one_to_three([(1, 1, 1)])
    plan = evolve(plan, targets=(target,))
    assert verdict(plan, target) is verdict(plan, target)


def test_the_states_of_a_plan_with_many_alike_exercises_are_few():
    """What others stand in the joint state is told once for all that can't differ."""
    names = [f"exercise-{n}" for n in range(12)]
    walking = make_activity(start=Start(weeks=4, of="strength"))
    plan = make_plan(
        *(make_exercise(name, steps=6, every=1 + n % 3) for n, name in enumerate(names)), walking, weeks=52, room=8
    )
    target = reach(walking.steps[3].dose, "walking", week=40)
    known = Verdicts(evolve(plan, targets=(target,)))
    known.of(target)
    (machine,) = known.machines.values()
    assert len(machine.states) < 60


def said(plan, target):
    return in_words(judged(plan, target), plan.room)


def test_what_holds_in_words():
    assert said(*one_to_three([(0, 0, 1)])) == "Holds wherever the easier week falls."
    plan = make_plan(make_exercise(steps=3), weeks=9, room=3, returns=[(0, 0, 1)])
    assert said(plan, reach(sets(2, 7), "sit-to-stand", week=9)) == "Holds wherever the 3 easier weeks fall."
    plan = make_plan(make_exercise(steps=3), weeks=9, room=0)
    assert said(plan, reach(sets(2, 7), "sit-to-stand", week=9)) == "Holds."


def test_what_depends_in_words():
    plan = make_plan(make_exercise(steps=5), weeks=14, room=3)
    # `1 2 R 1 2 R 1 2 R 1 2 3 4 5`
    assert said(plan, reach(sets(2, 9), "sit-to-stand", day=date(2027, 4, 30))) == (
        "Not yet by its date if easier weeks fall in weeks 3, 6 and 9: then 31 days later."
    )
    assert said(*one_to_three([(1, 1, 1)])) == (
        "Not yet by its date if an easier week falls in week 2: then not within the plan."
    )


def test_what_is_never_reached_in_words():
    plan = make_plan(make_exercise(steps=3), weeks=9, room=2)
    assert said(plan, reach(sets(2, 7), "sit-to-stand", week=2)).startswith(
        "Not by its date wherever the 2 easier weeks fall. Step 3 of `sit-to-stand` comes on 2027-03-15"
    )


@pytest.mark.parametrize(
    ("margin", "room", "words"),
    [
        (None, 3, ""),
        (0, 1, "It bears no easier week before it."),
        (1, 3, "It bears 1 easier week wherever it falls, and not 2."),
        (5, 3, "It bears 5 easier weeks wherever they fall: 2 more than there is room for."),
    ],
)
def test_a_margin_in_words(margin, room, words):
    standing = Standing(reach(sets(2, 6), "x", week=1), None, "depends", margin=margin)
    assert margin_in_words(standing, room) == words


def test_lists_in_words():
    assert [listed(n) for n in ((), (2,), (2, 4), (2, 4, 6))] == ["", "2", "2 and 4", "2, 4 and 6"]


def test_what_is_assumed_in_words():
    own = Assumption(Fraction(4), 52, Fraction(8, 7), varies=4)
    assert assumed_in_words(own) == (
        "4 flares in 52 weeks lasting 8 days, people differ a little: the plan's own `expect` line."
    )
    hip = Assumption(Fraction(1), 13, Fraction(1), 1, True, "borrowed from the knee", ("A 2021",), "hip osteoarthritis")
    assert assumed_in_words(hip) == (
        "1 flare in 13 weeks lasting 1 week, people differ much: nothing is written, so the published rate for "
        "hip osteoarthritis, borrowed from the knee (A 2021)."
    )


def test_a_band_lies_between_the_best_and_the_worst_placement():
    plan = make_plan(make_exercise(steps=3), make_exercise("step-up", steps=1), weeks=6, room=1)
    (band,) = bands(plan)
    # best `1 2 3 ...`, worst `R 1 2 3` up to week 2, then `1 R 1 2 3`, `1 2 R 1 2 ...`
    assert (band.exercise, band.best, band.worst) == ("sit-to-stand", (0, 1, 2, 2, 2, 2), (-1, 0, 0, 1, 1, 2))
