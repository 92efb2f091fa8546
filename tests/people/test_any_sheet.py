"""Any plan with any placement of rest has a sheet for each of its weeks, and nothing that is due is left off it."""

from __future__ import annotations

from attrs import evolve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import html as lxml_html

from planlang.model.plan import Plan
from planlang.model.say import dose_words, name_text
from planlang.people.sheet.html import html
from planlang.people.sheet.lifted import in_weights
from planlang.people.sheet.making import sheet
from planlang.people.sheet.pdf import pdf
from planlang.planning.reckon import reckon
from planlang.planning.week import WeekKind
from planlang.text.languages.words import words
from tests.people.sheets import CLINIC, plan_of
from tests.plan_texts import plans
from tests.strategies import plans_with_rest

quick = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


@quick
@given(plans_with_rest(), st.sampled_from(["en", "es", "ar"]), st.booleans())
def test_every_week_has_a_sheet_with_all_that_is_done_in_it(
    case: tuple[Plan, frozenset[int]], code: str, large: bool
) -> None:
    plan, rest = case
    weeks = reckon(plan, rest)
    for week in weeks.weeks:
        told = words(code, plan.language)
        made = sheet(weeks, week.number, CLINIC, told, large, lambda more: reckon(plan, rest | {more}))
        lines = " | ".join(made.lines())
        root = lxml_html.fromstring(html(made))
        assert root.get("lang") == code
        due = {name for sitting in week.sittings for name in sitting.exercises} | set(week.activities)
        if week.kind is WeekKind.REST:
            due = set(week.exercises) | set(week.activities)
        for name in due:
            done = week.exercises.get(name) or week.activities.get(name)
            if done:
                assert name_text(name) in lines
                assert dose_words(done.dose, told) in lines


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_whatever_a_plan_says_its_sheet_is_a_page(data: st.DataObject) -> None:
    """Every statement of the language: nothing of it makes the sheet fail."""
    lines, _ = data.draw(plans())
    plan = plan_of("\n".join(lines))
    weeks = reckon(plan)
    if not weeks.weeks or len(weeks.weeks) > 60:
        return
    number = data.draw(st.integers(1, len(weeks.weeks)))
    told = words(data.draw(st.sampled_from(["en", "es", "he"])), plan.language)
    page = html(sheet(weeks, number, CLINIC, told))
    assert lxml_html.fromstring(page).findall(".//h1")
    assert "body weight" not in page.lower()


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(plans_with_rest(), st.sampled_from(["en", "es", "ar"]))
def test_every_sheet_is_a_pdf(case: tuple[Plan, frozenset[int]], code: str) -> None:
    plan, rest = case
    weeks = reckon(plan, rest)
    data, findings = pdf(sheet(weeks, 1, CLINIC, words(code, plan.language)))
    assert data.startswith(b"%PDF")
    assert findings == ()


@quick
@given(plans_with_rest())
def test_a_plan_without_shares_of_a_weight_keeps_its_weeks(case: tuple[Plan, frozenset[int]]) -> None:
    plan, rest = case
    weeks = reckon(evolve(plan), rest)
    assert in_weights(weeks) is weeks
