"""What a review says of a plan and its diary, against examples worked out by hand."""

from __future__ import annotations

import json
import random
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.cli.review_data import as_data
from planlang.planning.leeway.data import Verdict
from planlang.planning.past import Outcome
from planlang.planning.review.data import Tally
from planlang.planning.review.next_step import Next
from planlang.planning.review.screen import first_lines
from planlang.planning.review.wording import rest_text, week_text
from planlang.planning.week import WeekKind
from tests.planning.review.reviews import BEDS_DIARY, beds, review, week

THREE = "\n".join(week(day, "done", "done", "done") for day in ("2027-03-01", "2027-03-08", "2027-03-22"))


def test_three_weeks_done_with_one_easier_week_is_all_that_was_due() -> None:
    """Common practice, no source: an easier week is part of the plan, and nothing is due in it."""
    made = review(f"{THREE}\n2027-03-15 rest\n", as_of=date(2027, 3, 28))
    assert made.tally == Tally(done=9)
    assert made.tally.due == 9
    assert [w.kind for w in made.weeks] == [WeekKind.TRAINING, WeekKind.TRAINING, WeekKind.REST, WeekKind.TRAINING]
    assert (made.rest_taken, made.rest_left) == (1, 2)
    assert [week_text(w) for w in made.weeks][2] == "easier week, part of the plan"


def test_blank_is_blank_and_not_done_is_not_done() -> None:
    made = review(week("2027-03-01", "done", "not done", "-"), as_of=date(2027, 3, 7))
    assert made.tally == Tally(done=1, not_done=1, blank=1)
    assert made.weeks[0].outcomes == (Outcome.DONE, Outcome.NOT_DONE, Outcome.BLANK)
    assert week_text(made.weeks[0]) == "1 of 3 done, 1 not done (no reason written), 1 with no entry"


def test_what_is_still_ahead_is_not_due() -> None:
    made = review(week("2027-03-01", "done", "-", "-"), as_of=date(2027, 3, 1))
    assert (made.tally.done, made.tally.due, made.tally.ahead) == (1, 1, 2)


def test_sessions_are_told_by_session_and_from_review_to_review() -> None:
    made = review(BEDS_DIARY)
    assert [(name, t.done, t.due) for name, t in made.sessions] == [("Chair and bench", 24, 26)]
    assert [(b.first, b.last, b.tally.done, b.tally.due, b.easier) for b in made.blocks] == [
        (1, 4, 8, 9, 1),
        (5, 8, 11, 12, 0),
        (9, 10, 5, 5, 0),
    ]


def test_rest_within_the_room_and_beyond_it() -> None:
    three = [f"2027-03-{day:02} rest" for day in (8, 15, 22)]
    assert rest_text(review("\n".join(three), as_of=date(2027, 3, 28))) == "3 of 3 easier weeks taken, all of them."
    four = review("\n".join([*three, "2027-03-29 rest"]), as_of=date(2027, 4, 4))
    assert (four.rest_taken, four.rest_left) == (4, 0)
    assert rest_text(four) == "4 easier weeks taken, there was room for 3: the plan needs new dates."
    assert four.decide == "New dates: 4 easier weeks taken, room for 3."


def test_open_sign_comes_before_all_else() -> None:
    made = review(f'{THREE}\n2027-03-26 told "calf sore and swollen" by P-014\n')
    label, line = first_lines(made)[0]
    assert (label, line) == (
        "Noted",
        'OPEN, nothing written about what was done: 26 Mar: told "calf sore and swollen" by P-014',
    )
    assert made.ask[0] == '"calf sore and swollen" (26 Mar): how is it now?'
    assert made.decide.startswith("What is done about the sign, before anything else")


def test_answered_sign_is_told_as_answered_and_not_as_none_noted() -> None:
    lines = f'{THREE}\n2027-03-26 told "calf sore" by P-014\n2027-03-26 acted "rang back" by T-03\n'
    made = review(lines)
    said = [line for label, line in first_lines(made) if label in ("Noted", "")]
    assert '26 Mar: told "calf sore" by P-014; answered' in said
    assert "Nothing else noted since 22 Feb; last entry 26 Mar 2027." in said
    assert made.news.open == ()


