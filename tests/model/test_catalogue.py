"""The data of conditions, signs and measures against their published tables."""

from datetime import date
from fractions import Fraction

import pytest

from planlang.model.carried import carried, replaced_joint
from planlang.model.catalogue import conditions, kinds, measures, muscle, muscles, read_catalogue, signs
from planlang.model.known import BUILT_IN
from planlang.model.plan import Condition, Operation, Plan, Screening
from planlang.model.quantity import UNITS
from planlang.model.records import Muscle
from planlang.model.rest import SignLeftOut
from planlang.text.source import Source


def a_plan(**parts) -> Plan:
    parts.setdefault("about", (Condition("knee osteoarthritis"),))
    return Plan("Steps to the jetty", Source("a.plan", ""), starts=date(2027, 3, 1), **parts)


def names(plan: Plan, on: date | None = None) -> set[str]:
    return {s.name for s in carried(plan, on)}


def rows(name: str, table: str) -> dict:
    norms = next(n for n in BUILT_IN.measure(name).norms if n.table == table)
    return {(row.ages[0], row.sex): row for row in norms.rows}


def test_every_measure_has_a_known_unit():
    for known in measures().values():
        assert all(unit == "/10" or unit in UNITS for unit in (known.unit, *known.units)), known.name


def test_every_sign_names_known_conditions_and_a_ground():
    for sign in signs().values():
        assert set(sign.carried_for.conditions) <= set(conditions())
        assert set(sign.carried_for.operations) <= {c.name for c in conditions().values() if c.operation}
        assert sign.grounds, sign.name


def test_no_alias_names_two_things():
    for known in (conditions(), measures(), muscles()):
        words = [w for entry in known.values() for w in (entry.name, *entry.aliases)]
        assert len(words) == len(set(words))


def test_emergencies_come_first():
    order = ["emergency", "today", "tell us"]
    shown = [s.do for s in carried(a_plan())]
    assert shown == sorted(shown, key=order.index)


def test_knee_plan_carries_the_signs_of_a_knee():
    assert {"heart", "stroke", "clot-lung", "hot-joint", "calf-clot", "cannot-bear", "locked"} <= names(a_plan())
    assert not {"saddle", "wound", "dislocated", "low-sugar"} & names(a_plan())


def test_hand_plan_carries_no_sign_of_the_leg():
    assert not {"calf-clot", "cannot-bear", "locked"} & names(a_plan(about=(Condition("hand osteoarthritis"),)))


def test_condition_without_data_carries_the_signs_of_other_joint_pain():
    assert {"saddle", "calf-clot", "inflamed"} <= names(a_plan(about=(Condition("some rare thing"),)))


def test_plan_that_says_nothing_of_its_condition_carries_them_too():
    assert {"saddle", "calf-clot", "inflamed"} <= names(a_plan(about=()))


def test_wound_is_carried_for_twelve_weeks_and_dislocation_for_life():
    plan = a_plan(operations=(Operation(date(2027, 2, 1), "hip replacement"),))
    assert {"wound", "dislocated", "thigh"} <= names(plan, date(2027, 4, 25))
    assert "wound" not in names(plan, date(2027, 4, 26))
    assert "dislocated" in names(plan, date(2045, 1, 1))
    assert replaced_joint(plan)


def test_wound_and_calf_are_carried_after_any_operation():
    plan = a_plan(
        about=(Condition("hand osteoarthritis"),), operations=(Operation(date(2027, 2, 1), "ankle fixation"),)
    )
    assert {"wound", "calf-clot"} <= names(plan)
    assert names(plan, date(2027, 4, 26)) & {"wound", "calf-clot"} == {"calf-clot"}


def test_operation_is_known_within_longer_words():
    assert "bend-lost" in names(a_plan(operations=(Operation(date(2027, 2, 1), "second knee replacement"),)))


def test_medicine_and_bones_bring_their_signs():
    screening = Screening(date(2027, 2, 22), takes=("blood-thinner",), bones="fragile")
    assert {"fall-thinner", "spine-snap"} <= names(a_plan(screening=screening))


@pytest.mark.parametrize("name", ["heart", "clot-lung", "hot-joint"])
def test_some_signs_cannot_be_left_out(name):
    assert name in names(a_plan(signs_left_out=(SignLeftOut(name, "told elsewhere", "T-03"),)))


def test_sign_is_left_out_only_with_reason_and_name():
    assert "locked" not in names(a_plan(signs_left_out=(SignLeftOut("locked", "old, known and stable", "T-03"),)))
    assert "locked" in names(a_plan(signs_left_out=(SignLeftOut("locked", None, "T-03"),)))


