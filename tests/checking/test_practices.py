"""What an exercise's own words tell, in the languages that are known, and what they don't."""

from collections.abc import Callable

import pytest

from planlang.checking.facts import every
from planlang.checking.facts.practices import tells
from planlang.checking.facts.registry import Facts

Making = Callable[[str], Facts]
HEAD = 'plan "Steady on"\n  starts 2027-03-01\n  lasts 8 weeks\n'


@pytest.mark.parametrize(
    ("text", "practice"),
    [
        ("brisk-walk", "walking"),
        ("Spaziergang am See", "walking"),
        ("gå en tur", "walking"),
        ("Tai-Chi in the hall", "tai chi"),
        ("T’ai chi", "tai chi"),
        ("Wassergymnastik", "water"),
        ("tandem-stance", "hard balance"),
        ("stand on one leg", "hard balance"),
        ("EYES CLOSED", "hard balance"),
        ("une main sur la rampe", "held"),
        ("fingertips on the worktop", "held"),
        ("lie on the floor, knees bent", "floor"),
        ("half-kneeling lunge", "floor"),
        ("briskly, up the hill", "brisk"),
        ("do not stop, walk briskly", "brisk"),
        ("heel to toe, never without holding on", "held"),
        ("do not let go of the sink", "held"),
        ("small-jumps", "jumping"),
        ("sit-ups", "deep bending"),
    ],
)
def test_words_that_tell(text: str, practice: str) -> None:
    assert tells(text, practice)


@pytest.mark.parametrize(
    ("text", "practice"),
    [
        ("pelvic-floor", "floor"),
        ("seated, both feet flat on the floor", "floor"),
        ("lift a full water bottle", "water"),
        ("without the rail", "held"),
        ("ohne Festhalten", "held"),
        ("hands on hips", "held"),
        ("not too fast", "brisk"),
        ("there is no need to go fast", "brisk"),
        ("gehen, fast eben", "brisk"),
        ("houd de stok stevig vast", "brisk"),
        ("marcher côte à côte", "brisk"),
        ("let go of the rail", "held"),
        ("stand on a yoga mat", "floor"),
        ("hendene på kne", "floor"),
        ("no-jump landing", "jumping"),
        ("sit up tall", "deep bending"),
        ("after breakfast", "brisk"),
        ("tandem bike", "hard balance"),
        ("roll up the yoga mat", "yoga"),
        ("sidewalk", "walking"),
    ],
)
def test_words_that_mean_something_else(text: str, practice: str) -> None:
    assert not tells(text, practice)


def held(facts: Facts, name: str) -> object:
    return every().facts["exercise", "held"].get(facts, facts.plan.exercise(name))


def test_a_hand_on_something_in_the_first_variant_alone_is_no_hold(facts_of: Making) -> None:
    facts = facts_of(
        HEAD
        + 'exercise a\n  begin 2x10 s "hand on the rail"\n  then 2x20 s\n  then 2x10 s "arms crossed"\n'
        + 'exercise b\n  begin 2x10 s "hand on the rail"\n  then 2x20 s "two fingers on the worktop, or the rail"\n'
        + 'exercise c\n  hold on to "a friend"\n  begin 2x10 s\n'
        + 'exercise d\n  careful "beside the worktop"\n  begin 2x10 s\n'
        + "exercise e\n  begin 2x10 s\n"
    )
    assert [held(facts, name) for name in "abcde"] == [False, True, True, True, False]


def test_someone_is_there_only_where_every_session_says_so(facts_of: Making) -> None:
    session = 'session "{0}"\n  days Mon\n  at 08:00\n  do {1}\n'
    facts = facts_of(
        HEAD
        + "exercise a\n  begin 2x8\nexercise b\n  begin 2x8\n"
        + session.format("Hall", "a, b")
        + '  with "leader"\n'
        + session.format("Home", "b")
    )
    there = every().facts["exercise", "with-someone"].get
    assert [there(facts, facts.plan.exercise(name)) for name in "ab"] == [True, False]


def test_minutes_on_foot_are_those_of_walking_alone(facts_of: Making) -> None:
    facts = facts_of(
        HEAD
        + "exercise bike\n  kind aerobic\n  begin 40 min\n"
        + "exercise lake-walk\n  kind aerobic\n  begin 10 min\n  then 15 min\n  progress every 2 weeks\n"
        + "activity round-the-block\n  kind everyday\n  how walk\n  begin 6 min twice a day\n".replace("walk", '"walk"')
        + 'session "Out"\n  days Mon\n  at 08:00\n  do bike, lake-walk\n'
    )
    weeks = facts.weeks.weeks if facts.weeks else ()
    minutes, where = every().facts["week", "walking-minutes"].get, every().facts["week", "walked-in"].get
    assert [(minutes(facts, w), where(facts, w).name) for w in (weeks[0], weeks[2])] == [
        (12, "round-the-block"),
        (15, "lake-walk"),
    ]
