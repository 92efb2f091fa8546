"""Whatever the reader makes a plan of, the reckoning answers: lines in any order, blocks half there, odd numbers."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.planning.week import WeekKind
from planlang.text.source import Source

LINES = """
starts 2027-03-01
starts 9998-12-30
starts 2027-10-28
lasts 1 week
lasts 9 weeks
lasts 520 weeks
zone Europe/London
zone Nowhere/Land
away 2027-03-08 to 2027-03-14
away 2027-03-10 to 2027-04-30 do session "A"
away 2027-03-01 to 2099-12-31
rest
room for 0 weeks
room for 2 weeks
room for 600 weeks
return 1 step lower for 1 week
return 0 steps lower for 0 weeks
return 9 steps lower for 9 weeks after 2 weeks
return at the same step after 3 weeks
lighter every 1 week by 1 step
lighter every 3 weeks by 5 steps
spare empty
still do squat 1x5
still do nobody 5 min
today
base strength 9 weeks
weights 1, 2, 3 kg
tested squat 40 kg for 8 reps
exercise squat
exercise hop
activity walking
kind strength
kind balance
works quadriceps
begin 2x6
begin 3000 steps/day
begin 70 min/week in bouts of 10 min
begin left 3x8 right 2x8
begin to be set at week 2
begin as tolerated
begin 3x to fatigue
then 2x8
then 2x8 for 9 weeks
then 20 min
then 3x8 at 70 %1RM
easier 1x5
rise 10 % every week to 5000 steps/day
progress every 2 weeks
progress every 10 days
progress every 1 week from training week 50
progress after 2 sessions clean
training weeks 2 to 3, 5
training week 90 on
start after 2 weeks of strength
start after 1 week of squat
start after reach 2x8 in squat
start after reach 2x8 in hop
at most 25 % above the aim
at most 20 min
session "A"
session "B"
days Mon, Wed
days 4 a week with 1 day between
days 7 a week
days 9 a week
days every second
days once every 4 weeks
days 2 a week, you choose
days 2 a week from Mon, Tue training weeks 2 on
at 01:30 for 20 min
at 07:30, 23:50
rounds 3
warm-up 5 min
do squat
do squat, walking, nobody
visit in weeks 1, 3, 99
visit twice in week 2
at most 1 visit
in turn with "A"
in turn with "B"
if not done move within the week
target "T"
by week 9999
reach 2x8 in squat
reach 3x8 at effort 5/10 in hop
review every 4 weeks
""".strip().splitlines()


@settings(max_examples=250, derandomize=True, deadline=None)
@given(st.lists(st.sampled_from(LINES), max_size=40), st.sets(st.integers(1, 9), max_size=4))
def test_any_lines_at_all_are_reckoned(lines, rest):
    text = "\n".join(['plan "P"', "lasts 6 weeks", "starts 2027-03-01", *lines]) + "\n"
    plan, _ = read_plan(Source("any.plan", text))
    if plan is None:
        return
    without = reckon(plan)
    free = {w.number for w in without.weeks if w.kind is not WeekKind.AWAY}
    found = reckon(plan, frozenset(rest & free))
    assert len(found.weeks) in (0, plan.weeks)
    for week in found.weeks:
        for sitting in week.sittings:
            assert week.starts <= sitting.day < week.starts + timedelta(days=7)
            assert all(name in week.exercises or name in week.activities for name in sitting.exercises)
            if sitting.starts:
                assert sitting.starts.date() == sitting.day
        orders: dict[str, list[int]] = {}
        for sitting in week.sittings:
            orders.setdefault(sitting.name, []).append(sitting.order)
        assert all(order == list(range(1, len(order) + 1)) for order in orders.values())
    for finding in found.findings:
        assert finding.message
        assert finding.advice
        assert finding.span is None or 0 <= finding.span.start <= finding.span.end <= len(text)