def test_chair_stand_table_of_steadi():
    # CDC STEADI, 30-Second Chair Stand: below average if less than
    table = rows("chair-stands", "below average if less than low")
    assert [table[age, "men"].low for age in range(60, 95, 5)] == [14, 12, 12, 11, 10, 8, 7]
    assert [table[age, "women"].low for age in range(60, 95, 5)] == [12, 11, 10, 10, 9, 8, 4]


def test_chair_stand_editions_differ_in_two_rows_only():
    # Rikli and Jones 1999 against the 2013 manual
    first = rows("chair-stands", "25th to 75th centile, first edition")
    second = rows("chair-stands", "25th to 75th centile, second edition")
    assert {key for key in first if first[key] != second[key]} == {(65, "men"), (85, "men")}


def test_timed_up_and_go_norms():
    # Bohannon 2006, J Geriatr Phys Ther 29:64
    table = rows("timed-up-and-go", "mean and its 95 % interval; slower than high is worse than average")
    assert [(float(r.low), float(r.mean), float(r.high)) for r in table.values()] == [
        (7.1, 8.1, 9.0),
        (8.2, 9.2, 10.2),
        (10.0, 11.3, 12.7),
    ]


def test_six_minute_walk_of_enright_and_sherrill():
    # Enright and Sherrill 1998; the two values are our own arithmetic on the printed formula
    men, women = BUILT_IN.measure("six-minute-walk").equations[:2]
    assert men.predict(Fraction(175), 65, Fraction(85)) == Fraction("539.85")
    assert women.predict(Fraction(162), 65, Fraction(75)) == Fraction("461.37")


def test_equations_of_six_minute_walk_are_within_what_is_said_of_them():
    # ERS/ATS 2014, table 5: the equations differ by 50 to 100 m for one person, some by more
    values = [float(e.predict(Fraction(170), 70, Fraction(75))) for e in BUILT_IN.measure("six-minute-walk").equations]
    assert 400 < min(values) < max(values) < 750


def test_default_flare_rate_stands_for_knee_and_hip_only():
    with_rates = {name for name, c in conditions().items() if c.rate}
    assert with_rates == {"knee osteoarthritis", "hip osteoarthritis"}
    assert conditions()["hip osteoarthritis"].rate.note == "borrowed from the knee"


def test_words_for_a_condition_are_read_in_any_case():
    assert BUILT_IN.condition("Knee OA") is conditions()["knee osteoarthritis"]
    assert BUILT_IN.condition("nothing of ours") is None


def test_numbered_activity_is_of_its_kind():
    assert BUILT_IN.measure("named-activity-2") is measures()["named-activity"]
    assert BUILT_IN.measure("chair-stands-2") is None


def test_muscle_by_its_other_name():
    assert muscle("quads") is muscles()["quadriceps"]


def test_strength_needs_two_sessions_a_week():
    assert {name: kind.base for name, kind in kinds().items()} == {
        "strength": 2,
        "balance": 1,
        "mobility": 1,
        "aerobic": 1,
        "everyday": 1,
        "relaxation": 1,
    }


@pytest.mark.parametrize(
    ("text", "message", "at", "help"),
    [
        ("- {name: x, leg: 'y', joints: []}", '"leg" should be true or false, and is "y"', "'y'", ""),
        ("- {name: x, leg: true, joints: a}", '"joints" should be a list, and is "a"', "a}"[:1], "Write it as"),
        ("- {name: x, legs: true, joints: []}", 'nothing here is called "legs"', "legs", 'Did you mean "leg"?'),
        ("- {name: 3, leg: true, joints: []}", '"name" should be text, and is 3', "3", ""),
        (
            "- {name: x, leg: true, joints: []}\n- {name: x, leg: true, joints: []}",
            '"x" is described twice',
            "name",
            "",
        ),
        ("name: x", "this file should be a list, each entry beginning with a dash", None, ""),
    ],
)
def test_faulty_file_is_named_with_its_place(text, message, at, help):
    source = Source("muscles.yaml", text)
    _, findings = read_catalogue(Muscle, source)
    found = next(f for f in findings if f.message == message)
    assert found.advice.startswith(help)
    assert at is None or source.text[found.span.start : found.span.end] == at


def test_missing_key_is_named():
    findings = read_catalogue(Muscle, Source("muscles.yaml", "- {name: x, joints: []}"))[1]
    assert [f.message for f in findings] == ['"leg" is missing here']
