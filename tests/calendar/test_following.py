"""A calendar with a diary: what is to come follows, what is over stays, and each change has a higher number."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from pathlib import Path

import icalendar
import pytest
from attrs import evolve
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from planlang.calendar.entry import Entry, Kind
from planlang.calendar.making import Made, make
from planlang.calendar.previous import Previous, read_previous
from planlang.model.diary import Diary, What
from planlang.model.diary import Entry as Line
from planlang.model.plan import Agreed, Plan
from planlang.model.reading import read_diary
from planlang.planning.looking_back import past_of
from planlang.planning.moving import moved_within, with_moved
from planlang.planning.reckon import reckon
from planlang.planning.week import WeekKind, Weeks
from planlang.text.source import NOWHERE, Source
from tests.calendar.made import CLINIC, KEY, beds, made_of, plan_of, text_of
from tests.calendar.readers import everybody
from tests.planning.review.test_review_words import BANNED
from tests.planning.test_looking_back_against_oracle import plans_with_diaries
from tests.strategies import examples, small_plans

DAY = timedelta(days=1)
QUIET = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]
CHAIR = "Chair and bench"


def diary_of(*lines: str, code: str = "P-014") -> Diary:
    diary, findings = read_diary(Source("made.diary", f"diary for {code}\n" + "\n".join(lines) + "\n"))
    assert diary
    assert [f.message for f in findings] == []
    return diary


def followed(plan: Plan | str, diary: Diary, as_of: date | str | None = None, previous: bytes | None = None) -> Made:
    """A plan's calendar with its diary."""
    plan = plan_of(plan) if isinstance(plan, str) else plan
    past = past_of(plan, diary, date.fromisoformat(as_of) if isinstance(as_of, str) else as_of)
    made = make(past.weeks, CLINIC, KEY, read_previous(previous) if previous else None, past=past)
    assert isinstance(made, Made), made
    return made


def done_until(plan: Plan | str, last: str, rest: tuple[int, ...] = ()) -> list[str]:
    """A line of a diary for each session up to a day, walks among them."""
    plan = plan_of(plan) if isinstance(plan, str) else plan
    lines = []
    for week in reckon(plan, frozenset(rest)).weeks:
        for sitting in week.sittings:
            if sitting.exercises and sitting.day <= date.fromisoformat(last):
                lines.append(f'{sitting.day} done "{sitting.name}"')
    return lines


def sessions(made: Made) -> dict[str, Entry]:
    return {e.uid: e for e in made.entries if e.kind is Kind.SESSION}


def on(made: Made, day: str) -> list[Entry]:
    return [e for e in made.entries if e.first_day.isoformat() == day and not e.all_day and not e.cancelled]


def sequences(data: bytes) -> dict[str, int]:
    return {str(e["UID"]): int(e["SEQUENCE"]) for e in icalendar.Calendar.from_ical(data).events}


RESTED = [*done_until(beds(), "2027-03-14"), "2027-03-15 rest"]


def test_a_diary_of_nothing_but_done_sessions_leaves_the_calendar_as_it_was() -> None:
    text = beds()
    assert followed(text, diary_of(*done_until(text, "2027-05-07"))).data == made_of(text).data


def test_an_empty_diary_before_the_plan_leaves_the_calendar_as_it_was() -> None:
    assert followed(beds(), diary_of(), "2027-02-25").data == made_of(beds()).data


def test_an_easier_week_pushes_on_what_is_to_come_under_the_same_identities() -> None:
    before, after = made_of(beds()), followed(beds(), diary_of(*RESTED))
    assert set(sessions(before)) == set(sessions(after))
    moved = {u for u, e in sessions(after).items() if e.starts != sessions(before)[u].starts}
    assert {sessions(after)[u].first_day - sessions(before)[u].first_day for u in moved} == {7 * DAY}
    assert min(sessions(before)[u].first_day for u in moved) == date(2027, 3, 15)
    assert [e.first_day.isoformat() for e in after.entries if e.kind is Kind.EASIER_WEEK] == ["2027-03-15"]


