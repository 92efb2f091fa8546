"""Facts of goals, contacts, ladders, kit, clashes and blocks: what they come to."""

from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from planlang.checking.beside import InTexts
from planlang.checking.facts.kit import stands_in, words
from planlang.checking.facts.registry import Facts
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.text.source import Source
from tests.checking.test_facts import HEAD, KITCHEN, STRENGTH, value

Making = Callable[[str], Facts]
GOAL = 'goal "G"\n'


@pytest.mark.parametrize(
    ("line", "size", "less", "unit"),
    [
        ("measured by chair-stands from 9 to 12", 3, False, "reps"),
        ("measured by chair-stand from 9 reps to 12 reps", 3, False, "reps"),
        ("measured by timed-up-and-go from 12 s to 10.5 s", Fraction("1.5"), True, "s"),
        ("measured by body-weight from 90 kg to 187.4 lb", Fraction("4.997"), True, "kg"),
        ("measured by six-minute-walk from 0.4 km to 460 m", Fraction("0.06"), False, "km"),
        ("measured by named-activity-2 from 4/10 to 6/10", 2, False, "points"),
    ],
)
def test_a_change_is_told_in_the_unit_of_its_beginning(
    line: str, size: Fraction, less: bool, unit: str, facts_of: Making
) -> None:
    facts = facts_of(HEAD + GOAL + f"  {line}\n")
    assert float(value(facts, "goal's change-size")) == pytest.approx(float(size), abs=0.01)
    assert value(facts, "goal's asks-for-less") is less
    assert value(facts, "goal's measure-unit") == unit


def test_kilograms_are_not_set_against_repetitions(facts_of: Making) -> None:
    facts = facts_of(HEAD + GOAL + "  measured by body-weight from 90 kg to 12 reps\n")
    assert value(facts, "goal's change-size") is None
    assert value(facts, "goal's asks-for-less") is None


@pytest.mark.parametrize(
    ("line", "error"),
    [
        ("measured by chair-stands from 9 to 12", Fraction("2.5")),  # Gill et al 2022
        ("measured by tug from 12 s to 11 s", Fraction("1.1")),  # Alghadir et al 2015
        ("measured by six-minute-walk from 400 m to 420 m", Fraction("61.3")),  # Kennedy et al 2005
        ("measured by six-minute-walk from 0.4 km to 0.42 km", Fraction("0.0613")),
        ("measured by named-activity-3 from 4 to 6", 3),  # Stratford et al 1995, from memory
        ("measured by pain from 6/10 to 4/10", None),
        ("measured by something-else from 6 to 4", None),
    ],
)
def test_a_measures_error_in_the_unit_of_the_change(line: str, error: Fraction | None, facts_of: Making) -> None:
    facts = facts_of(HEAD + GOAL + f"  {line}\n")
    assert value(facts, "goal's measuring-error") == error


def test_body_mass_index_in_the_units_written(facts_of: Making) -> None:
    # World Health Organization: weight in kg over the square of height in m
    today = "today\n  weight 80 kg\n  body-height 2 m\n"
    facts = facts_of(HEAD + today + GOAL + "  measured by body-weight from 80 kg to 72 kg\n")
    assert value(facts, "today's body-mass-index") == 20
    assert value(facts, "goal's body-mass-index") == 18
    inches = "today\n  body-weight 154 lb\n  height 70 inch\n"
    facts = facts_of(HEAD + inches)
    assert float(value(facts, "today's body-mass-index")) == pytest.approx(22.1, abs=0.05)


def test_without_a_height_there_is_no_body_mass_index(facts_of: Making) -> None:
    facts = facts_of(HEAD + "today\n  body-weight 80 kg\n")
    assert value(facts, "today's body-mass-index") is None


CALLS = 'session "Call"\n  days Tue\n  at 10:00 for 15 min\n  place "telephone"\n  visit in weeks 3, 8\n'


@pytest.mark.parametrize(
    ("lines", "count", "first", "last"),
    [
        ("", 0, None, None),
        ("review every 4 weeks\n", 2, date(2027, 3, 28), date(2027, 4, 25)),
        ("review at 2027-02-22, week 5, 2027-06-01\n", 2, date(2027, 4, 4), date(2027, 6, 1)),
        (CALLS, 2, date(2027, 3, 16), date(2027, 4, 20)),
        (CALLS + "review at week 2\n", 3, date(2027, 3, 14), date(2027, 4, 20)),
    ],
)
def test_contacts_are_reviews_and_visits_from_the_first_day_on(
    lines: str, count: int, first: date | None, last: date | None, facts_of: Making
) -> None:
    facts = facts_of(HEAD + lines)
    assert value(facts, "plan's contacts") == count
    assert value(facts, "plan's first-contact") == first
    assert value(facts, "plan's last-contact") == last


def exercise_with(lines: str) -> str:
    return HEAD + f"exercise squat\n  kind strength\n{lines}" + KITCHEN + "  days Mon, Thu\n"


