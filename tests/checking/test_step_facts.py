"""Steps beside the step before; how long sessions are, and get; which ladders of a joint rise together."""

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from planlang.checking.facts import every
from planlang.checking.facts.registry import Facts

Making = Callable[[str], Facts]
HEAD = 'plan "Stairs"\n  starts 2027-03-01\n  lasts 9 weeks\n'


def fact(facts: Facts, owner: str, name: str, thing: Any = None) -> Any:
    return every().facts[owner, name].get(facts, thing)


@pytest.mark.parametrize(
    ("first", "then", "goes_up"),
    [
        ("2x8", "2x10", ("repetitions",)),
        ("2x8", "3x8", ("sets",)),
        ("2x8", "3x10 at 2 kg", ("sets", "repetitions", "load")),
        ("3x10", "3x8 at 2 kg", ("load",)),
        ("3x8 at 40 %1RM", "3x8 at 60 %1RM", ("load",)),
        ("3x8 at 12RM", "3x8 at 8RM", ("load",)),
        ("3x8 at 2 lb", "3x8 at 1 kg", ("load",)),
        ("3x8 at 2 kg", "3x8 at 4 lb", ()),
        ("2x20 s", "2x30 s", ("time",)),
        ("2x30 s", "2x1 min", ("time",)),
        ("2x8 holding 3 s", "2x8 holding 5 s", ("hold",)),
        ("2x8 step 10 cm", "2x8 step 15 cm", ("height",)),
        ("2x8 chair 50 cm", "2x8 chair 45 cm", ("height",)),
        ("2x8 chair 45 cm", "2x8 chair 50 cm", ()),
        ("2x8", "20 min", ()),
        ("30, 15, 15 reps", "30, 15, 15, 15 reps", ("sets",)),
    ],
)
def test_what_goes_up_in_a_step(first: str, then: str, goes_up: tuple[str, ...], facts_of: Making) -> None:
    (change,) = fact(facts_of(HEAD + f"exercise a\n  begin {first}\n  then {then}\n"), "", "changes")
    assert fact(None, "change", "goes-up", change) == goes_up  # type: ignore[arg-type]


def test_a_new_variant_or_band_is_another_exercise(facts_of: Making) -> None:
    facts = facts_of(HEAD + 'exercise a\n  begin 2x8 "high chair"\n  then 2x8\n  then 2x8 "low chair"\n')
    assert [fact(facts, "change", "same-variant", c) for c in fact(facts, "", "changes")] == [True, False]


def test_sides_written_apart_are_compared_each_with_its_own(facts_of: Making) -> None:
    facts = facts_of(HEAD + "exercise a\n  begin 2x8 each side\n  then left 2x8 right 2x10\n")
    assert [fact(facts, "change", "goes-up", c) for c in fact(facts, "", "changes")] == [(), ("repetitions",)]


def longer(facts: Facts) -> list[tuple[str, int, Fraction, Fraction]]:
    return [(it.name, it.week.number, it.before, it.after) for it in fact(facts, "", "longer-times")]


WALK = "exercise walk\n  kind aerobic\n  begin 10 min\n  then 20 min\n  progress every 3 weeks\n"
OUT = 'session "Out"\n  days Mon\n  at 08:00\n  warm-up 5 min\n  do walk\n'


def test_a_session_is_longer_by_its_doses_and_what_is_around_them(facts_of: Making) -> None:
    assert longer(facts_of(HEAD + WALK + OUT)) == [("Out", 4, 15, 25)]


def test_a_slot_that_is_written_stays_as_long_as_it_is(facts_of: Making) -> None:
    squat = "exercise squat\n  begin 2x8\n  then 3x12\n  progress every 3 weeks\n"
    assert longer(facts_of(HEAD + squat + OUT.replace("08:00", "08:00 for 20 min").replace("walk", "squat"))) == []