def test_what_is_over_stays_as_it_was_to_the_letter() -> None:
    before, after = made_of(beds()), followed(beds(), diary_of(*RESTED))
    over = [e for e in before.entries if e.last_day < date(2027, 3, 15)]
    assert over == [e for e in after.entries if e.last_day < date(2027, 3, 15)]
    assert len(over) == 6


def test_a_sequence_number_is_the_revision_and_the_easier_weeks_that_moved_the_entry() -> None:
    lines = [*done_until(beds(), "2027-05-09", (3, 8)), "2027-03-15 rest", "2027-04-19 rest"]
    made = followed(beds(("revision   1", "revision   2")), diary_of(*lines))
    numbers = sequences(made.data)
    for entry in made.entries:
        easier = (date(2027, 3, 15), date(2027, 4, 19))
        if entry.kind in (Kind.SESSION, Kind.SPARE, Kind.EASIER_WEEK):
            assert numbers[entry.uid] == 2000 + sum(day <= entry.first_day for day in easier), entry
        elif entry.kind is not Kind.DAILY:
            assert numbers[entry.uid] == 2000, entry


def test_the_first_day_back_welcomes_and_the_room_taken_is_counted() -> None:
    made = followed(beds(), diary_of(*RESTED))
    back = on(made, "2027-03-22")[0]
    assert back.summary == "Chair and bench (easier)"
    assert "Welcome back" in back.description
    later = on(made, "2027-03-29")[0]
    assert "1 of 3 easier weeks taken" in later.description
    assert "The plan has room for 3" in on(made, "2027-03-12")[0].description


def test_what_is_gone_is_called_off_and_importing_twice_changes_nothing() -> None:
    first = made_of(beds()).data
    second = followed(beds(), diary_of(*RESTED), previous=first)
    gone = [e for e in second.entries if e.cancelled]
    assert {e.summary for e in gone} == {"Cancelled: Chair and bench", "Cancelled: Walking"}
    assert sum("bench" in e.summary for e in gone) == 3
    assert {sequences(second.data)[e.uid] for e in gone} == {1001}
    assert set(sequences(first)) <= set(sequences(second.data))
    assert followed(beds(), diary_of(*RESTED), previous=second.data).data == second.data


def test_easier_weeks_taken_one_by_one_or_all_at_once_end_in_the_same_calendar() -> None:
    first = made_of(beds()).data
    lines = [*done_until(beds(), "2027-05-16", (3, 8, 11)), "2027-03-15 rest", "2027-04-19 rest", "2027-05-10 rest"]
    at_once = followed(beds(), diary_of(*lines), previous=first)
    step = first
    for day in ("2027-03-16", "2027-04-01", "2027-04-19", "2027-05-02", "2027-05-16"):
        told = [line for line in lines if line[:10] <= day]
        step = followed(beds(), diary_of(*told), day, previous=step).data
    assert step == at_once.data


@pytest.mark.node
def test_four_readers_see_the_same_before_and_after(tmp_path: Path) -> None:
    first = made_of(beds()).data
    before, after = (everybody(d, tmp_path) for d in (first, followed(beds(), diary_of(*RESTED), previous=first).data))
    for seen in (before, after):
        assert all(events == seen["icalendar"] for events in seen.values())
    then, now = ({e.uid: e for e in seen["dateutil"]} for seen in (before, after))
    assert set(then) <= set(now)
    moved = {now[uid].starts - e.starts for uid, e in then.items() if e.starts != now[uid].starts}
    # Across the end of summer time in Hobart, on 4 April, the same wall clock is an hour later.
    assert moved == {timedelta(days=7), timedelta(days=7, hours=1)}


def test_a_change_of_the_plan_with_a_diary_still_needs_a_new_revision() -> None:
    first = made_of(beds()).data
    changed = plan_of(beds(("at         07:30", "at         08:30")))
    past = past_of(changed, diary_of(*RESTED))
    refused = make(past.weeks, CLINIC, KEY, read_previous(first), past=past)
    assert isinstance(refused, tuple)
    assert "still says revision 1" in refused[0].message