@pytest.mark.parametrize(
    ("lines", "reachable"),
    [
        ("  begin 2x8\n", 1),
        ("  begin 2x8\n  then 2x10\n", 1),
        ("  begin 2x8 for 2 weeks\n  then 2x10\n", 2),
        ("  begin 2x8\n  then 2x10\n  then 3x10\n  progress every 2 weeks\n", 3),
        ("  begin 2x8 at 5 kg\n  rise 5 kg every week to 15 kg\n", 3),
    ],
)
def test_steps_that_a_pace_leads_to(lines: str, reachable: int, facts_of: Making) -> None:
    facts = facts_of(exercise_with(lines))
    assert value(facts, '(first exercise where its name is "squat")\'s reachable-steps') == reachable


def test_weeks_done_are_training_weeks_that_hold_it(facts_of: Making) -> None:
    facts = facts_of(exercise_with("  begin 2x8\n  training weeks 2 to 4\n"))
    assert value(facts, '(first exercise where its name is "squat")\'s weeks-done') == 3


@pytest.mark.parametrize(
    ("dose", "open_ended", "bounded"),
    [
        ("3x8", None, True),
        ("3x8 as tolerated", "as tolerated", True),
        ("as tolerated", "as tolerated", False),
        ("3x to fatigue", "to fatigue", False),
        ("3x to fatigue, at most 15", "to fatigue", True),
    ],
)
def test_doses_whose_end_is_open(dose: str, open_ended: str | None, bounded: bool, facts_of: Making) -> None:
    facts = facts_of(exercise_with(f"  begin {dose}\n"))
    assert value(facts, "(first dose where its bounded or not its bounded)'s open-ended") == open_ended
    assert value(facts, "(first dose where its bounded or not its bounded)'s bounded") is bounded


def test_a_dose_set_in_a_week_and_the_week_of_its_first_use(facts_of: Making) -> None:
    facts = facts_of(exercise_with("  begin 2x8\n  then to be set at week 6\n  progress every 3 weeks\n"))
    step = "(first unset where its step > 0)"
    assert value(facts, f"{step}'s set-in") == 6
    assert value(facts, f"{step}'s first-used") == 4
    assert value(facts, f"{step}'s step") == 2


@pytest.mark.parametrize(
    ("text", "other", "found"),
    [
        ("2 kg weight", "borrow a 2 kg weight", True),
        ("2kg weights", "borrow a 2 kg weight", True),
        ("sturdy chair", "Chair, sturdy", True),
        ("2 kg weight", "a 12 kg weight", False),
        ("long band", "band", False),
        ("the", "the", False),
        ("Übungsband", "ein langes übungsband", True),
        ("band round the knees", "buy a band", True),
        ("ankle weights", "weights", False),
        ("chair", "wheelchair", False),
    ],
)
def test_kit_is_met_by_its_words(text: str, other: str, found: bool) -> None:
    assert stands_in(text, other) is found


@pytest.mark.parametrize(
    ("text", "other", "found"),
    [("strikk", "treningsstrikk", True), ("solid stol", "stol", False), ("bed", "embed", False)],
)
def test_where_words_are_joined_the_last_part_is_enough(text: str, other: str, found: bool) -> None:
    assert stands_in(text, other, compounds=True) is found


def test_words_of_a_text() -> None:
    assert words("2 kg weights, a glass") == ("2", "kg", "weight", "a", "glass")


def needs(facts: Facts) -> list[tuple[Any, ...]]:
    found = []
    for n in value(facts, "needs"):
        found.append((n.text, n.used, n.in_hand, n.prepared))
    return found


BAND = '  begin 2x8\n  then 2x8 with "firm band"\n  then 2x8 at 4 kg\n  progress every 2 weeks\n'


def test_what_is_needed_and_from_when(facts_of: Making) -> None:
    facts = facts_of(exercise_with(BAND) + '  kit "chair", "mat" from step 2\nprepare "buy a firm band" by week 2\n')
    assert needs(facts) == [
        ("firm band", date(2027, 3, 15), False, True),
        ("4 kg", date(2027, 3, 29), False, False),
        ("chair", date(2027, 3, 1), False, False),
        ("mat", date(2027, 3, 15), False, False),
    ]


@pytest.mark.parametrize(("weights", "in_hand"), [("1, 2, 3 kg", True), ("2, 3 kg", False), ("4 kg", True)])
def test_weights_that_can_be_put_together_are_there(weights: str, in_hand: bool, facts_of: Making) -> None:
    facts = facts_of(exercise_with("  begin 2x8 at 4 kg\n") + f"today\n  weights {weights}\n")
    assert needs(facts) == [("4 kg", date(2027, 3, 1), in_hand, False)]


def clashes(facts: Facts) -> list[tuple[str, str, int]]:
    return [(c.first.name, c.second.name, c.days) for c in value(facts, "clashes")]


def session(name: str, days: str, at: str) -> str:
    return f'session "{name}"\n  days {days}\n  at {at}\n  place "hall"\n  do squat\n'


