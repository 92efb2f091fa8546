"""Whatever stands in a diary, it is read, said and looked back on; nothing raises, and no week is lost."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planlang.model.reading import read_diary, read_plan
from planlang.planning.diary_days import past_faults
from planlang.planning.diary_faults import diary_faults
from planlang.planning.leeway.reckon import leeway
from planlang.planning.leeway.standing_at import origin_of
from planlang.planning.looking_back import past_of
from planlang.planning.reckon import reckon
from planlang.text.load import load
from planlang.text.source import Source
from tests.planning.plans import plan_of
from tests.planning.test_looking_back import TURNS
from tests.strategies import examples

PEOPLE = sorted((Path(__file__).parents[2] / "examples" / "people").glob("*.plan"))
QUIET = [HealthCheck.too_slow, HealthCheck.data_too_large]
WORDS = [
    "flare",
    "flare over",
    "illness",
    "illness over",
    "pause",
    "pause over",
    "rest",
    "rest for knee",
    "fell",
    "gave way",
]


def plans():
    """The examples that need no other file, and one with sessions in turn."""
    found = [plan_of(TURNS, weeks=6)]
    for path in PEOPLE:
        source = load(path)
        assert isinstance(source, Source)
        plan, _ = read_plan(source)
        if plan is not None and plan.starts and plan.weeks:
            found.append(plan)
    return found


PLANS = plans()


@st.composite
def told(draw):
    """A plan, lines about it that may be anything, and the day to look back from."""
    plan = draw(st.sampled_from(PLANS))
    assert plan.starts is not None
    assert plan.weeks is not None
    sessions = [*(s.name for s in plan.sessions), "Another"]
    names = [*(e.name for e in plan.exercises), "another"]
    days = st.one_of(st.integers(-10, 7 * plan.weeks + 10), st.sampled_from([-40_000, 60_000]))

    def day():
        return (plan.starts + timedelta(draw(days))).isoformat()

    lines = ["diary for P-014"]
    for _ in range(draw(st.integers(0, 25))):
        session, name = draw(st.sampled_from(sessions)), draw(st.sampled_from(names))
        number = draw(st.integers(0, 10))
        line = draw(
            st.sampled_from(
                [
                    f'done "{session}" during {number}/10',
                    f'done "{session}" except {name}',
                    f'part "{session}" of {name}',
                    f'not done "{session}" because flare',
                    f'moved "{session}" to {day()}',
                    f'extra "{session}"',
                    f"extra {name} {number + 1} min",
                    f"did {name} {number + 1}x8",
                    f"walked {number * 900} steps",
                    f"walked {number} km",
                    f"morning {number}/10",
                    f"measured chair-stands {number} reps",
                    *WORDS,
                ]
            )
        )
        lines.append(f"{day()} {line}")
    end = plan.starts + timedelta(draw(st.integers(-10, 7 * plan.weeks + 10)))
    return plan, "\n".join(lines), draw(st.sampled_from([None, end]))


@settings(max_examples=examples(60), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(told())
def test_any_lines_are_looked_back_on(drawn):
    plan, text, as_of = drawn
    diary, _ = read_diary(Source("p014.diary", text))
    assert diary is not None
    past = past_of(plan, diary, as_of)
    assert [w.number for w in past.weeks.weeks] == list(range(1, plan.weeks + 1))
    assert reckon(plan, past.rest, past.looking).weeks == past.weeks.weeks  # nothing more follows from what was found
    assert 0 <= past.done <= past.due
    assert past.done + past.blank <= past.due
    for held in past.held:
        assert held.week not in past.rest
        assert held.on is None or held.on <= past.as_of
        assert set(held.done) <= set(held.exercises)
    for finding in (*diary_faults(plan, diary, as_of), *past_faults(past)):
        assert finding.advice
        assert finding.span is not None


@settings(max_examples=examples(8), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(told())
def test_any_lines_leave_a_place_to_stand_on(drawn):
    plan, text, as_of = drawn
    diary, _ = read_diary(Source("p014.diary", text))
    assert diary is not None
    past = past_of(plan, diary, as_of)
    found = leeway(plan, past.weeks, origin=origin_of(past), as_of=past.as_of)
    assert len(found.standings) == len(plan.targets)
    assert found.rest_used <= len(past.rest)


LINE = st.text(alphabet=st.sampled_from('done "Chair" 2027-03-01 rest for flare of,knee/10\n\t#é×“”0'), max_size=60)


@settings(max_examples=examples(100), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(st.lists(LINE, max_size=6))
def test_any_text_is_read(lines):
    diary, findings = read_diary(Source("p014.diary", "\n".join(["diary for P-014", *lines])))
    assert diary is not None
    assert findings or not diary.unread
    assert all(1900 <= e.day.year <= 2200 for e in diary.entries)


@pytest.mark.parametrize("text", ["9999-12-31 rest", "1900-01-01 rest", "2200-12-31 flare"])
def test_days_at_the_ends_of_time(text):
    diary, _ = read_diary(Source("p014.diary", f"diary for P-014\n{text}\n"))
    assert diary is not None
    past = past_of(PLANS[0], diary)
    assert len(past.weeks.weeks) == PLANS[0].weeks
    assert past.as_of == (diary.last or date(2027, 3, 1))
