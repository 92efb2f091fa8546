"""The ladder machine, transition by transition."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.model.rest import Lighter, Return
from planlang.planning.ladder import FRESH, Event, Ladder, State, advance, ladder_of
from tests.planning.plans import ladder_plan, on_mondays, plan_of, reckoned, row

EVENTS = {"R": Event.REST, "_": Event.WITHOUT, "o": Event.OWN, "l": Event.LIGHTER, "k": Event.KEPT}


def walk(ladder: Ladder, weeks: str, state: State = FRESH) -> str:
    """A symbol a week in, a symbol a week out: step from 1, 0 the easier one, the week's own symbol without it."""
    out = []
    for symbol in weeks:
        state, turn = advance(ladder, state, EVENTS[symbol])
        out.append(symbol if turn is None else str(turn.step + 1))
    return "".join(out)


def ladder(steps: int = 6, every: int = 1, lower: int = 1, ease: int = 1, **more) -> Ladder:
    lines = more.pop("lines", ()) or (Return(lower, ease, 1),)
    return Ladder(tuple(every * n for n in range(steps)), lines=lines, **more)


def test_it_goes_up_a_step_when_its_weeks_are_over_and_stays_on_the_last():
    assert walk(ladder(3, 2), "oooooooo") == "11223333"


def test_rest_before_the_first_week_changes_nothing():
    assert walk(ladder(), "RRooo") == "RR123"


def test_easing_is_never_followed_by_a_step_not_done_before():
    assert walk(ladder(), "oooRooo") == "123R234"


def test_rest_before_the_first_week_at_its_own_level_is_reckoned_from_the_step_last_done():
    assert walk(ladder(), "oooRoRoo") == "123R2R23"


def test_another_rest_week_starts_the_easing_again():
    assert walk(ladder(ease=2), "oooRoRooo") == "123R2R223"


def test_easing_on_the_first_step_without_an_easier_one_is_a_week_at_that_step():
    assert walk(ladder(), "oRooo") == "1R123"


def test_easing_goes_to_the_easier_step_where_there_is_one():
    assert walk(ladder(floor=-1), "oRooo") == "1R012"


def test_a_gap_of_one_week_without_rest_goes_on():
    assert walk(ladder(), "oo_oo") == "12_34"


def test_a_gap_of_two_weeks_is_eased():
    assert walk(ladder(), "oo__oo") == "12__12"


def test_one_away_and_one_rest_week_are_a_gap_with_rest():
    assert walk(ladder(), "oo_Roo") == "12_R12"


def test_a_gap_of_one_week_within_the_easing_does_not_start_it_again():
    assert walk(ladder(ease=2), "oooRo_oo") == "123R2_23"


def test_weeks_before_it_begins_are_no_gap():
    assert walk(ladder(), "___ooo") == "___123"


def test_a_lighter_week_is_done_lower_and_moves_nothing():
    assert walk(ladder(lighter=Lighter(4, 1)), "ooolo") == "12324"


def test_a_lighter_week_never_goes_to_the_easier_step():
    assert walk(ladder(lighter=Lighter(4, 3), floor=-1), "olo") == "112"


def test_a_lighter_week_before_the_first_is_an_ordinary_one():
    assert walk(ladder(lighter=Lighter(4, 1)), "loo") == "123"


def test_in_a_week_that_would_be_both_easing_alone_holds():
    assert walk(ladder(lighter=Lighter(4, 2)), "oooRlo") == "123R23"


def test_a_lighter_week_between_easing_and_own_level_leaves_the_step_last_done_to_come():
    assert walk(ladder(lighter=Lighter(4, 1)), "oooRolo") == "123R223"


def test_a_longer_rest_takes_its_own_line_and_comes_back_a_step_a_week():
    lines = (Return(1, 1, 1), Return(3, 2, 2))
    assert walk(ladder(lines=lines), "oooooRoo") == "12345R45"
    assert walk(ladder(lines=lines), "oooooRRoooooo") == "12345RR223456"


def test_away_weeks_do_not_count_towards_a_longer_rest():
    lines = (Return(1, 1, 1), Return(3, 1, 2))
    assert walk(ladder(lines=lines), "ooooR_oo") == "1234R_34"


def test_a_run_of_four_is_reckoned_like_three():
    lines = (Return(1, 1, 1), Return(2, 1, 3), Return(4, 1, 4))
    assert walk(ladder(lines=lines), "oooooRRRRooo") == walk(ladder(lines=lines), "oooooRRRooo").replace("RRR", "RRRR")


def test_a_longer_rest_never_goes_below_the_floor():
    lines = (Return(1, 1, 1), Return(5, 1, 2))
    assert walk(ladder(lines=lines), "oooRRoooo") == "123RR1234"


def test_return_at_the_same_step_has_no_easing():
    assert walk(ladder(lower=0, ease=0), "oooRRoo") == "123RR45"


def test_the_first_step_is_kept_and_c_does_not_grow():
    assert walk(ladder(), "kkkoo") == "11112"