@pytest.mark.parametrize(
    ("sessions", "found"),
    [
        ([("A", "Mon", "08:00 for 30 min"), ("B", "Mon", "08:29 for 30 min")], [("A", "B", 10)]),
        ([("A", "Mon", "08:00 for 30 min"), ("B", "Mon", "08:30 for 30 min")], []),
        ([("A", "Mon", "08:00 for 30 min"), ("B", "Tue", "08:00 for 30 min")], []),
        (
            [("B", "Mon", "08:00 for 90 min"), ("A", "Mon", "08:30 for 10 min"), ("C", "Mon", "09:00")],
            [("B", "A", 10), ("B", "C", 10)],
        ),
        ([("A", "Mon", "08:00, 08:10 for 30 min")], [("A", "A", 10)]),
        ([("A", "2 a week, you choose", "08:00 for 30 min"), ("B", "Mon", "08:00 for 30 min")], []),
    ],
)
def test_sessions_that_begin_before_another_is_over(
    sessions: list[tuple[str, str, str]], found: list[tuple[str, str, int]], facts_of: Making
) -> None:
    facts = facts_of(HEAD + STRENGTH + "".join(session(*one) for one in sessions))
    assert clashes(facts) == found


def test_a_clash_only_where_the_training_weeks_meet(facts_of: Making) -> None:
    early = session("A", "Mon", "08:00 for 30 min") + "  training weeks 1 to 4\n"
    late = session("B", "Mon", "08:00 for 30 min") + "  training weeks 4 to 10\n"
    assert clashes(facts_of(HEAD + STRENGTH + early + late)) == [("A", "B", 1)]


BEFORE = 'plan "Before"\n  starts 2027-01-04\n  lasts 8 weeks\n'


def in_blocks(now: str, before: str) -> Facts:
    plan, _ = read_plan(Source("now.plan", now))
    assert plan is not None
    return Facts(plan, reckon(plan), None, InTexts({"before.plan": before}))


LADDER = (
    "exercise squat\n  kind strength\n  begin 2x6\n  then 2x8\n  then 2x10\n  then 3x10\n  progress every 3 weeks\n"
)


@pytest.mark.parametrize(
    ("begin", "up", "lower"),
    [
        ("2x10", 0, False),
        ("3x10", 1, False),
        ("2x8", -1, True),
        ("2x9", -1, True),
        ("1x4", -3, True),
        ("30 s", None, None),
    ],
)
def test_where_a_block_begins_on_the_ladder_of_the_one_before(begin: str, up: int | None, lower: bool | None) -> None:
    now = HEAD + '  continues "before.plan"\nexercise squat\n  kind strength\n' + f"  begin {begin}\n"
    facts = in_blocks(now, BEFORE + LADDER + KITCHEN + "  days Mon, Thu\n")
    carried = "(first carried where its had-lower-steps)"
    assert value(facts, f"{carried}'s ended") == "2x10"
    assert value(facts, f"{carried}'s steps-up") == up
    assert value(facts, f"{carried}'s begins-lower") is lower


def test_the_gap_between_blocks_counts_days_away_at_the_end() -> None:
    now = HEAD + '  continues "before.plan"\n'
    assert value(in_blocks(now, BEFORE), "plan's gap-before") == 0
    away = BEFORE + "  away 2027-02-22 to 2027-02-28\n"
    assert value(in_blocks(now, away), "plan's gap-before") == 7  # in days, the base unit of spans


def test_without_the_block_before_nothing_is_known_of_it(facts_of: Making) -> None:
    facts = facts_of(HEAD + '  continues "before.plan"\n' + LADDER)
    assert facts.previous is None
    assert facts.unknown == {"continues"}
    assert value(facts, "plan's gap-before") is None
    assert value(facts, "carried-on") == ()


ROOM = HEAD.replace("10 weeks", "18 weeks") + "  about knee osteoarthritis, left\n"


@pytest.mark.parametrize(
    ("lines", "share", "enough"),
    [
        ("", 80, 2),  # the table of default rooms: 2 weeks in 18 for 80 %
        ("rest\n  room for 3 weeks\n  expect 1 flare in 8 weeks lasting 1 week\n", 80, 3),
        ("rest\n  room for 3 weeks\n  expect 1 flare in 8 weeks lasting 1 week\n", 95, 4),
    ],
)
def test_room_that_is_enough_for_the_flares_expected(lines: str, share: int, enough: int, facts_of: Making) -> None:
    facts = facts_of(ROOM + lines)
    assert value(facts, f"plan's room-enough for {share} %") == 7 * enough  # in days, the base unit of spans
    assert value(facts, "plan's expects-itself") is bool(lines)


def test_where_nothing_is_published_no_room_is_reckoned(facts_of: Making) -> None:
    facts = facts_of(ROOM.replace("knee", "hand"))
    assert value(facts, "plan's room-enough for 80 %") is None
    assert value(facts, "plan's expected-flares") is None