def test_a_diary_that_takes_an_easier_week_back_needs_a_new_revision() -> None:
    second = followed(beds(), diary_of(*RESTED)).data
    plan = plan_of(beds())
    past = past_of(plan, diary_of(*done_until(plan, "2027-03-20")))
    assert isinstance(make(past.weeks, CLINIC, KEY, read_previous(second), past=past), tuple)


def test_a_week_that_did_not_count_holds_the_steps_and_raises_the_number() -> None:
    text = beds()
    lines = [*done_until(text, "2027-03-07"), *(f'2027-03-{d:02} not done "{CHAIR}" because life' for d in (8, 10, 12))]
    before, after = made_of(text), followed(text, diary_of(*lines), "2027-03-14")
    assert "New today: sit to stand, 2 x 8" in on(before, "2027-03-15")[0].description
    assert "New today: sit to stand, 2 x 8" not in on(after, "2027-03-15")[0].description
    uid = on(before, "2027-03-15")[0].uid
    assert sequences(after.data)[uid] > sequences(before.data)[uid]


def test_a_session_that_the_person_moved_stands_on_its_new_day() -> None:
    lines = [*done_until(beds(), "2027-03-09"), f'2027-03-10 moved "{CHAIR}" to 2027-03-11']
    before, after = made_of(beds()), followed(beds(), diary_of(*lines))
    uid = on(before, "2027-03-10")[0].uid
    assert [e.uid for e in on(after, "2027-03-11")] == [uid]
    assert on(after, "2027-03-11")[0].starts.hour == 7
    assert sequences(after.data)[uid] == 1001
    others = {e.uid: n for e in after.entries if e.uid != uid and (n := sequences(after.data)[e.uid]) != 1000}
    assert others == {}


def short(*changes: tuple[str, str]) -> str:
    """Five weeks, two sessions in each, nothing that begins later."""
    return text_of("five-weeks", ("Mon, Wed, Fri", "Mon, Thu"), *changes)


def lines_of_not_done(text: str, *more: str) -> Diary:
    """Everything done, but not the second session of the second week."""
    lines = [*done_until(text, "2027-03-10"), f'2027-03-11 not done "{CHAIR}" because life']
    return diary_of(*lines, *more, code="P-021")


def test_if_not_done_move_within_the_week_gives_it_a_free_day() -> None:
    text = short()
    before, after = made_of(text), followed(text, lines_of_not_done(text))
    uid = on(before, "2027-03-11")[0].uid
    assert [e.uid for e in on(after, "2027-03-12")] == [uid]  # of the days as far from Monday the first
    assert sequences(after.data)[uid] == 1001
    assert {n for u, n in sequences(after.data).items() if u != uid} == {1000}


def test_a_moved_session_never_stands_next_to_one_of_the_same_muscles() -> None:
    text = text_of("five-weeks")
    lines = [*done_until(text, "2027-03-09"), f'2027-03-10 not done "{CHAIR}" because life']
    made = followed(text, diary_of(*lines, code="P-021"))
    assert made.data == made_of(text).data  # Thursday is next to Friday, Saturday too, Sunday next to Monday


@pytest.mark.parametrize("rule", ["drop", "move on"])
def test_if_not_done_drop_or_move_on_moves_nothing(rule: str) -> None:
    text = short(("if not done move within the week", f"if not done {rule}"))
    assert followed(text, lines_of_not_done(text)).data == made_of(text).data


def test_a_blank_moves_nothing() -> None:
    text = short()
    diary = diary_of(*done_until(text, "2027-03-10"), code="P-021")
    assert followed(text, diary, "2027-03-11").data == made_of(text).data


def test_a_moved_session_stays_there_once_it_is_over() -> None:
    text = short()
    first = followed(text, lines_of_not_done(text))
    more = (f'2027-03-12 done "{CHAIR}"', f'2027-03-15 done "{CHAIR}"')
    later = followed(text, lines_of_not_done(text, *more), previous=first.data)
    assert later.data == first.data