def test_rest_while_the_first_step_is_kept_brings_no_easing():
    assert walk(ladder(floor=-1), "kkRkoo") == "11R112"


def test_a_week_that_does_not_count_stays_on_its_step():
    one = ladder()
    state, _ = advance(one, FRESH, Event.OWN)
    state, turn = advance(one, state, Event.OWN, counts=False)
    assert (turn.step, advance(one, state, Event.OWN)[1].step) == (1, 1)


def test_a_step_with_its_own_length_keeps_it():
    plan = on_mondays(
        "begin 2x6\nthen 2x8 for 3 weeks\nthen 2x10\nprogress every 1 week",
        7,
    )
    assert row(reckoned(plan)) == "1 2 2 2 3 3 3"


def test_the_first_week_of_a_longer_step_goes_back_after_easing():
    # Step 2 holds c = 1, 2, 3. After one week on it c is 2, which begins no step: nothing goes back.
    plan = on_mondays(
        "begin 2x6\nthen 2x8 for 3 weeks\nthen 2x10\nprogress every 1 week",
        9,
        1,
    )
    assert row(reckoned(plan, 3)) == "1 2 R 1 2 2 3 3 3"
    assert row(reckoned(plan, 5)) == "1 2 2 2 R 1 2 3 3"


def test_own_lengths_on_all_but_the_last_step_need_no_pace():
    plan = on_mondays("begin 2x6 for 2 weeks\nthen 2x8 for 1 week\nthen 2x10", 5)
    assert row(reckoned(plan)) == "1 1 2 3 3"
    assert reckoned(plan).findings == ()


def test_without_a_pace_it_stays_on_its_first_step():
    plan = on_mondays("begin 2x6\nthen 2x8", 4)
    assert row(reckoned(plan)) == "1 1 1 1"
    assert "no pace" in reckoned(plan).findings[0].message


def test_progress_from_a_training_week_keeps_the_first_step_until_then():
    plan = on_mondays(
        "begin 2x6\nthen 2x8\nthen 2x10\nprogress every 1 week from training week 3",
        6,
    )
    assert row(reckoned(plan)) == "1 1 1 2 3 3"


def test_no_return_line_means_one_step_lower_for_one_week():
    plan = on_mondays("begin 2x6\nthen 2x8\nthen 2x10\nprogress every 1 week", 6, 1)
    assert row(reckoned(plan, 4)) == "1 2 3 R 2 3"


def test_a_line_for_longer_rests_alone_leaves_the_default_for_shorter_ones():
    built = ladder_of(ladder_plan(8, 2, 4, 1).exercises[0], None)
    assert built.lines == (Return(1, 1, 1),)
    plan = plan_of(
        "exercise squat\nbegin 2x6\nthen 2x8\nthen 2x10\nprogress every 1 week",
        8,
        2,
        "return 2 steps lower for 2 weeks after 2 weeks",
    )
    assert ladder_of(plan.exercises[0], plan.rest).lines == (Return(1, 1, 1), Return(2, 2, 2))


@settings(max_examples=200, derandomize=True, deadline=None)
@given(
    st.integers(1, 4),
    st.integers(1, 3),
    st.integers(0, 3),
    st.integers(0, 3),
    st.integers(-1, 0),
    st.text("R_ol", min_size=1, max_size=24),
)
def test_cutting_c_off_changes_nothing_that_is_done(steps, every, lower, ease, floor, weeks):
    """The state holds a c that stops growing on the last step; a machine that lets it grow does the same weeks."""
    one = ladder(steps, every, lower, ease, floor=floor, lighter=Lighter(4, 1))
    free = ladder(steps, every, lower, ease, floor=floor, lighter=Lighter(4, 1))
    object.__setattr__(free, "top", 10_000)
    assert walk(one, weeks) == walk(free, weeks)


@settings(max_examples=200, derandomize=True, deadline=None)
@given(st.integers(1, 4), st.integers(1, 3), st.integers(0, 3), st.integers(0, 3), st.text("R_o", max_size=24))
def test_no_week_at_its_own_level_skips_a_step(steps, every, lower, ease, weeks):
    one, state, highest = ladder(steps, every, lower, ease), FRESH, -1
    for symbol in weeks:
        state, turn = advance(one, state, EVENTS[symbol])
        if turn and not turn.easing:
            assert turn.step <= highest + 1
            highest = max(highest, turn.step)


@settings(max_examples=100, derandomize=True, deadline=None)
@given(st.text("R_ol", max_size=60))
def test_the_states_of_a_ladder_stay_few(weeks):
    one, state = ladder(4, 2, 2, 2, lighter=Lighter(4, 1)), FRESH
    for symbol in weeks:
        state, _ = advance(one, state, EVENTS[symbol])
        assert state.c <= one.top
        assert state.gap <= 2
        assert state.rested <= 3


@pytest.mark.parametrize("state", [State(3, 2, 0, False, 0, 0), State(3, 0, 0, True, 1, 0)])
def test_a_state_is_hashable_and_equal_by_value(state):
    assert {state: 1}[State(*state)] == 1