def test_falls_giving_way_and_what_is_new_since_the_last_review() -> None:
    lines = f"""{THREE}
2027-03-02 fell "on the path"
2027-04-01 gave way
2027-04-02 new medicine "water tablets"
"""
    later = review(lines, as_of=date(2027, 4, 4))
    assert later.news.since == date(2027, 3, 28)
    assert [len(part) for part in (later.news.falls, later.news.gave_way, later.news.new)] == [0, 1, 1]
    first = review(lines, as_of=date(2027, 3, 28))
    assert [len(part) for part in (first.news.falls, first.news.gave_way, first.news.new)] == [1, 0, 0]


def test_nothing_noted_says_up_to_when() -> None:
    assert first_lines(review(THREE))[0] == (
        "Noted",
        "Open signs, falls, giving way, new medicines or operations: none noted since 22 Feb; last entry 26 Mar 2027.",
    )


def test_confidence_then_and_now() -> None:
    made = review(BEDS_DIARY)
    assert (made.confidence.then, made.confidence.now, made.confidence.on) == (7, 8, date(2027, 4, 25))


def test_last_two_weeks_of_mornings_are_those_of_fourteen_days() -> None:
    lines = "2027-03-14 morning 4/10\n2027-03-15 morning 3/10\n2027-03-28 morning 2/10"
    made = review(lines, as_of=date(2027, 3, 28))
    assert made.pain.mornings == ((date(2027, 3, 15), Fraction(3)), (date(2027, 3, 28), Fraction(2)))


@pytest.mark.parametrize(
    ("during", "next", "decide"),
    [
        (("5/10", "5/10"), Next.ON, "None is due: the plan goes on."),
        (("4/10", "6/10"), Next.STAY, "Stay on this step for sit-to-stand, tandem-stance and knee-bends?"),
        (("6/10", "6/10"), Next.LOWER, "One step lower for sit-to-stand, tandem-stance and knee-bends?"),
    ],
)
def test_what_is_next_follows_the_limit_of_five(during: tuple[str, str], next: Next, decide: str) -> None:
    """Up to 5 of 10 is accepted, one session over it: stay; two running: one lower (the plan's own limit)."""
    lines = "\n".join(
        f'2027-03-{day:02} done "Chair and bench" during {pain} morning 3/10'
        for day, pain in zip((1, 3, 5), ("3/10", *during), strict=True)
    )
    made = review(lines, as_of=date(2027, 3, 7))
    assert made.exercises[0].next.next is next
    assert made.decide == decide


def test_habit_is_met_in_the_first_week_that_holds_its_days() -> None:
    habit = 'kept "boots and band by the door at night"'
    made = review(f"2027-03-03 {habit} 2 days\n2027-03-07 {habit} 2 days\n2027-03-14 {habit} 3 days")
    assert (made.targets[1].met, made.targets[1].best) == (None, (1, 4))
    assert made.targets[1].standing.verdict is Verdict.OPEN
    met = review(f"2027-03-07 {habit} 4 days\n2027-03-10 {habit} 3 days\n2027-03-13 {habit} 2 days")
    assert met.targets[1].met == date(2027, 3, 13)


def test_one_off_is_met_on_the_day_it_was_done_first() -> None:
    did = 'did "ask the Saturday crew when they start"'
    assert review(f"2027-03-13 {did}\n2027-03-20 {did}").targets[2].met == date(2027, 3, 13)
    assert review("2027-03-13 walked 3000 steps").targets[2].met is None


def test_measured_target_is_met_on_the_day_it_was_there() -> None:
    """From 9 up to 12; and one that goes down, from 6 to 4."""
    aim = '  do         "ask the Saturday crew when they start"             # a one-off: leading'
    up = beds((aim, "  measured by chair-stands from 9 to 12"))
    lines = "2027-03-28 measured chair-stands 11 reps\n2027-04-25 measured chair-stands 12 reps\n"
    assert review(lines, up).targets[2].met == date(2027, 4, 25)
    assert review(lines.replace("12 reps", "11 reps"), up).targets[2].met is None
    down = beds((aim, "  measured by usual-pain from 6/10 to 4/10"))
    assert review("2027-04-01 measured usual-pain 4/10", down).targets[2].met == date(2027, 4, 1)
    assert review("2027-04-01 measured usual-pain 5/10", down).targets[2].met is None