def test_one_made_up_before_the_day_proposed_stands_where_it_was_done() -> None:
    text = text_of("five-weeks", ("Mon, Wed, Fri", "2 a week from Mon, Thu, Sat"))
    first = followed(text, lines_of_not_done(text))
    assert [e.first_day.isoformat() for e in first.entries if e.moves] == ["2027-03-13"]
    later = followed(text, lines_of_not_done(text, f'2027-03-12 done "{CHAIR}"'), previous=first.data)
    assert on(later, "2027-03-13") == []
    assert sequences(later.data)[on(later, "2027-03-12")[0].uid] == 1002
    much_later = lines_of_not_done(text, f'2027-03-12 done "{CHAIR}"', f'2027-03-15 done "{CHAIR}"')
    assert followed(text, much_later, previous=later.data).data == later.data


def test_a_session_reported_not_done_after_its_week_is_not_moved() -> None:
    text = short()
    late = f'2027-03-11 not done "{CHAIR}" because life reported 2027-03-16'
    made = followed(text, diary_of(*done_until(text, "2027-03-10"), f'2027-03-15 done "{CHAIR}"', late, code="P-021"))
    assert made.data == made_of(text).data


def test_the_hour_is_kept_over_a_clock_change() -> None:
    text = short(("2027-03-01", "2027-03-22"), ("Australia/Hobart", "Europe/London"), ("2027-04-04", "2027-04-25"))
    lines = [*done_until(text, "2027-03-24"), f'2027-03-25 not done "{CHAIR}" because life reported 2027-03-26']
    made = followed(text, diary_of(*lines, code="P-021"))
    assert [e.starts.isoformat() for e in on(made, "2027-03-27")] == ["2027-03-27T07:30:00+00:00"]


def test_a_flare_makes_its_week_an_easier_one_on_its_fourth_day() -> None:
    lines = [*done_until(beds(), "2027-03-14"), "2027-03-15 flare of knee, right"]
    third, fourth = (followed(beds(), diary_of(*lines), day) for day in ("2027-03-17", "2027-03-18"))
    assert not [e for e in third.entries if e.kind is Kind.EASIER_WEEK]
    assert [e.first_day.isoformat() for e in fourth.entries if e.kind is Kind.EASIER_WEEK] == ["2027-03-15"]
    assert on(fourth, "2027-03-19") == []


def test_in_turn_the_one_not_done_comes_next() -> None:
    text = text_of("in-turn")
    plan = plan_of(text)
    before = made_of(text)
    days = [e for e in before.entries if e.kind is Kind.SESSION]
    second = days[1]
    lines = [
        f'{days[0].first_day} done "{days[0].summary}"',
        f'{second.first_day} not done "{second.summary}" because life',
    ]
    after = followed(plan, diary_of(*lines, code=str(plan.code)))
    later = [e for e in after.entries if e.kind is Kind.SESSION and e.first_day > second.first_day]
    assert later[0].summary == second.summary


def test_a_retold_past_gives_the_same_calendar_whatever_order_its_lines_have() -> None:
    lines = [*done_until(beds(), "2027-05-09", (3,)), "2027-03-15 rest", f'2027-04-02 moved "{CHAIR}" to 2027-04-03']
    assert followed(beds(), diary_of(*lines)).data == followed(beds(), diary_of(*reversed(lines))).data


LIVES = {
    "one easier week": ["2027-03-08 rest"],
    "more than there is room for": [f"2027-03-{d:02} rest" for d in (8, 15, 22, 29)],
    "a flare that lasts": ["2027-03-09 flare of knee, right", "2027-03-24 flare over"],
    "nothing but not done": [f'2027-03-{d:02} not done "{CHAIR}" because life' for d in (1, 3, 5, 8, 10, 12)],
    "blanks": ["2027-03-26 pain 3/10"],
}


