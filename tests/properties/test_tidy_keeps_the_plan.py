"""Text to plan to text: tidied it is the same plan, tidied twice the same text, and every comment is still there."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planlang.model.reading import read_plan
from planlang.syntax.tidy import tidy
from planlang.text.source import Source
from tests.plan_texts import laid_out, plans
from tests.properties.texts import texts
from tests.properties.whole import every_line_is_there

some = settings(
    max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
few = settings(some, max_examples=40)


def tidied(text: str) -> str:
    made = tidy(Source("any.plan", text))
    assert [f.message for f in made.findings] == []
    return made.text


@few
@given(st.data())
def test_a_drawn_plan_is_the_same_plan_after_tidying(data):
    lines, expected = data.draw(plans())
    plan, findings = read_plan(Source("drawn.plan", tidied(data.draw(laid_out(lines)))))
    assert [f.message for f in findings] == []
    assert plan == expected


@some
@given(texts)
def test_any_text_says_the_same_after_tidying(text):
    before, after = read_plan(Source("any.plan", text)), read_plan(Source("any.plan", tidied(text)))
    assert before[0] == after[0]
    assert [(f.rule, f.level) for f in before[1]] == [(f.rule, f.level) for f in after[1]]


@some
@given(texts)
def test_tidying_twice_is_tidying_once(text):
    once = tidied(text)
    assert tidied(once) == once


@some
@given(texts)
def test_lines_that_cannot_be_read_are_kept_as_they_are(text):
    before, after = every_line_is_there(text), every_line_is_there(tidied(text))
    assert [line.word for line in before.lines if hasattr(line, "word")] == [
        line.word for line in after.lines if hasattr(line, "word")
    ]


@few
@given(st.data())
def test_a_line_of_another_language_costs_one_finding_and_nothing_else(data):
    lines, expected = data.draw(plans())
    at = data.draw(st.integers(1, len(lines)))
    garbage = data.draw(st.sampled_from(["%%% ???", "..., 3 3 3", "~", "@@ 12 kg", "( x )"]))
    plan, findings = read_plan(Source("drawn.plan", "\n".join([*lines[:at], garbage, *lines[at:]])))
    assert [f.rule for f in findings] == ["unreadable"]
    assert findings[0].source.place(findings[0].span).line == at + 1
    assert plan == expected
