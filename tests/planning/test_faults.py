"""What can't be reckoned, each with the place that it underlines."""

from __future__ import annotations

import pytest
from attrs import evolve

from planlang.planning.reckon import reckon
from tests.planning.plans import BEDS, messages, plan_of, read, reckoned, underlined

SESSION = 'session "A"\ndays Mon, Thu\ndo squat'
SQUAT = "exercise squat\nbegin 2x6\nthen 2x8\nprogress every 1 week"


@pytest.mark.parametrize(
    ("body", "message", "place", "help"),
    [
        (
            f"exercise squat\nbegin 2x6\nthen 2x8\n{SESSION}",
            "has 2 steps and no pace",
            "exercise squat",
            "progress every",
        ),
        (
            f"exercise squat\nbegin 2x6 for 2 weeks\nthen 2x8\nthen 2x10\n{SESSION}",
            "stays on its step 2",
            "exercise squat",
            "for 2 weeks",
        ),
        (
            f"exercise squat\nbegin 2x6\nthen 2x6\nthen 2x8\nprogress every 2 weeks\n{SESSION}",
            "Steps 1 and 2 of `squat` are the same.",
            "then 2x6",
            "`for 4 weeks`",
        ),
        (
            f'{SQUAT}\nsession "A"\ndays Mon\ndo squat, sqat',
            "no exercise of that name",
            "do squat, sqat",
            'Did you mean "squat"?',
        ),
        (
            f'{SQUAT}\n{SESSION}\ntarget "T"\nby week 4\nreach 2x8 at effort 6/10 in squat',
            "compared by effort",
            "reach 2x8 at effort 6/10 in squat",
            "Name sets",
        ),
        (
            f'{SQUAT}\n{SESSION}\ntarget "T"\nby week 4\nreach 20 min in squat',
            "`20 min` can't be compared with any step",
            "reach 20 min in squat",
            "Its ladder is: 2x6; 2x8.",
        ),
        (
            f"{SQUAT}\ntraining weeks 20 on\n{SESSION}",
            "never come: the plan holds 8",
            "training weeks 20 on",
            "earlier",
        ),
        (
            f"{SQUAT}\n{SESSION}\ntraining weeks 9 to 12",
            "never come: the plan holds 8",
            "training weeks 9 to 12",
            "earlier",
        ),
        (
            f"{SQUAT}\n{SESSION}\nactivity walking\nbegin 10 min\nstart after reach 2x8 in squatt",
            "no exercise `squatt`",
            "start after reach 2x8 in squatt",
            'Did you mean "squat"?',
        ),
    ],
)
def test_a_fault_is_said_where_it_stands(body, message, place, help):
    found = reckoned(plan_of(body))
    assert len(found.findings) == 1
    assert message in messages(found)[0]
    assert underlined(found) == [place]
    assert help in found.findings[0].advice


def test_turns_without_days_and_with_too_many_are_said():
    both = 'session "A"\ndays Mon\ndo squat\nsession "B"\ndays Tue\ndo squat\nin turn with "A"'
    none = 'session "A"\ndo squat\nsession "B"\ndo squat\nin turn with "A"'
    itself = 'session "A"\ndays Mon\ndo squat\nin turn with "A"'
    found = [messages(reckoned(plan_of(f"{SQUAT}\n{body}"))) for body in (both, none, itself)]
    assert ["has days of its own" in found[0][0], "none of them has" in found[1][0], "with itself" in found[2][0]] == [
        True
    ] * 3


def test_a_return_after_more_than_three_weeks_never_holds():
    found = reckoned(plan_of(f"{SQUAT}\n{SESSION}", 12, 2, "return 2 steps lower for 2 weeks after 4 weeks"))
    assert messages(found) == ["A return after 4 weeks never holds: 4 easier weeks or more are reckoned like 3."]


def test_the_plan_of_the_language_page_has_no_finding_wherever_one_rest_week_falls():
    plan = read(BEDS)
    assert [messages(reckoned(plan, week)) for week in range(1, 19)] == [[]] * 18


@pytest.mark.parametrize("part", [{"starts": None}, {"weeks": None}, {"weeks": 0}])
def test_a_plan_without_a_start_or_a_length_has_no_weeks_and_no_second_finding(part):
    found = reckon(evolve(read(BEDS), **part))
    assert (found.weeks, found.findings, found.dropped) == ((), (), 0)


def test_a_plan_far_too_long_is_a_finding_and_not_reckoned():
    found = reckon(evolve(read(BEDS), weeks=100_000))
    assert (found.weeks, ["not reckoned" in m for m in messages(found)]) == ((), [True])


def test_an_exercise_without_steps_is_done_nowhere():
    plan = read(BEDS)
    bare = evolve(plan, exercises=tuple(evolve(e, steps=()) for e in plan.exercises))
    assert all(not week.exercises and not week.sittings for week in reckon(bare).weeks)


def test_nothing_is_guessed_where_an_unread_line_could_have_said_it():
    plan = plan_of(f"exercise squat\nbegin 2x6\nthen 2x8\n{SESSION}")
    assert messages(reckon(evolve(plan, unread=frozenset({"?"})))) == []
