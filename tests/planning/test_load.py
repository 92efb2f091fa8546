"""Minutes, sets and session load of a week."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planlang.model.quantity import Quantity
from planlang.planning.load import lasting_seconds, sets_of, timed_seconds
from tests.planning.plans import plan_of, reckoned


def dose(text: str):
    return plan_of(f"exercise squat\nbegin {text}").exercises[0].steps[0].dose


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("20 min", 1200),
        ("3x30 s", 90),
        ("3x30 s each side", 180),
        ("3x30 s resting 60 s", 90 + 120),
        ("3x30 s resting 30-60 s", 90 + 60),
        ("3x30 s each side resting as long as a set", 180 + 120),
        ("10, 5, 5 min resting 2 min", 1200 + 240),
        ("8x2 min at 80 %HRmax easy 2 min at 60 %HRmax", 960 + 840),
        ("left 2x30 s right 3x20 s", 120),
        ("2-3x30 s", 60),
        ("3x8", None),
        ("1.5 km", None),
        ("3x to fatigue", None),
    ],
)
def test_how_long_a_timed_dose_lasts(text, seconds):
    assert timed_seconds(dose(text)) == seconds


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("3x8", 96),
        ("3x8 each side", 192),
        ("3x8 tempo 2-1-4", 3 * 8 * 7),
        ("3x10 holding 5 s resting 60 s", 150 + 120),
        ("20 min", 1200),
        ("1.5 km", None),
    ],
)
def test_how_long_repetitions_last_at_four_seconds_each_or_their_tempo_or_hold(text, seconds):
    # 4 s a repetition: common practice, no source.
    assert lasting_seconds(dose(text)) == seconds


@pytest.mark.parametrize(
    ("text", "sets"),
    [
        ("3x8", 3),
        ("3x8 each side", 3),
        ("2-3x2-5", 2),
        ("30, 15, 15, 15 reps", 4),
        ("left 3x8 right 2x8", 3),
        ("20 min", 0),
        ("3x30 s", 3),
    ],
)
def test_sets_count_for_one_side(text, sets):
    # "10 right and 10 left = one set" (CDC with Tufts University, strength training for older adults, 2002).
    assert sets_of(dose(text)) == sets


def week(session: str, exercises: str = "exercise squat\nworks quadriceps, gluteals\nbegin 3x8"):
    return reckoned(plan_of(f'{exercises}\nsession "A"\ndays Mon, Wed, Fri\n{session}', 2)).weeks[0]


def test_sets_go_to_every_muscle_that_an_exercise_works():
    found = week(
        "do squat, bridge",
        "exercise squat\nworks quadriceps, gluteals\nbegin 3x8\nexercise bridge\nworks gluteals\nbegin 2x10",
    )
    assert found.sets == {"quadriceps": 9, "gluteals": 15}


def test_rounds_multiply_sets_and_time():
    found = week(
        "rounds 2\nresting 1 min between exercises\ndo step, hop",
        "exercise step\nworks quadriceps\nbegin 1x60 s\nexercise hop\nbegin 1x60 s",
    )
    assert (found.sets, found.minutes) == ({"quadriceps": 6}, 3 * (4 + 3))


def test_minutes_are_the_slot_where_a_dose_is_in_repetitions():
    assert week("at 07:30 for 35 min\ndo squat").minutes == 105


def test_minutes_are_the_doses_with_warm_up_and_cool_down_where_all_are_timed():
    found = week("at 07:30 for 35 min\nwarm-up 5 min\ncool-down 5 min\ndo walk", "exercise walk\nbegin 7 min")
    assert found.minutes == 51
    assert found.sittings[0].minutes == 35


def test_without_a_slot_a_session_lasts_as_long_as_its_doses():
    found = week("at 07:30\nwarm-up 5 min\ndo walk", "exercise walk\nbegin 7 min")
    (first, *_) = found.sittings
    assert (first.minutes, f"{first.ends:%H:%M}") == (12, "07:42")


def test_without_a_slot_repetitions_are_reckoned_and_each_change_takes_a_minute():
    found = week("at 07:30\ndo squat, bridge", "exercise squat\nbegin 3x15\nexercise bridge\nbegin 3x15")
    assert (found.sittings[0].minutes, found.minutes) == (7, 21)


def test_nothing_that_tells_a_length_leaves_it_open():
    (first, *_) = week("at 07:30\ndo squat", "exercise squat\nbegin 3x to fatigue").sittings
    assert (first.minutes, first.ends) == (None, None)


# The published total minutes of the 12-week walking schedule (National Heart, Lung, and Blood Institute / US
# Department of Health and Human Services, printings of 2006 and 2013): 5 warm-up, brisk, 5 cool-down.
BRISK = (5, 7, 9, 11, 13, 15, 18, 20, 23, 26, 28, 30)
TOTAL = (15, 17, 19, 21, 23, 25, 28, 30, 33, 36, 38, 40)


def test_the_published_walking_schedule_has_its_printed_minutes():
    steps = "\n".join(f"then {minutes} min" for minutes in BRISK[1:])
    body = f"""exercise brisk-walk\nkind aerobic\nbegin {BRISK[0]} min\n{steps}\nprogress every 1 week
