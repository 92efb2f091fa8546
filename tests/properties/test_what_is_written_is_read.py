"""Plans drawn together with their model are read into exactly that model, however they are laid out."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planlang.model.reading import read_plan
from planlang.text.source import Source
from tests.plan_texts import doses, laid_out, plans

quick = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)


@quick
@given(plans())
def test_a_plan_is_read_into_what_its_lines_say(drawn):
    lines, expected = drawn
    plan, findings = read_plan(Source("drawn.plan", "\n".join(lines)))
    assert [f.message for f in findings] == []
    assert plan == expected


@quick
@given(st.data())
def test_layout_quotes_and_comments_change_nothing(data):
    lines, expected = data.draw(plans())
    plan, findings = read_plan(Source("drawn.plan", data.draw(laid_out(lines))))
    assert [f.message for f in findings] == []
    assert plan == expected


@settings(max_examples=150, deadline=None)
@given(doses())
def test_a_dose_is_read_into_what_it_says(drawn):
    text, expected = drawn
    plan, findings = read_plan(
        Source("dose.plan", f'plan "x"\nstarts 2027-03-01\nlasts 9 weeks\nexercise a\nbegin {text}\n')
    )
    assert [f.message for f in findings] == []
    assert plan.exercises[0].steps[0].dose == expected
