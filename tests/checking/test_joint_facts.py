"""Facts of joints, operations and a surgeon's limits."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from planlang.checking.facts import every
from planlang.checking.facts.registry import Facts

Making = Callable[[str], Facts]
HEAD = """plan "Stairs without the rail"
  about knee osteoarthritis, right; hip osteoarthritis, left
  starts 2027-03-01
  lasts 8 weeks
"""
SESSION = 'session "Hall"\n  days Mon, Thu\n  do step-up\n'
STEP_UP = "exercise step-up\n  kind strength\n  works quadriceps\n  begin 2x6\n"


def fact(facts: Facts, owner: str, name: str, thing: Any) -> Any:
    return every().facts[owner, name].get(facts, thing)


def of_exercise(facts: Facts, name: str, exercise: str = "step-up") -> Any:
    return fact(facts, "exercise", name, facts.plan.exercise(exercise))


def of_operation(facts: Facts, name: str) -> Any:
    return fact(facts, "operation", name, facts.plan.operations[0])


def of_joint(facts: Facts, name: str) -> Any:
    return fact(facts, "joint-state", name, facts.plan.joints[0])


@pytest.mark.parametrize(
    ("lines", "loaded"),
    [
        ("kind strength\nworks calves\njoints knee, left", ("knee",)),
        ("kind strength\nworks calves", ("ankle", "knee")),
        ("kind strength\nworks quadriceps, gluteals", ("knee", "hip")),
        ("kind aerobic", ("hip", "knee", "ankle", "foot")),
        ("kind aerobic\ntags seated", None),
        ("kind strength", None),
        ("kind mobility", None),
    ],
)
def test_what_an_exercise_loads(lines: str, loaded: tuple[str, ...] | None, facts_of: Making) -> None:
    assert of_exercise(facts_of(f"{HEAD}exercise step-up\n{lines}\nbegin 2x6\n"), "loads") == loaded


@pytest.mark.parametrize(
    ("lines", "side"),
    [
        ("begin left 2x6\nthen left 2x8", "left"),
        ("begin right 2x6", "right"),
        ("begin left 2x6 right 2x8", None),
        ("begin left 2x6\nthen 2x8", None),
        ("joints knee, right\nbegin 2x6", "right"),
        ("joints knee, both\nbegin 2x6", None),
        ("begin 2x6", None),
    ],
)
def test_the_side_of_an_exercise(lines: str, side: str | None, facts_of: Making) -> None:
    assert of_exercise(facts_of(f"{HEAD}exercise step-up\nkind strength\n{lines}\n"), "side") == side


def test_first_and_last_day_of_what_is_done(facts_of: Making) -> None:
    facts = facts_of(HEAD + STEP_UP + SESSION + "  training weeks 2 to 3\n")
    assert of_exercise(facts, "first-done") == date(2027, 3, 8)
    assert of_exercise(facts, "last-done") == date(2027, 3, 18)


def test_what_is_in_no_session_is_never_done(facts_of: Making) -> None:
    facts = facts_of(HEAD + STEP_UP)
    assert (of_exercise(facts, "first-done"), of_exercise(facts, "last-done")) == (None, None)


@pytest.mark.parametrize(
    ("line", "by_date"),
    [
        ("progress every 2 weeks by date", True),
        ('progress every 2 weeks by date, one step down if "above 6/10"', True),
        ('progress every 2 weeks if "easy"', False),
        ("progress after 2 sessions clean, about every week", False),
    ],
)
def test_going_up_by_the_date(line: str, by_date: bool, facts_of: Making) -> None:
    assert of_exercise(facts_of(f"{HEAD}{STEP_UP}  then 2x8\n  {line}\n"), "by-date") is by_date


@pytest.mark.parametrize(
    ("words", "joints", "replaced"),
    [
        ("knee replacement", ("knee",), "knee replacement"),
        ("second total knee arthroplasty", ("knee",), "knee replacement"),
        ("left hip arthroplasty", ("hip",), "hip replacement"),
        ("arthroscopy of the knee", ("knee",), None),
        ("fixation of ankle and foot", ("ankle", "foot"), None),
        ("cataract", (), None),
    ],
)
def test_what_was_operated_on(words: str, joints: tuple[str, ...], replaced: str | None, facts_of: Making) -> None:
    facts = facts_of(f'{HEAD}operation 2027-01-18 "{words}"\n')
    assert of_operation(facts, "joints") == joints
    assert of_operation(facts, "replaced-joint") == replaced
    assert of_operation(facts, "is-a-replacement") is (replaced is not None)


@pytest.mark.parametrize(
    ("said", "limited", "allowed"),
    [
        ("full", False, None),
        ("as tolerated", False, None),
        ("partial", True, None),
        ('"toe touch"', True, None),
        ("non", True, 0),
        ("20 kg", True, 20),
        ("44 lb", True, Fraction("19.9580644")),
        ("50 % of body-weight", True, 42),
    ],
)
def test_how_much_weight_the_leg_may_bear(said: str, limited: bool, allowed: Any, facts_of: Making) -> None:
    lines = f'operation 2027-02-15 "knee cartilage repair" left\nweight-bearing {said}\ntoday\nbody-weight 84 kg\n'
    facts = facts_of(HEAD + lines)
    assert of_operation(facts, "weight-limited") is limited
    found = of_operation(facts, "weight-allowed")
    assert found == allowed or (allowed is not None and abs(found - allowed) < Fraction(1, 1000))


def test_a_share_of_a_body_weight_that_is_not_written_is_not_known(facts_of: Making) -> None:
    facts = facts_of(f'{HEAD}operation 2027-02-15 "ankle" left\nweight-bearing 50 % of body-weight\n')
    assert (of_operation(facts, "weight-limited"), of_operation(facts, "weight-allowed")) == (True, None)


def test_a_limit_with_its_tags_and_its_end(facts_of: Making) -> None:
    lines = 'operation 2027-01-18 "hip replacement"\nlimits "no low chairs, no twisting" until 2027-04-12\n'
    facts = facts_of(HEAD + lines)
    (limit,) = every().facts["", "limits"].get(facts, None)
    assert fact(facts, "limit", "tags", limit) == ("low-chair", "twisting")
    assert fact(facts, "limit", "until", limit) == date(2027, 4, 12)
    assert fact(facts, "limit", "in-full", limit) == '"no low chairs, no twisting", until 2027-04-12'
    assert limit.span == facts.plan.operations[0].limits[0].span


@pytest.mark.parametrize(
    ("joint", "condition", "inflamed"),
    [
        ("knee, right", True, None),
        ("knee, left", False, None),
        ("knee", True, None),
        ("hip, left", True, None),
        ("ankle, left", False, None),
    ],
)
def test_what_explains_a_joints_state(joint: str, condition: bool, inflamed: str | None, facts_of: Making) -> None:
    facts = facts_of(f"{HEAD}joint {joint} swollen\n")
    assert of_joint(facts, "of-a-condition") is condition
    assert of_joint(facts, "inflamed-by") == inflamed


def test_an_inflammatory_condition_explains_a_hot_joint(facts_of: Making) -> None:
    facts = facts_of(HEAD.replace("hip osteoarthritis, left", "rheumatoid arthritis") + "joint wrist, left hot\n")
    assert of_joint(facts, "inflamed-by") == "rheumatoid arthritis"


def test_the_last_operation_on_that_side_is_the_joints_own(facts_of: Making) -> None:
    lines = """operation 2026-02-01 "knee replacement" left