@pytest.mark.parametrize("life", LIVES)
def test_no_text_that_a_diary_brings_out_blames_or_promises(life: str) -> None:
    """Common practice, no source: a flare is not failure, and an easier week is part of the plan."""
    first = made_of(beds()).data
    made = followed(beds(), diary_of(*LIVES[life]), previous=first)
    said = {line for e in made.entries for line in (e.summary, *e.description.split("\n"))}
    said.discard("This week is part of the plan. Nothing is lost.")
    assert len(said) > 20
    assert [line for line in sorted(said) if BANNED.search(line)] == []


def agreed(plan: Plan) -> Plan:
    """The plan of a person who agreed to a full calendar, with a zone."""
    return evolve(plan, agreed=Agreed(plan.starts, "full", None, NOWHERE), zone="Europe/London", code="P-014")


@st.composite
def lived(draw: st.DrawFn) -> tuple[Plan, list[Line], date]:
    """A small plan, easier weeks within its room, the rest done, and a day within it."""
    plan = agreed(draw(small_plans(weeks=(3, 9), room=3)))
    assert plan.starts
    assert plan.weeks
    rest = draw(st.sets(st.integers(1, plan.weeks), max_size=max(plan.room, 0)))
    away = {w.number for w in reckon(plan).weeks if w.kind is WeekKind.AWAY}
    rest -= away
    lines = [Line(plan.starts + (7 * (w - 1) + draw(st.integers(0, 6))) * DAY, What.REST) for w in sorted(rest)]
    lines += done_lines(plan, frozenset(rest))
    return plan, lines, plan.starts + draw(st.integers(-1, 7 * plan.weeks + 1)) * DAY


def done_lines(plan: Plan, rest: frozenset[int] = frozenset()) -> list[Line]:
    """Everything done that is due, walks and all."""
    lines = []
    for week in reckon(plan, rest).weeks:
        lines += [Line(s.day, What.DONE, s.name) for s in week.sittings if s.exercises]
        for name, done in week.activities.items():
            exercise = plan.exercise(name)
            if exercise and not done.gentle:
                lines += [Line(week.starts + n * DAY, What.DID_EXERCISE, name, dose=done.dose) for n in range(7)]
    return lines


def told(lines: list[Line], day: date) -> Diary:
    known = tuple(sorted((e for e in lines if e.known_on <= day), key=lambda e: (e.day, e.what, e.name or "")))
    return Diary("P-014", Source("made.diary", ""), known)


def calendar(plan: Plan, lines: list[Line], day: date, previous: Previous | None = None) -> Made:
    past = past_of(plan, told(lines, day), day)
    made = make(past.weeks, CLINIC, KEY, previous, past=past)
    assert isinstance(made, Made), made
    return made


@settings(max_examples=examples(15), deadline=None, suppress_health_check=QUIET)
@given(lived())
def test_whatever_the_plan_done_sessions_change_no_byte(life: tuple[Plan, list[Line], date]) -> None:
    plan, _, day = life
    made = make(reckon(plan), CLINIC, KEY)
    assert isinstance(made, Made)
    assert calendar(plan, done_lines(plan), day).data == made.data


@settings(max_examples=examples(15), deadline=None, suppress_health_check=QUIET)
@given(lived(), st.data())
def test_whatever_the_plan_step_by_step_or_at_once_is_the_same(
    life: tuple[Plan, list[Line], date], data: st.DataObject
) -> None:
    plan, lines, day = life
    assert plan.starts
    first = make(reckon(plan), CLINIC, KEY)
    assert isinstance(first, Made)
    at_once = calendar(plan, lines, day, read_previous(first.data))
    step = first
    ends = data.draw(st.lists(st.dates(plan.starts - DAY, max(day, plan.starts - DAY)), max_size=3))
    for end in [*sorted(ends), day]:
        before = step
        step = calendar(plan, lines, end, read_previous(step.data))
        old, new = sequences(before.data), sequences(step.data)
        assert all(new[uid] >= number for uid, number in old.items())
        over = {e.uid: e for e in before.entries if e.last_day <= end and not e.cancelled}
        for entry in step.entries:
            if entry.uid in over and entry.last_day <= end and not entry.cancelled:
                assert entry == over[entry.uid] or entry.moves > over[entry.uid].moves
    # What came and went in between is called off by steps, and was never there all at once.
    between = [e for e in step.entries if e.cancelled and e not in at_once.entries]
    assert [e for e in step.entries if e not in between] == list(at_once.entries)
    assert not {e.uid for e in between} & set(sequences(first.data))


