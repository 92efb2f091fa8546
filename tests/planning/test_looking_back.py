"""Worked rows of a plan with its diary, by hand: one symbol a week, as in the rows of plans without one."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from attrs import evolve

from planlang.model.reading import read_diary
from planlang.planning.looking_back import can_look_back, past_of
from planlang.planning.past import Outcome
from planlang.planning.reckon import reckon
from planlang.text.source import Source
from tests.planning.plans import ladder_plan, plan_of, row

STARTS = date(2027, 3, 1)


def day(week, weekday=0):
    """The ISO date of a weekday (0 Monday) in a calendar week of a plan from 2027-03-01."""
    return (STARTS + timedelta(7 * (week - 1) + weekday)).isoformat()


def done(*weeks, name="A", weekday=0):
    return [f'{day(week, weekday)} done "{name}"' for week in weeks]


def back(plan, *lines, as_of=None):
    """The plan looked back on with these lines."""
    diary, findings = read_diary(Source("p014.diary", "\n".join(["diary for P-014", *lines, ""])))
    assert [f.message for f in findings] == []
    assert diary is not None
    return past_of(plan, diary, date.fromisoformat(as_of) if as_of else None)


CLIMBS = 'exercise squat\nbegin 2x6\nthen 2x7\nthen 2x8\nprogress every 1 week\nsession "A"\ndo squat\n'

# weeks | room | lines of the diary | steps; every exercise has six steps, one week on each, in a session on Mondays
ROWS = [
    (8, 1, done(1, 2, 3, 4, 5), "1 2 3 4 5 6 6 -"),
    (8, 1, [*done(1), f'{day(2)} not done "A" because life', *done(3)], "1 2 2 3 4 5 6 -"),
    (8, 1, done(1, 3), "1 2 2 3 4 5 6 -"),  # a blank is not done, for this
    (8, 1, done(2), "1 1 2 3 4 5 6 -"),
    (8, 1, [*done(1, 2, 3), f"{day(4, 2)} rest", *done(5)], "1 2 3 R 2 3 4 5"),
    (8, 1, [*done(1, 2, 3), f"{day(4)} flare", f"{day(4, 4)} flare over", *done(5)], "1 2 3 R 2 3 4 5"),
    (8, 1, [*done(1, 2, 3), f"{day(4)} flare", f"{day(4, 3)} flare over", *done(5)], "1 2 3 . 4 5 6 -"),
    (8, 1, [*done(1, 2, 3), f"{day(4)} illness", f"{day(4, 2)} illness over", f"{day(4, 5)} flare",
            f"{day(5)} flare over", *done(5)], "1 2 3 R 2 3 4 5"),
    (8, 1, [*done(1, 2, 3), f"{day(4, 3)} pause", f"{day(5, 4)} pause over"], "1 2 3 R R 2 3 4"),
    (8, 1, [*done(1, 2, 3), f"{day(4)} rest for knee"], "1 2 3 . 2 3 4 -"),
    (8, 1, [*done(1, 2, 3), f"{day(4)} rest for hand"], "1 2 3 4 4 5 6 -"),  # it loads no hand; blank in week 4
    (8, 0, done(1, 2, 3, 5), "1 2 3 4 4 5 6 6"),
]  # fmt: skip


@pytest.mark.parametrize(("weeks", "room", "lines", "steps"), ROWS)
def test_worked_rows(weeks, room, lines, steps):
    plan = ladder_plan(weeks, room, 6, 1, more="joints knee")
    assert row(back(plan, *lines, as_of=max(line[:10] for line in lines)).weeks) == steps


def test_a_flare_that_is_not_over_runs_to_the_day_looked_back_from():
    plan = ladder_plan(8, 1, 6, 1)
    lines = [*done(1, 2), f"{day(3)} flare"]
    assert row(back(plan, *lines, as_of=day(3, 2)).weeks) == "1 2 . 3 4 5 6 -"  # three days: no easier week yet
    assert row(back(plan, *lines, as_of=day(3, 3)).weeks) == "1 2 R 1 2 3 4 5"


def test_half_of_the_due_sessions_are_enough():
    plan = plan_of(CLIMBS + "days Mon, Thu")
    assert row(back(plan, *done(1), as_of=day(1, 6)).weeks).startswith("1 2")
    assert row(back(plan, as_of=day(1, 6)).weeks).startswith("1 1")
    three = plan_of(CLIMBS + "days Mon, Wed, Fri")
    assert row(back(three, *done(1), as_of=day(1, 6)).weeks).startswith("1 1")
    assert row(back(three, *done(1), *done(1, weekday=4), as_of=day(1, 6)).weeks).startswith("1 2")


def test_what_is_still_ahead_in_the_week_under_way_is_taken_as_done():
    plan = plan_of(CLIMBS + "days Mon, Thu")
    line = f'{day(1)} not done "A"'
    assert row(back(plan, line, as_of=day(1, 2)).weeks).startswith("1 2")
    assert row(back(plan, line, as_of=day(1, 3)).weeks).startswith("1 1")


def test_what_was_left_out_of_a_session_was_not_done_and_of_a_part_only_what_is_named_was():
    plan = plan_of(
        "exercise squat\nbegin 2x6\nthen 2x7\nprogress every 1 week\n"
        "exercise raise\nbegin 2x6\nthen 2x7\nprogress every 1 week\n"
        'session "A"\ndays Mon\ndo squat, raise'
    )
    for line in (f'{day(1)} done "A" except raise', f'{day(1)} part "A" of squat'):
        past = back(plan, line, as_of=day(2))
        assert (row(past.weeks)[:3], row(past.weeks, "raise")[:3]) == ("1 2", "1 1")
        assert past.held[0].outcome is Outcome.PART


WALKS = "activity walking\nkind aerobic\nbegin 3000 steps/day\nrise 500 steps/day every week to 5000 steps/day"


@pytest.mark.parametrize(
    ("steps", "weeks"),
    [
        ([], "1 2 3"),  # no entry of it: it goes as planned
        ([3000], "1 2 3"),
        ([2999], "1 1 2"),
        ([3100, 2000], "1 2 3"),
        ([3100, 2000, 2500], "1 1 2"),
    ],
)
def test_a_daily_activity_counts_where_half_of_the_days_told_came_to_its_aim(steps, weeks):
    lines = [f"{day(1, n)} walked {count} steps" for n, count in enumerate(steps)]
    past = back(plan_of(WALKS), *lines, as_of=day(1, 6))
    assert row(past.weeks, "walking").startswith(weeks)


def test_a_week_that_is_not_over_goes_as_planned_for_an_activity():
    line = f"{day(1)} walked 100 steps"
    assert row(back(plan_of(WALKS), line, as_of=day(1, 5)).weeks, "walking").startswith("1 2")
    assert row(back(plan_of(WALKS), line, as_of=day(1, 6)).weeks, "walking").startswith("1 1")


def test_days_inside_an_illness_ask_nothing_of_an_activity():
    lines = [f"{day(1)} illness", f"{day(1, 3)} illness over", f"{day(1, 4)} walked 3200 steps"]
    lines += [f"{day(1, n)} walked 200 steps" for n in range(3)]
    assert row(back(plan_of(WALKS), *lines, as_of=day(1, 6)).weeks, "walking").startswith("1 2")


def test_half_of_a_weekly_quota_is_enough():
    plan = plan_of("activity cycling\nbegin 60 min/week\nthen 90 min/week\nprogress every 1 week")
    enough, less = (back(plan, f"{day(1)} did cycling {n} min", as_of=day(1, 6)) for n in (30, 29))
    assert (row(enough.weeks, "cycling")[:3], row(less.weeks, "cycling")[:3]) == ("1 2", "1 1")


def test_aims_follow_what_happened_before():
    """Two weeks below the aim hold it, so that the same walks come to it in the third."""
    lines = [f"{day(1, 6)} walked 2000 steps", f"{day(2, 6)} walked 2500 steps", f"{day(3, 6)} walked 3000 steps"]
    assert row(back(plan_of(WALKS), *lines).weeks, "walking").startswith("1 1 1 2")


def test_a_moved_session_stands_on_its_new_day_in_its_own_place_of_the_week():
    plan = plan_of('exercise squat\nbegin 2x6\nsession "A"\ndays Mon, Thu\nat 07:30 for 20 min\ndo squat')
    past = back(plan, f'{day(1)} moved "A" to {day(1, 5)}', as_of=day(1, 1))
    sat = [
        (s.day.isoformat(), s.order, s.moved_from and s.moved_from.isoformat()) for s in past.weeks.weeks[0].sittings
    ]
    assert sat == [(day(1, 3), 2, None), (day(1, 5), 1, day(1))]
    moved = past.weeks.weeks[0].sittings[1]
    assert moved.starts is not None
    assert moved.starts.isoformat() == f"{day(1, 5)}T07:30:00+00:00"
    assert [h.outcome for h in past.held] == [Outcome.AHEAD, Outcome.AHEAD]


def test_moved_over_the_end_of_the_week_it_counts_for_the_week_in_which_it_was_due():
    plan = ladder_plan(4, 0, 4, 1)
    lines = [f'{day(1)} moved "A" to {day(2, 1)}', f'{day(2)} done "A"', f'{day(2, 1)} done "A"']
    past = back(plan, *lines, as_of=day(2, 6))
    assert row(past.weeks) == "1 2 3 4"
    assert [(h.week, h.outcome, h.on) for h in past.held] == [
        (1, Outcome.DONE, STARTS + timedelta(8)),
        (2, Outcome.DONE, STARTS + timedelta(7)),
    ]


def test_moved_twice_it_stands_on_the_last_of_the_days():
    plan = ladder_plan(4, 0, 4, 1)
    past = back(plan, f'{day(1)} moved "A" to {day(1, 2)}', f'{day(1, 2)} moved "A" to {day(1, 4)}')
    assert [s.day.isoformat() for s in past.weeks.weeks[0].sittings] == [day(1, 4)]


def test_done_on_another_day_of_its_week_it_is_done_and_a_second_one_is_extra():
    plan = ladder_plan(4, 0, 4, 1)
    past = back(plan, f'{day(1, 2)} done "A"', f'{day(1, 4)} done "A"', as_of=day(1, 6))
    assert (past.done, past.due, [e.day.isoformat() for e in past.extra]) == (1, 1, [day(1, 4)])


def test_told_twice_for_one_day_it_is_done_once_and_fills_no_other_place():
    plan = plan_of('exercise squat\nbegin 2x6\nsession "A"\ndays Mon, Thu\ndo squat')
    past = back(plan, *done(1), *done(1), as_of=day(1, 6))
    assert (past.done, past.due, past.blank, past.extra) == (1, 2, 1, ())


def test_morning_and_evening_are_two_sessions_of_a_day():
    plan = plan_of('exercise squat\nbegin 2x6\nsession "A"\ndays Mon\nat 07:30, 18:00 for 10 min\ndo squat')
    assert (back(plan, *done(1)).done, back(plan, *done(1), *done(1)).done) == (1, 2)


def test_days_of_ones_own_choosing_are_filled_as_they_come():
    plan = plan_of('exercise squat\nbegin 2x6\nsession "A"\ndays 3 a week, you choose\ndo squat')
    past = back(plan, *done(1, weekday=1), *done(1, weekday=5), as_of=day(1, 6))
    assert (past.done, past.due, past.blank) == (2, 3, 1)


def test_a_session_in_an_easier_week_was_not_due_and_is_extra():
    plan = ladder_plan(8, 1, 6, 1)
    past = back(plan, *done(1, 2), f"{day(2, 6)} rest", as_of=day(2, 6))
    assert (past.done, past.due, len(past.extra)) == (1, 1, 1)


def test_sessions_in_three_of_four_weeks_with_one_easier_week_are_all_that_was_due():
    """Common practice, no source."""
    plan = ladder_plan(8, 1, 6, 1)
    past = back(plan, *done(1, 2, 4), f"{day(3)} rest", as_of=day(4, 6))
    assert (past.done, past.due, past.blank) == (3, 3, 0)


def test_gentle_days_take_no_place_of_the_sessions_after_them():
    plan = plan_of('exercise squat\nbegin 2x6\nsession "A"\ndays Mon, Wed, Fri\ndo squat')
    lines = [f"{day(1)} illness", f"{day(1, 2)} illness over", f'{day(1)} not done "A" because illness']
    past = back(plan, *lines, as_of=day(1, 6))
    assert [(s.day.isoformat(), s.order) for s in past.weeks.weeks[0].sittings] == [(day(1, 2), 2), (day(1, 4), 3)]
    assert (past.due, past.blank, past.unmatched) == (2, 2, ())


TURNS = (
    "exercise squat\nbegin 2x6\nthen 2x7\nprogress every 1 week\n"
    "exercise raise\nbegin 2x6\nthen 2x7\nprogress every 1 week\n"
    'session "A"\ndays Mon, Thu\ndo squat\nsession "B"\nin turn with "A"\ndo raise'
)


def turns(past, week):
    return "".join(s.name for s in past.weeks.weeks[week - 1].sittings)


def test_a_turn_that_was_not_taken_is_not_skipped():
    past = back(plan_of(TURNS), f'{day(1)} not done "A"', as_of=day(1, 2))
    assert (turns(past, 1), turns(past, 2)) == ("AA", "BA")
    told = back(plan_of(TURNS), f'{day(1)} not done "A"', f'{day(1, 3)} done "A"', as_of=day(1, 6))
    assert (turns(told, 1), turns(told, 2)) == ("AA", "BA")
    assert row(told.weeks, "squat").startswith("1 2")


def test_a_day_inside_an_illness_holds_the_turn():
    lines = [f"{day(1)} illness", f"{day(1, 2)} illness over", *done(1, weekday=3)]
    assert turns(back(plan_of(TURNS), *lines, as_of=day(1, 6)), 2) == "BA"


def test_an_exercise_whose_turn_was_given_to_another_does_not_go_up():
    lines = [f'{day(1)} done "A"', f'{day(1, 3)} done "A"']
    past = back(plan_of(TURNS), *lines, as_of=day(1, 6))
    assert (row(past.weeks, "squat")[:3], row(past.weeks, "raise")[:3]) == ("1 2", ". 1")


LATER = (
    'exercise squat\nkind strength\nbegin 2x6\nsession "A"\ndays Mon, Thu\ndo squat\n'
    "activity walking\nbegin 3000 steps/day\nstart after 2 weeks of strength"
)


def test_a_start_waits_for_weeks_that_were_held():
    plan = plan_of(LATER)
    assert row(reckon(plan), "walking").startswith(". . 1")
    lines = [*done(1, 3), *done(1, 3, weekday=3), *done(2)]
    assert row(back(plan, *lines, as_of=day(3, 6)).weeks, "walking").startswith(". . . 1")


def test_a_step_of_which_nothing_was_held_has_not_been_reached():
    plan = plan_of(
        'exercise squat\nbegin 2x6\nthen 2x7\nthen 2x8\nprogress every 1 week\nsession "A"\ndays Mon\ndo squat\n'
        "activity walking\nbegin 3000 steps/day\nstart after reach 2x7 in squat"
    )
    assert row(reckon(plan), "walking").startswith(". . 1")
    assert row(back(plan, *done(1, 3), as_of=day(3, 6)).weeks, "walking").startswith(". . . 1")


def test_pain_holds_no_ladder():
    """Whether it stays is asked in the review; ladders by date are told from others there."""
    plan = ladder_plan(4, 0, 4, 1)
    past = back(plan, f'{day(1)} done "A" during 10/10 morning 10/10', as_of=day(1, 6))
    assert past.weeks.weeks == reckon(plan).weeks


def test_before_the_plan_nothing_has_happened():
    plan = ladder_plan(4, 1, 4, 1)
    past = back(plan, "2027-02-20 pain 3/10")
    assert (past.week, past.first_open_week, past.held, past.weeks.weeks) == (1, 1, (), reckon(plan).weeks)


@pytest.mark.parametrize(
    ("as_of", "week", "first_open"),
    [(day(2), 2, 2), (day(2, 5), 2, 2), (day(2, 6), 2, 3), (day(3), 3, 4), (day(8, 6), 8, 9), (day(9), 9, 9)],
)
def test_easier_weeks_may_still_fall_from_the_week_under_way_on(as_of, week, first_open):
    past = back(ladder_plan(8, 3, 6, 1), f"{day(3)} rest", as_of=as_of)
    assert (past.week, past.first_open_week) == (week, first_open)


def test_an_easier_week_beyond_the_room_drops_a_training_week():
    past = back(ladder_plan(8, 1, 5, 1), f"{day(3)} rest", f"{day(6)} rest", *done(1, 2, 4, 5), as_of=day(6, 6))
    assert row(past.weeks) == "1 2 R 1 2 R 1 2"
    assert past.weeks.dropped == 1


def test_a_week_away_is_no_easier_week():
    plan = plan_of('exercise squat\nbegin 2x6\nsession "A"\ndays Mon\ndo squat', head="away 2027-03-08 to 2027-03-14")
    past = back(plan, f"{day(2)} flare", f"{day(3)} flare over", as_of=day(3))
    assert (past.rest, row(past.weeks)[:5]) == (frozenset(), "1 A 1")


def test_a_plan_without_weeks_has_no_past():
    plan = plan_of("review every 4 weeks")
    assert can_look_back(plan)
    nowhere = evolve(plan, starts=None)
    assert not can_look_back(nowhere)
    with pytest.raises(ValueError, match="no past"):
        back(nowhere)


@pytest.mark.parametrize("up_to", range(0, 60, 3))
def test_turns_that_were_all_taken_leave_the_weeks_as_they_were(up_to):
    plan = plan_of(TURNS, weeks=8, room=1)
    weeks = reckon(plan)
    until = STARTS + timedelta(up_to)
    lines = [f'{s.day} done "{s.name}"' for w in weeks.weeks for s in w.sittings if s.day <= until]
    assert back(plan, *lines, as_of=until.isoformat()).weeks.weeks == weeks.weeks


def test_turns_of_days_of_ones_own_choosing_follow_what_was_done():
    plan = plan_of(TURNS.replace("days Mon, Thu", "days 3 a week, you choose"))
    past = back(plan, *done(1), *done(1, name="B", weekday=2), as_of=day(1, 6))
    assert (past.done, past.due) == (2, 3)
    assert next(s.name for s in past.weeks.weeks[1].sittings) == "A"
