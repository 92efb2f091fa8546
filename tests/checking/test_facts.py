"""Facts of a plan: what they come to, and where they stand."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from planlang.checking.expression.closures import Values, build
from planlang.checking.expression.parse import parse
from planlang.checking.expression.scope import Scope
from planlang.checking.expression.typer import Typer
from planlang.checking.facts import every
from planlang.checking.facts.registry import Facts
from planlang.checking.facts.weeks import run_up
from planlang.planning.week import Week
from planlang.syntax.statements import FORMS
from planlang.text.source import Span

Making = Callable[[str], Facts]
HEAD = "plan 'x'\n".replace("'", '"') + "  starts 2027-03-01\n  lasts 10 weeks\n  written 2027-02-20\n"
WALK = "activity walking\n  kind aerobic\n  begin 2000 steps/day\n  then 2600 steps/day\n  then 3400 steps/day\n"
STRENGTH = "exercise squat\n  kind strength\n  works quadriceps\n  begin 2x8\n"
KITCHEN = 'session "Kitchen"\n  at 08:00 for 15 min\n  place "kitchen"\n  do squat\n'


def value(facts: Facts, text: str) -> Any:
    scope = Scope(every())
    typed = Typer(scope).typed(parse(text))
    return build(typed.code, Values(every()))([facts, None, *[None] * scope.slots])


def raises(facts: Facts) -> list[tuple[int, int, int]]:
    """Each rise in daily steps as (calendar week, before, after)."""
    fact = every().facts["", "raises"]
    return [(r.week.number, int(r.before), int(r.after)) for r in fact.get(facts, None)]


def test_a_rise_is_between_training_weeks_at_own_level(facts_of: Making) -> None:
    facts = facts_of(HEAD + WALK + "  progress every 2 weeks\n")
    assert raises(facts) == [(3, 2000, 2600), (5, 2600, 3400)]


def test_a_lighter_week_makes_no_rise(facts_of: Making) -> None:
    lighter = "rest\n  room for 0 weeks\n  lighter every 3 weeks by 1 step\n"
    facts = facts_of(HEAD + lighter + WALK + "  progress every week\n")
    steps = [w.activities["walking"].step for w in facts.weeks.weeks[:5]] if facts.weeks else []
    assert steps == [0, 1, 0, 2, 2]
    assert raises(facts) == [(2, 2000, 2600), (4, 2600, 3400)]


def test_two_walking_blocks_are_one_story(facts_of: Making) -> None:
    first = "activity flat-walk\n  kind aerobic\n  begin 3000 steps/day\n  training weeks 1 to 4\n"
    second = "activity hill-walk\n  kind aerobic\n  begin 4000 steps/day\n  training weeks 5 to 10\n"
    assert raises(facts_of(HEAD + first + second)) == [(5, 3000, 4000)]


def test_the_run_up_is_the_training_weeks_before_then_the_base(facts_of: Making) -> None:
    text = (
        HEAD + "today\n  base strength 2 weeks\n" + STRENGTH + KITCHEN + "  days Mon, Thu\n  training weeks 2 to 10\n"
    )
    facts = facts_of(text)
    weeks: tuple[Week, ...] = facts.weeks.weeks if facts.weeks else ()
    assert [w.strength_sessions for w in run_up(facts, weeks[3])] == [2, 2, 0, 2, 2]


@pytest.mark.parametrize(
    ("days", "sessions", "on_days"),
    [
        ("days Mon, Thu", 2, 2),
        ("days Mon", 1, 1),
        ("days 3 a week, you choose", 3, 3),
        ("days every day", 7, 7),
    ],
)
def test_strength_sessions_and_days_of_a_week(days: str, sessions: int, on_days: int, facts_of: Making) -> None:
    facts = facts_of(HEAD + STRENGTH + KITCHEN + f"  {days}\n")
    assert value(facts, "(first week where its number is 2)'s strength-sessions") == sessions
    assert value(facts, "(first week where its number is 2)'s strength-days") == on_days


def test_two_sessions_on_one_day_are_one_day(facts_of: Making) -> None:
    again = KITCHEN.replace("Kitchen", "Evening").replace("08:00", "18:00")
    facts = facts_of(HEAD + STRENGTH + KITCHEN + "  days Mon\n" + again + "  days Mon\n")
    assert value(facts, "(first week where its number is 1)'s strength-sessions") == 2
    assert value(facts, "(first week where its number is 1)'s strength-days") == 1


REACH = HEAD + 'target "T"\n  by {by}\n  reach {dose} in squat\n' + STRENGTH + "  then 2x10\n  progress every 2 weeks\n"


@pytest.mark.parametrize(
    ("dose", "by", "verdict", "on_the_ladder", "first"),
    [
        ("2x10", "2027-03-14", "never", True, date(2027, 3, 15)),
        ("2x10", "2027-03-15", "always", True, date(2027, 3, 15)),
        ("2x12", "week 10", "never", False, None),
    ],
)
def test_what_is_not_met_without_rest_is_never_met(
    dose: str, by: str, verdict: str, on_the_ladder: bool, first: date | None, facts_of: Making
) -> None:
    facts = facts_of(REACH.format(dose=dose, by=by) + KITCHEN + "  days Mon, Thu\n")
    target = "(first target where its title is written)"
    assert value(facts, f"{target}'s verdict") == verdict
    assert value(facts, f"{target}'s on-the-ladder") is on_the_ladder
    assert value(facts, f"{target}'s first-reached") == first


@pytest.mark.parametrize(
    ("lines", "kind"),
    [
        ("reach 2x8 in squat", "reach"),
        ('keep "boots by the door" 5 days/week', "keep"),
        ('do "ask"', "do"),
        ("measured by chair-stands from 9 to 12", "measured"),
        ("", "none"),
    ],
)
def test_the_kind_of_a_target(lines: str, kind: str, facts_of: Making) -> None:
    facts = facts_of(HEAD + f'target "T"\n  {lines}\n' + STRENGTH)
    assert value(facts, "(first target where its title is written)'s kind") == kind


def test_hard_pairs_are_told_once_and_only_over_shared_muscles(facts_of: Making) -> None:
    other = "exercise bridge\n  kind strength\n  works gluteals\n  begin 2x8\n"
    text = HEAD + STRENGTH + other + KITCHEN.replace("do squat", "do squat, bridge") + "  days Mon, Tue\n"
    facts = facts_of(text)
    pairs = every().facts["", "pairs"].get(facts, None)
    assert [(p.first.name, p.second.name, p.muscles) for p in pairs] == [
        ("squat", "squat", ("quadriceps",)),
        ("bridge", "bridge", ("gluteals",)),
    ]


def test_sunday_and_monday_are_two_days_running(facts_of: Making) -> None:
    facts = facts_of(HEAD + STRENGTH + KITCHEN + "  days Mon, Sun\n")
    assert [str(p.day) for p in every().facts["", "pairs"].get(facts, None)] == ["2027-03-07"]


def test_facts_are_worked_out_once(facts_of: Making) -> None:
    facts = facts_of(HEAD + WALK + "  progress every 2 weeks\n")
    get = every().facts["", "raises"].get
    assert get(facts, None) is get(facts, None)


def test_every_fact_asks_for_statements_that_there_are() -> None:
    assert {word for fact in every().facts.values() for word in fact.asks} - set(FORMS) == set()


def test_every_place_of_a_fact_is_that_of_a_statement(facts_of: Making) -> None:
    facts = facts_of(HEAD + 'goal "G"\n  last done 2012\n  by 2027-05-01\n')
    source = facts.plan.source
    for owner, name, text in (
        ("goal", "last-done", "last done 2012"),
        ("goal", "date", "by 2027-05-01"),
        ("plan", "length", "lasts 10 weeks"),
    ):
        fact = every().facts[owner, name]
        span: Span | None = fact.at(facts, facts.plan.goal if owner == "goal" else facts.plan) if fact.at else None
        assert span is not None
        assert source.text[span.start : span.end] == text


def test_no_fact_raises_on_a_plan_that_says_almost_nothing(facts_of: Making) -> None:
    texts = (
        'plan "x"\n',
        HEAD + 'goal "G"\ntarget "T"\nrest\npain\ntoday\nexercise a\nsession "S"\nactivity b\nscreening 2027-01-01\n',
        HEAD + STRENGTH + WALK + KITCHEN + 'target "T"\n  reach 2x8 in nothing\nreview every 4 weeks\n',
    )
    for text in texts:
        facts = facts_of(text)
        for (owner, name), fact in every().facts.items():
            for thing in _things(facts, owner):
                if fact.asked is None:
                    fact.get(facts, thing)
                if fact.at is not None:
                    fact.at(facts, thing)
            assert name


def _things(facts: Facts, owner: str) -> list[Any]:
    """Everything of that kind that the plan holds."""
    if not owner:
        return [None]
    found: list[Any] = []
    for (of, _), fact in every().facts.items():
        if of == "" and fact.type.thing == owner:
            value = fact.get(facts, None)
            found += value if fact.type.name == "list" else [value] if value is not None else []
    return found