def test_after_a_lighter_week_it_is_compared_with_the_last_week_at_its_own_level(facts_of: Making) -> None:
    rest = "rest\n  room for 0 weeks\n  lighter every 4 weeks by 1 step\n"
    facts = facts_of(HEAD + rest + WALK.replace("every 3", "every 2") + OUT)
    assert [w.exercises["walk"].step for w in facts.weeks.weeks[:6]] == [0, 0, 1, 0, 1, 1]  # type: ignore[union-attr]
    assert longer(facts) == [("Out", 3, 15, 25)]


def test_minutes_of_a_week_are_told_from_those_of_a_day(facts_of: Making) -> None:
    facts = facts_of(HEAD + "activity bike\n  begin 60 min/week\n  then 90 min/week\n  progress every 3 weeks\n")
    assert [(it.before, it.after, it.weekly) for it in fact(facts, "", "longer-times")] == [(60, 90, True)]


def test_what_the_doses_need_has_rests_changes_and_both_sides_in_it(facts_of: Making) -> None:
    # 3 sets of 10 a side at 4 s: 240 s; two rests: 360 s; a change: 420 s; 2 sets of 10 held 5 s: 520 s; 3 min around
    text = (
        HEAD
        + "exercise a\n  begin 2x10 each side resting 60 s\n  then 3x10 each side\n  progress every 4 weeks\n"
        + "exercise b\n  begin 2x10 holding 5 s\nexercise c\n  begin 1 km\n"
        + 'session "Home"\n  days Mon\n  at 08:00 for 10 min\n  warm-up 3 min\n  do a, b\n'
    )
    facts = facts_of(text)
    (session,) = facts.plan.sessions
    assert fact(facts, "session", "needed-minutes", session) == Fraction(520, 60) + 3
    assert fact(facts, "session", "longest-week", session).number == 5
    assert fact(facts, "session", "first-minutes", session) == 10
    assert fact(facts, "session", "first-exercises", session) == 2


def test_a_session_that_begins_later_has_no_first_week(facts_of: Making) -> None:
    facts = facts_of(HEAD + WALK + OUT + "  training week 2 on\n")
    assert fact(facts, "session", "first-minutes", facts.plan.sessions[0]) is None


STRENGTH = "exercise {0}\n  kind {1}\n  works {2}\n  begin 2x6\n  then 2x8\n  then 2x10\n  progress every {3} weeks\n"
HOME = 'session "Home"\n  days Mon\n  at 08:00\n  do {0}\n'


def test_ladders_of_one_joint_that_rise_together(facts_of: Making) -> None:
    facts = facts_of(
        HEAD
        + STRENGTH.format("a", "strength", "quadriceps", 2)
        + STRENGTH.format("b", "strength", "gluteals", 2)
        + STRENGTH.format("c", "strength", "hamstrings", 3)
        + STRENGTH.format("d", "balance", "calves", 2)
        + STRENGTH.format("e", "strength", "elbow-flexors", 2)
        + HOME.format("a, b, c, d, e")
    )
    rises = [
        (j.joints, [(w.number, w.names) for w in fact(facts, "loaded-joint", "rise-weeks", j)])
        for j in fact(facts, "", "loaded-joints")
    ]
    assert rises[0] == (("hip",), [(3, ("a", "b")), (4, ("c",)), (5, ("a", "b")), (7, ("c",))])
    assert rises[1] == (("knee",), [(3, ("a",)), (4, ("c",)), (5, ("a",)), (7, ("c",))])
    assert rises[2] == (("elbow",), [(3, ("e",)), (5, ("e",))])


@pytest.mark.parametrize(
    ("line", "legs"),
    [
        ("works quads", True),
        ("works grip", False),
        ("works grip, calves", True),
        ("joints knee, left", True),
        ("", None),
    ],
)
def test_whether_an_exercise_is_for_the_legs(line: str, legs: bool | None, facts_of: Making) -> None:
    facts = facts_of(HEAD + f"exercise a\n  {line}\n  begin 2x8\n")
    assert fact(facts, "exercise", "for-the-legs", facts.plan.exercises[0]) is legs