session "Walk"\ndays 5 a week\nat 09:00\nwarm-up 5 min\ncool-down 5 min\ndo brisk-walk"""
    weeks = reckoned(plan_of(body, 12)).weeks
    assert [w.sittings[0].minutes for w in weeks] == list(TOTAL)
    assert [w.minutes for w in weeks] == [5 * total for total in TOTAL]
    assert sum(w.minutes for w in weeks) == 1625


def test_session_load_is_effort_times_minutes():
    # Foster et al 2001, J Strength Cond Res 15:109: effort 7 for 60 minutes is a load of 420.
    found = reckoned(plan_of('exercise row\nbegin 60 min at effort 7/10\nsession "A"\ndays Mon\ndo row')).weeks[0]
    assert found.load == 420


def test_session_load_takes_the_hardest_effort_and_is_none_without_one_out_of_ten():
    both = "exercise squat\nbegin 3x8 at effort 3-5/10\nexercise bridge\nbegin 3x8 at effort 6/10"
    assert week("at 07:30 for 20 min\ndo squat, bridge", both).load == 3 * 6 * 20
    assert week("at 07:30 for 20 min\ndo squat", "exercise squat\nbegin 3x8 at effort 13/20").load is None


def test_activities_in_minutes_count_for_the_days_that_are_there():
    def minutes(dose: str) -> Fraction:
        plan = plan_of(f"activity walking\nbegin {dose}", 1, head="away 2027-03-06 to 2027-03-07")
        return reckoned(plan).weeks[0].minutes

    assert [minutes(d) for d in ("20 min", "5 min 3 times a day", "15 min/day", "70 min/week", "3000 steps/day")] == [
        100,
        75,
        75,
        70,
        0,
    ]


def test_a_ceiling_is_in_the_unit_of_the_dose():
    def most(line: str):
        return (
            reckoned(plan_of(f"activity walking\nbegin 3200 steps/day\n{line}", 1))
            .weeks[0]
            .activities["walking"]
            .at_most
        )

    assert (most("at most 25 % above the aim"), most("at most 4500 steps/day")) == (4000, 4500)
    plan = plan_of("activity walking\nbegin 30 min\nat most 1 h", 1)
    assert reckoned(plan).weeks[0].activities["walking"].at_most == Quantity(Fraction(60), "min").value


def test_a_session_longer_than_a_day_has_no_end_and_is_a_finding():
    lines = 'exercise squat\nbegin 900x900 min\nsession "Long"\ndays Mon\nat 09:00\ndo squat'
    weeks = reckoned(plan_of(lines))
    assert {s.ends for w in weeks.weeks for s in w.sittings} == {None}
    assert [f.message for f in weeks.findings if "more than a day" in f.message] == [
        '"Long" comes to more than a day by its doses; it has no end in the calendar.'
    ]