operation 2027-01-18 "knee arthroscopy" left
operation 2027-02-01 "knee replacement" right
joint knee, left swollen
"""
    assert of_joint(facts_of(HEAD + lines), "operation").day == date(2027, 1, 18)


@pytest.mark.parametrize(
    ("exercise", "loaded"),
    [
        ("works quadriceps", ["step-up"]),
        ("joints knee, right", ["step-up"]),
        ("joints knee, both", ["step-up"]),
        ("joints knee, left", []),
        ("works upper-back", []),
    ],
)
def test_what_loads_a_joint_on_its_side(exercise: str, loaded: list[str], facts_of: Making) -> None:
    lines = f"joint knee, right hot\nexercise step-up\nkind strength\n{exercise}\nbegin 2x6\n{SESSION}"
    assert [it.name for it in of_joint(facts_of(HEAD + lines), "loaded-by")] == loaded


def test_a_limit_above_usual_is_worked_out(facts_of: Making) -> None:
    usual = "today\nusual-pain 4/10\n"
    above = facts_of(f"{HEAD}{usual}pain\naccept up to 2 points above usual during\n")
    assert fact(above, "pain", "whole-limit", above.plan.pain) == 6
    assert fact(above, "pain", "limit", above.plan.pain) is None
    fixed = facts_of(f"{HEAD}{usual}pain\naccept up to 5/10 during\n")
    assert fact(fixed, "pain", "whole-limit", fixed.plan.pain) == 5
    unsaid = facts_of(f"{HEAD}pain\naccept up to 2 points above usual during\n")
    assert fact(unsaid, "pain", "whole-limit", unsaid.plan.pain) is None
