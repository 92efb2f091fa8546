"""Any small plan with any placement of rest is a calendar that another reader reads alike, and loses nothing."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime

from attrs import evolve
from hypothesis import given, settings

from planlang.calendar.entry import Kind
from planlang.calendar.making import Made, make
from planlang.calendar.previous import read_previous
from planlang.model.plan import Agreed, Plan
from planlang.planning.reckon import reckon
from planlang.planning.week import WeekKind
from tests.calendar.made import CLINIC, KEY
from tests.calendar.readers import by_dateutil
from tests.strategies import plans_with_rest


def full(plan: Plan, revision: int = 1) -> Plan:
    return evolve(plan, agreed=Agreed(plan.starts, "full"), revision=revision)


@given(plans_with_rest())
@settings(max_examples=40, deadline=None)
def test_every_sitting_and_every_easier_week_is_an_entry(case: tuple[Plan, frozenset[int]]) -> None:
    plan, rest = case
    weeks = reckon(full(plan), rest)
    made = make(weeks, CLINIC, KEY)
    assert isinstance(made, Made)
    kinds = Counter(entry.kind for entry in made.entries)
    sittings = sum(kinds[k] for k in (Kind.SESSION, Kind.SPARE, Kind.AWAY_SESSION, Kind.CONTACT))
    assert sittings == sum(len(week.sittings) for week in weeks.weeks)
    assert kinds[Kind.EASIER_WEEK] == sum(week.kind is WeekKind.REST for week in weeks.weeks)
    wanted = {
        (e.uid, e.starts if e.all_day else e.starts.astimezone(UTC), e.summary, e.description) for e in made.entries
    }
    assert {(e.uid, e.starts, e.summary, e.description) for e in by_dateutil(made.data)} == wanted


@given(plans_with_rest())
@settings(max_examples=30, deadline=None)
def test_the_next_version_keeps_or_cancels_everything_that_was_given_out(case: tuple[Plan, frozenset[int]]) -> None:
    plan, rest = case
    first = make(reckon(full(plan)), CLINIC, KEY)
    assert isinstance(first, Made)
    second = make(reckon(full(plan, 2), rest), CLINIC, KEY, read_previous(first.data))
    assert isinstance(second, Made)
    now = {entry.uid: entry for entry in second.entries}
    assert {entry.uid for entry in first.entries} <= set(now)
    live = {entry.uid for entry in make(reckon(full(plan, 2), rest), CLINIC, KEY).entries}
    assert {uid for uid, entry in now.items() if not entry.cancelled} == live
    assert all(entry.summary.startswith("Cancelled: ") for entry in now.values() if entry.cancelled)


@given(plans_with_rest())
@settings(max_examples=30, deadline=None)
def test_training_sessions_keep_their_identity_wherever_the_rest_falls(case: tuple[Plan, frozenset[int]]) -> None:
    plan, rest = case
    places, uids = [], []
    for placed in (frozenset(), rest):
        weeks = reckon(full(plan), placed)
        made = make(weeks, CLINIC, KEY)
        places.append({(w.training_week, s.name, s.order) for w in weeks.weeks if w.training_week for s in w.sittings})
        uids.append({e.uid for e in made.entries if e.kind is Kind.SESSION})
    assert [len(one) for one in uids] == [len(one) for one in places]
    assert len(uids[0] & uids[1]) == len(places[0] & places[1])


def test_instants_of_entries_are_datetimes_with_a_zone_or_dates() -> None:
    from tests.calendar.made import beds, entries_of

    for entry in entries_of(beds()):
        assert entry.all_day or (isinstance(entry.starts, datetime) and entry.starts.tzinfo is not None)
