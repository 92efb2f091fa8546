"""Plans looked back on with made-up diaries equal the slow reading of the page."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

from attrs import evolve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planlang.model.build.diary import in_order
from planlang.model.diary import Diary, Entry, What
from planlang.model.exercise import Joint
from planlang.model.quantity import Quantity
from planlang.planning.looking_back import past_of
from planlang.planning.reckon import reckon
from planlang.text.source import Source
from tests.made import make_exercise, make_plan, make_session
from tests.oracle.looking_back import Story, look_back, rest_weeks
from tests.strategies import examples, one_in, small_plans

QUIET = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]
DAY = timedelta(days=1)
WAYS = ("done", "done", "done", "except", "part", "not", "blank", "shifted", "made-up", "moved", "moved-done")
STRETCHES = ((What.FLARE, What.FLARE_OVER), (What.ILLNESS, What.ILLNESS_OVER), (What.PAUSE, What.PAUSE_OVER))


def diary_of(entries):
    return Diary("P-014", Source("made.diary", ""), tuple(entries))


@st.composite
def rested(draw, plan):
    """Easier weeks that the diary says, and up to two flares, illnesses or pauses, some of them not over."""
    days = 7 * plan.weeks
    entries = []
    for _ in range(draw(st.sampled_from([0, 0, 1, 2]))):
        entries.append(Entry(plan.starts + draw(st.integers(0, days - 1)) * DAY, What.REST))
    for _ in range(draw(st.sampled_from([0, 1, 1, 2]))):
        begins, over = draw(st.sampled_from(STRETCHES))
        first = plan.starts + draw(st.integers(-3, days - 1)) * DAY
        entries.append(Entry(first, begins))
        if not one_in(draw, 4):
            entries.append(Entry(first + draw(st.integers(0, 12)) * DAY, over))
    return entries


@st.composite
def plans_with_diaries(draw):
    """A small plan, what a diary tells of its sessions and walks, and the day up to which it is read."""
    plan = draw(small_plans(weeks=(3, 10), room=3))
    joints = {e.name: draw(st.sampled_from([(), (Joint("hand"),), (Joint("hand", "left"),)])) for e in plan.exercises}
    plan = evolve(plan, exercises=tuple(evolve(e, joints=joints[e.name]) for e in plan.exercises))
    as_of = plan.starts + draw(st.integers(-2, 7 * plan.weeks + 2)) * DAY
    entries = draw(rested(plan))
    if one_in(draw, 3):
        side = draw(st.sampled_from([None, "left", "right"]))
        day = plan.starts + draw(st.integers(0, 7 * plan.weeks - 1)) * DAY
        entries.append(Entry(day, What.REST, joint=Joint("hand", side)))
    story = Story(plan, entries, as_of, rest=rest_weeks(plan, entries, as_of))
    for due in story.all_dues():
        names = plan.session(due.name).do
        some = tuple(n for n in names if draw(st.booleans()))
        on = due.day + draw(st.sampled_from([-2, -1, 1, 2])) * DAY
        done, not_done = What.DONE, What.NOT_DONE
        match draw(st.sampled_from(WAYS)):
            case "done":
                entries.append(Entry(due.day, done, due.name))
            case "except":
                entries.append(Entry(due.day, done, due.name, names=some))
            case "part":
                entries.append(Entry(due.day, What.PART, due.name, names=some))
            case "not":
                entries.append(Entry(due.day, not_done, due.name))
            case "shifted":
                entries.append(Entry(on, done, due.name))
            case "made-up":
                entries += [Entry(due.day, not_done, due.name), Entry(on, done, due.name)]
            case "moved":
                entries.append(Entry(due.day, What.MOVED, due.name, to=on))
            case "moved-done":
                entries += [Entry(due.day, What.MOVED, due.name, to=on), Entry(on, done, due.name)]
    for day in range(7 * plan.weeks) if "walking" in joints else ():
        if one_in(draw, 3):
            walked = Quantity(Fraction(draw(st.integers(0, 12)) * 400), "steps")
            if plan.exercise("walking").weekly:
                walked = Quantity(Fraction(draw(st.integers(0, 12)) * 10), "min")
            entries.append(Entry(plan.starts + day * DAY, What.WALKED, value=walked))
    return plan, entries, as_of


def as_reckoned(weeks):
    return [
        (
            week.number,
            week.kind,
            week.training_week,
            {
                name: (done.step, done.easing, done.lighter, done.gentle, done.own)
                for name, done in {**week.exercises, **week.activities}.items()
            },
        )
        for week in weeks.weeks
    ]


def as_read(weeks):
    return [
        (
            one.week.number,
            one.week.kind,
            one.week.training_week,
            {name: (seen.step, seen.easing, seen.lighter, seen.gentle, seen.own) for name, seen in one.seen.items()},
        )
        for one in weeks
    ]


@settings(max_examples=examples(250), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(plans_with_diaries())
def test_a_diary_is_looked_back_on_as_the_page_reads(drawn):
    plan, entries, as_of = drawn
    expected = as_read(look_back(plan, entries, as_of))
    found = as_reckoned(past_of(plan, diary_of(entries), as_of).weeks)
    assert expected == found, f"as of {as_of}: {sorted(entries, key=lambda e: e.day)}\n{plan}"


@settings(max_examples=examples(60), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(plans_with_diaries(), st.randoms(use_true_random=False))
def test_the_order_of_lines_makes_no_difference(drawn, shuffled):
    plan, entries, as_of = drawn
    once = past_of(plan, diary_of(sorted(entries, key=in_order)), as_of)
    shuffled.shuffle(entries)
    again = past_of(plan, diary_of(sorted(entries, key=in_order)), as_of)
    assert once == again


@settings(max_examples=examples(80), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(small_plans(weeks=(3, 10), room=3), st.integers(-2, 80))
def test_a_diary_of_nothing_but_sessions_done_leaves_the_weeks_as_they_were(plan, day):
    weeks = reckon(plan)
    entries = [
        Entry(sitting.day, What.DONE, sitting.name)
        for week in weeks.weeks
        for sitting in week.sittings
        for _ in range(sitting.count)
    ]
    past = past_of(plan, diary_of(entries), plan.starts + day * DAY)
    assert past.weeks.weeks == weeks.weeks
    assert past.weeks.begins == weeks.begins


@settings(max_examples=examples(60), derandomize=True, deadline=None, suppress_health_check=QUIET)
@given(small_plans(weeks=(3, 10), room=3), st.sets(st.integers(1, 10), max_size=4))
def test_easier_weeks_one_by_one_end_as_all_at_once(plan, numbers):
    """Common practice, no source: a plan looked at after each easier week is the plan looked at after all of them."""
    lines: list[Entry] = []
    for number in sorted(n for n in numbers if n <= plan.weeks):
        lines.append(Entry(plan.starts + 7 * (number - 1) * DAY, What.REST))
        past_of(plan, diary_of(lines))
    end = plan.starts + 7 * plan.weeks * DAY
    every = past_of(plan, diary_of(lines[::-1]), end)
    assert every.weeks == past_of(plan, diary_of(lines), end).weeks
    assert every.rest == rest_weeks(plan, lines, end)


def test_a_session_made_up_later_in_its_week_is_done():
    """Completed on another day of the week: not one that was not done, and not an extra one."""
    plan = make_plan(make_exercise(steps=4), weeks=4, sessions=[make_session("sit-to-stand", days="Mon")])
    monday = plan.starts
    name = plan.sessions[0].name
    past = past_of(plan, diary_of([Entry(monday, What.NOT_DONE, name), Entry(monday + 2 * DAY, What.DONE, name)]))
    assert (past.done, past.due, past.extra) == (1, 1, ())
    assert past.weeks.weeks[1].exercises["sit-to-stand"].step == 1
