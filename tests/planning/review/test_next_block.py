"""The proposal for the next block: plan text that is read whole, starts where this one ended, and is a draft."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.model.quantity import Quantity
from planlang.model.reading import read_plan
from planlang.planning.review.next_block import Reached, following_title, next_block, next_start
from planlang.planning.weeks import day_of
from planlang.syntax.tidy import tidy
from planlang.text.resources import folder
from planlang.text.source import Source

PEOPLE = sorted((folder("examples") / "people").glob("*.plan"))
PLANS = {path.stem: path.read_text(encoding="utf-8") for path in PEOPLE}
AS_OF = date(2027, 6, 28)


def plan_of(text: str, name: str = "this.plan"):
    plan, findings = read_plan(Source(name, text))
    assert plan is not None
    return plan, findings


def own(text: str) -> list[str]:
    """The plans that name no template: a draft from a template is looked at elsewhere."""
    return [line for line in text.splitlines() if line.lstrip().startswith("from template")]


NAMES = [name for name, text in PLANS.items() if not own(text)]


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.data())
def test_it_is_read_whole_and_starts_each_ladder_where_it_stood(data) -> None:
    plan, before = plan_of(PLANS[data.draw(st.sampled_from(NAMES))])
    steps = {e.name: data.draw(st.integers(-1, len(e.steps) - 1)) for e in plan.exercises}
    met = frozenset(t.title for t in plan.targets if data.draw(st.booleans()))
    text = next_block(plan, Reached(steps, {}, met, AS_OF))
    assert text is not None
    new, found = plan_of(text, "next.plan")
    assert [f.message for f in found] == [f.message for f in before]
    assert new.draft
    assert new.continues == "this.plan"
    assert new.starts == next_start(plan, AS_OF)
    assert [t.title for t in new.targets] == [t.title for t in plan.targets if t.title not in met]
    for exercise in plan.exercises:
        after = new.exercise(exercise.name)
        assert after is not None
        stood = max(steps[exercise.name], 0)
        assert after.steps[0].dose == exercise.steps[stood].dose
        assert after.steps[-1].dose == exercise.steps[-1].dose
        assert len(after.steps) == len(exercise.steps) - stood
        if stood and not exercise.daily and not exercise.weekly:
            assert after.easier is not None
            assert after.easier.dose == exercise.steps[stood - 1].dose
    dates = [day_of(new, aim.by) for aim in (new.goal, *new.targets) if aim]
    assert all(day is None or day >= new.starts for day in dates)


@pytest.mark.parametrize("name", NAMES)
def test_a_tidy_plan_gives_a_tidy_proposal(name: str) -> None:
    text = PLANS[name]
    plan, _ = plan_of(tidy(Source("x", text)).text)
    made = next_block(plan, Reached({e.name: 1 for e in plan.exercises}, {}, frozenset(), AS_OF))
    assert made is not None
    assert tidy(Source("x", made)).text == made


def test_the_newest_measures_take_the_place_of_the_old() -> None:
    plan, _ = plan_of(PLANS["p014-allotment"])
    newest = {"chair-stands": Quantity(Fraction(11), "reps"), "usual-pain": Quantity(Fraction(2))}
    text = next_block(plan, Reached({}, newest, frozenset(), AS_OF))
    assert text is not None
    new, _ = plan_of(text)
    stands, pain, weight = (new.today.measure(m) for m in ("chair-stands", "usual-pain", "body-weight"))
    assert stands is not None and stands.value == newest["chair-stands"]  # noqa: PT018
    assert pain is not None and (pain.value, pain.rating_of) == (newest["usual-pain"], 10)  # noqa: PT018
    assert weight is not None and weight.private  # noqa: PT018


def test_it_starts_on_the_weekday_of_this_one_after_the_review() -> None:
    plan, _ = plan_of(PLANS["p014-allotment"])
    assert next_start(plan, date(2027, 3, 1)) == plan.starts + timedelta(weeks=plan.weeks)
    late = next_start(plan, date(2028, 1, 15))
    assert late > date(2028, 1, 15)
    assert late.weekday() == plan.starts.weekday()


@pytest.mark.parametrize(
    ("title", "following"),
    [("Two raised beds", "Two raised beds, block 2"), ("Two raised beds, block 2", "Two raised beds, block 3")],
)
def test_blocks_are_counted(title: str, following: str) -> None:
    assert following_title(title) == following


def test_a_plan_that_cannot_be_reckoned_has_no_next_block() -> None:
    plan, _ = plan_of('plan "x"\n')
    assert next_block(plan, Reached({}, {}, frozenset(), AS_OF)) is None
