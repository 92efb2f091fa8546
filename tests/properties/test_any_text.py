"""Any text at all ends in findings or a plan, never an exception."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from planlang.syntax.nodes import Statement
from planlang.syntax.statements import FORMS, Form
from tests.properties.texts import (
    EXTREMES,
    HEADING,
    VALUE,
    any_text,
    shuffled_examples,
    spoiled_plans,
    texts,
    with_value,
    word_salads,
)
from tests.properties.whole import checking, every_line_is_there, reading, reckoning

some = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
few = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@some
@given(any_text)
def test_characters_in_any_order_are_read(text):
    reading(text)


@some
@given(word_salads())
def test_the_language_s_own_words_in_any_order_are_reckoned(text):
    reckoning(text)


@some
@given(shuffled_examples())
def test_statements_in_any_order_are_reckoned(text):
    reckoning(text)


@some
@given(spoiled_plans())
def test_real_plans_spoiled_are_reckoned(text):
    reckoning(text)


@few
@given(texts)
def test_whatever_is_written_is_checked_and_made_a_calendar_or_refused(text):
    checking(text)


@some
@given(texts)
def test_no_line_is_ignored(text):
    script = every_line_is_there(text)
    said = [line for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n") if line.strip(" \t\ufeff\xa0")]
    worded = [line for line in said if not line.lstrip(" \t\ufeff\xa0").startswith("#")]
    if all(line.isprintable() for line in worded) and '"' not in text and "“" not in text:
        assert len(script.lines) == len(worded)


def home(form: Form) -> list[str]:
    """Lines after which a statement stands where it belongs."""
    if form.name == "plan":
        return ["starts 2027-03-01", "lasts 12 weeks"]
    block = form.blocks[0]
    header = [FORMS[block].example] if block in FORMS and block not in ("plan", form.name) else []
    return [*HEADING, *header]


@pytest.mark.parametrize("form", FORMS.values(), ids=lambda f: f.name)
def test_extreme_values_in_a_statement_are_findings_or_a_plan(form):
    values = len(VALUE.findall(form.example)) or 1
    for number in range(values):
        for value in EXTREMES:
            reckoning("\n".join([*home(form), with_value(form.example, number, value)]))


@pytest.mark.parametrize("form", FORMS.values(), ids=lambda f: f.name)
def test_a_statement_s_own_example_stands_at_home_without_a_finding_of_its_own(form):
    text = "\n".join([*home(form), form.example])
    script = every_line_is_there(text)
    assert script.findings == ()
    assert isinstance(script.lines[-1], Statement)
    assert script.lines[-1].name == form.name
