"""Every calendar read by readers that know nothing of each other: the same instants, those of zoneinfo."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from planlang.planning.zones import zone
from tests.calendar.golden import CALENDARS
from tests.calendar.made import beds, daily, entries_of, made_of
from tests.calendar.readers import everybody, raw_ical_js

pytestmark = pytest.mark.node

# The day of a clock change, and the zone; none in Kathmandu (tzdata 2026).
CHANGES = [
    ("Europe/London", date(2027, 3, 28)),
    ("Europe/London", date(2027, 10, 31)),
    ("Australia/Hobart", date(2027, 4, 4)),
    ("Australia/Hobart", date(2027, 10, 3)),
    ("America/St_Johns", date(2027, 3, 14)),
    ("America/St_Johns", date(2027, 11, 7)),
    ("Africa/Casablanca", date(2026, 2, 15)),
    ("Africa/Casablanca", date(2026, 3, 22)),
    ("Asia/Kathmandu", date(2027, 3, 28)),
]


@pytest.mark.parametrize(("name", "change"), CHANGES)
def test_a_plan_across_a_clock_change_is_at_the_same_instants_in_every_reader(
    name: str, change: date, tmp_path: Path
) -> None:
    starts, weeks = change - timedelta(days=13), 4
    data = made_of(daily(name, starts.isoformat(), weeks)).data
    place = ZoneInfo(name)
    expected = sorted(
        datetime.combine(starts + timedelta(days=n), at, place).astimezone(UTC)
        for n in range(7 * weeks)
        for at in (time(7, 30), time(23, 20))
    )
    seen = {reader: sorted(e.starts for e in events) for reader, events in everybody(data, tmp_path).items()}
    assert seen == dict.fromkeys(seen, expected)


@pytest.mark.parametrize(("name", "change"), [c for c in CHANGES if c[0] != "Asia/Kathmandu"])
def test_the_change_itself_is_inside_the_plan(name: str, change: date) -> None:
    noon = [datetime.combine(change + timedelta(days=n), time(12), zone(name)).utcoffset() for n in (-1, 0)]
    assert noon[0] != noon[1]


def test_a_time_that_the_clock_skips_or_repeats_is_one_instant_for_every_reader(tmp_path: Path) -> None:
    # Hobart, 4 April 2027: 02:30 comes twice; 3 October 2027: 02:30 does not come at all.
    for starts in ("2027-03-29", "2027-09-27"):
        data = made_of(daily("Australia/Hobart", starts, 2, times="02:30")).data
        seen = list(everybody(data, tmp_path).values())
        assert len(seen[0]) == 14
        assert all(events == seen[0] for events in seen)
        days = {event.starts.astimezone(ZoneInfo("Australia/Hobart")).date() for event in seen[0]}
        assert len(days) == 14


@pytest.mark.parametrize("name", CALENDARS)
def test_every_reader_sees_the_same_events_and_texts(name: str, tmp_path: Path) -> None:
    seen = everybody(CALENDARS[name](), tmp_path)
    assert seen["dateutil"] == seen["icalendar"]
    assert seen["ical.js"] == seen["icalendar"]
    assert seen["recurring-ical-events"] == seen["icalendar"]


def test_every_reader_sees_what_the_plan_says(tmp_path: Path) -> None:
    expected = sorted(
        (e.uid, e.starts if e.all_day else e.starts.astimezone(UTC), e.summary, e.description)
        for e in entries_of(beds())
    )
    for events in everybody(made_of(beds()).data, tmp_path).values():
        assert [(e.uid, e.starts, e.summary, e.description) for e in events] == expected


def test_no_reader_takes_a_time_for_floating_or_an_event_for_recurring(tmp_path: Path) -> None:
    path = tmp_path / "calendar.ics"
    path.write_bytes(made_of(beds()).data)
    events = raw_ical_js([path])[0]
    assert {e["zone"] for e in events if e["starts"] is not None} == {"Australia/Hobart"}
    assert not any(e["recurring"] for e in events)