@settings(max_examples=examples(15), deadline=None, suppress_health_check=QUIET)
@given(lived())
def test_whatever_the_plan_its_sessions_keep_their_identities_within_the_room(
    life: tuple[Plan, list[Line], date],
) -> None:
    plan, lines, day = life
    # Where a week's days depend on the calendar, a training week holds other sessions elsewhere.
    days = [line for s in plan.sessions for line in s.days]
    assume(not plan.away and not any(line.every_second for line in days) and not any(s.visits for s in plan.sessions))
    first = make(reckon(plan), CLINIC, KEY)
    assert isinstance(first, Made)
    assert set(sessions(calendar(plan, lines, day))) == set(sessions(first))


@settings(max_examples=examples(25), deadline=None, suppress_health_check=QUIET)
@given(lived(), st.data())
def test_whatever_is_not_done_no_two_of_one_muscle_come_to_stand_side_by_side(
    life: tuple[Plan, list[Line], date], data: st.DataObject
) -> None:
    plan, lines, day = life
    plan = evolve(plan, sessions=tuple(evolve(s, if_not_done="move within the week") for s in plan.sessions))
    due = [line for line in lines if line.what is What.DONE]
    assume(due)
    missed = data.draw(st.lists(st.sampled_from(due), min_size=1, max_size=3, unique_by=id))
    lines = [evolve(e, what=What.NOT_DONE, because="life") if any(e is m for m in missed) else e for e in lines]
    past = past_of(plan, told(lines, day), day)
    planned, now = placed(plan, past.weeks), placed(plan, with_moved(past.weeks, moved_within(past, {})))
    for muscle in {m for e in plan.exercises for m in e.works}:
        assert side_by_side(now, muscle) <= side_by_side(planned, muscle)
    for one, count in Counter(d for d, _, _ in now).items():
        assert count <= max(1, sum(d == one for d, _, _ in planned))


def placed(plan: Plan, weeks: Weeks) -> list[tuple[date, str, frozenset[str]]]:
    """Each session with a day: when, its name, and the muscles that it trains."""
    works = {e.name: e.works for e in plan.exercises}
    return [
        (s.day, s.name, frozenset(m for name in s.exercises for m in works.get(name, ())))
        for week in weeks.weeks
        for s in week.sittings
        if not s.any_day
    ]


def side_by_side(placed: list[tuple[date, str, frozenset[str]]], muscle: str) -> set[date]:
    """The days that train a muscle and whose next day does too."""
    days = {day for day, _, muscles in placed if muscle in muscles}
    return {day for day in days if day + DAY in days}


@settings(max_examples=examples(25), deadline=None, suppress_health_check=QUIET)
@given(plans_with_diaries(), st.booleans(), st.data())
def test_whatever_a_diary_tells_each_change_has_a_higher_number_and_what_is_over_stays(
    drawn: tuple[Plan, list[Line], date], moves: bool, data: st.DataObject
) -> None:
    plan, lines, day = drawn
    plan = agreed(plan)
    if moves:
        plan = evolve(plan, sessions=tuple(evolve(s, if_not_done="move within the week") for s in plan.sessions))
    assert plan.starts
    day = max(day, plan.starts - DAY)
    ends = data.draw(st.lists(st.dates(plan.starts - DAY, day), min_size=1, max_size=2))
    before, last = None, None
    for end in [*sorted(ends), day]:
        made = calendar(plan, lines, end, read_previous(before.data) if before else None)  # never refused
        now = {e.uid: e for e in made.entries}
        for old in before.entries if before else ():
            new = now[old.uid]
            assert evolve(new, moves=0) == evolve(old, moves=0) or new.moves > old.moves
            if last and old.last_day <= last and not new.cancelled:
                assert new == old or new.last_day > last
        before, last = made, end