def test_trained_target_is_met_on_the_day_it_was_done() -> None:
    """The first step, 2x6, was done in the first session that held it: the second one here."""
    low = beds(("reach      3x10 at 2 kg in sit-to-stand", "reach      2x6 in sit-to-stand"))
    lines = week("2027-03-01", "not done", "done", "done")
    assert review(lines, low, date(2027, 3, 7)).targets[0].met == date(2027, 3, 3)
    assert review("2027-03-01 walked 3000 steps", low, date(2027, 3, 2)).targets[0].met is None


def test_goal_attainment_of_what_was_measured() -> None:
    """Levels of one goal: as expected is 50 (Kiresuk and Sherman 1968); one above it, alone, is 60."""
    levels = (
        "  measured by chair-stands from 9 to 12\n  score much-less 8, less 9, expected 11, more 13, much-more 15\n"
    )
    plan = beds(("  confidence 7/10\n", f"  confidence 7/10\n{levels}"))
    assert review("2027-04-25 measured chair-stands 11 reps", plan).t_score == 50
    assert review("2027-04-25 measured chair-stands 13 reps", plan).t_score == pytest.approx(60)
    none = review("2027-04-25 walked 3000 steps", plan)
    assert none.t_score is None
    assert [one.level for one in none.attained] == [None]


def test_session_load_is_effort_times_minutes_where_effort_is_told() -> None:
    """Foster et al 2001, J Strength Cond Res 15:109: 4 of 10 for 35 minutes is 140."""
    lines = '2027-03-01 done "Chair and bench" effort 4/10\n2027-03-03 done "Chair and bench"\n'
    first = review(lines, as_of=date(2027, 3, 7)).weeks[0]
    assert (first.minutes, first.load, first.rated) == (70, 140, 1)
    assert review(week("2027-03-01", "done", "done", "done")).weeks[0].load is None


def test_there_are_always_two_questions_and_one_decision() -> None:
    for lines in (THREE, "2027-03-01 walked 3000 steps", "2027-03-01 fell\n2027-03-02 gave way\n2027-03-03 flare"):
        made = review(lines)
        assert len(made.ask) == len(set(made.ask)) == 2
        assert made.decide


def test_next_date_is_the_review_then_the_last_day_then_none() -> None:
    assert review(THREE, as_of=date(2027, 3, 27)).next_date == (date(2027, 3, 28), "review")
    assert review(THREE, as_of=date(2027, 7, 1)).next_date == (date(2027, 7, 4), "the plan's last day")
    assert review(THREE, as_of=date(2027, 7, 4)).next_date is None


def test_before_the_plan_and_after_it() -> None:
    before = review("2027-02-25 confidence 6/10", as_of=date(2027, 2, 25))
    assert before.weeks == ()
    assert before.tally == Tally()
    after = review(THREE, as_of=date(2028, 1, 10))
    assert len(after.weeks) == 18
    assert after.proposal is not None
    assert "starts     2028-01-17" in after.proposal


SHUFFLED = [line for line in BEDS_DIARY.splitlines() if line[:4] == "2027"]


@settings(max_examples=12, derandomize=True, deadline=None)
@given(st.randoms(use_true_random=False))
def test_any_order_of_diary_lines_gives_the_same_review(chance: random.Random) -> None:
    lines = list(SHUFFLED)
    chance.shuffle(lines)
    assert json.dumps(as_data(review("\n".join(lines)))) == json.dumps(as_data(review("\n".join(SHUFFLED))))


def test_what_came_after_the_day_of_the_review_changes_nothing() -> None:
    early = [line for line in SHUFFLED if line[:10] <= "2027-04-11" and "reported" not in line]
    day = date(2027, 4, 11)
    assert as_data(review("\n".join(SHUFFLED), as_of=day)) == as_data(review("\n".join(early), as_of=day))
