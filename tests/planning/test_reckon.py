"""The whole reckoning on the plan that the language is shown by."""

from __future__ import annotations

from datetime import date

from planlang.model.show import dose_text
from planlang.planning.week import WeekKind
from tests.planning.plans import BEDS, read, reckoned


def test_week_five_is_as_the_commands_show_it():
    week = reckoned(read(BEDS)).weeks[4]
    assert (week.number, week.starts, week.kind, week.training_week) == (5, date(2027, 3, 29), WeekKind.TRAINING, 5)
    squat, walking = week.exercises["sit-to-stand"], week.activities["walking"]
    assert (squat.step, dose_text(squat.dose), squat.dose.variant) == (2, "2x10", "dining chair, hands on thighs")
    assert (squat.easing, squat.lighter, squat.gentle) == (False, False, False)
    assert (walking.step, dose_text(walking.dose), walking.easing, walking.at_most) == (
        0,
        "3200 steps/day",
        False,
        4000,
    )
    first = week.sittings[0]
    assert (first.name, first.starts.isoformat(), first.ends.isoformat(), first.minutes) == (
        "Chair and bench",
        "2027-03-29T07:30:00+11:00",
        "2027-03-29T08:05:00+11:00",
        35,
    )
    assert first.exercises == ("sit-to-stand", "tandem-stance", "knee-bends")
    assert (week.minutes, week.sets, week.load) == (105, {"quadriceps": 6, "gluteals": 6}, None)


def test_a_rest_week_shows_what_is_still_done():
    week = reckoned(read(BEDS), 5).weeks[4]
    assert (week.kind, week.training_week, week.sittings, week.activities) == (WeekKind.REST, None, (), {})
    assert {n: (d.step, dose_text(d.dose), d.gentle) for n, d in week.exercises.items()} == {
        "knee-bends": (None, "2x10 twice a day", True),
        "walking": (None, "5 min 3 times a day", True),
    }


def test_the_first_day_back_is_the_easier_step():
    weeks = reckoned(read(BEDS), 2).weeks
    back = weeks[2].exercises["sit-to-stand"]
    assert (back.step, dose_text(back.dose), back.dose.variant, back.easing) == (
        -1,
        "1x6",
        "higher chair, push with the hands",
        True,
    )


def test_first_marks_the_week_of_a_new_step_once():
    weeks = reckoned(read(BEDS), 4).weeks
    new = [w.number for w in weeks if (d := w.exercises.get("sit-to-stand")) and d.first]
    assert new == [1, 3, 7, 9, 11]


def test_sessions_in_training_weeks_and_in_spare_ones():
    weeks = reckoned(read(BEDS)).weeks
    sittings = {kind: sum(len(w.sittings) for w in weeks if w.kind is kind) for kind in WeekKind}
    assert sittings == {"training": 45, "spare": 9, "rest": 0, "away": 0}


def test_begins_names_the_first_training_week_of_each():
    assert reckoned(read(BEDS), 1).begins == {"sit-to-stand": 1, "tandem-stance": 1, "knee-bends": 1, "walking": 5}
