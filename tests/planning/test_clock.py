"""Session times across clock changes, each against the instant worked out by hand or by zoneinfo."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from attrs import evolve

from planlang.planning.clock import change_days, is_double, is_missing, span_of
from planlang.planning.zones import zone
from tests.planning.plans import messages, plan_of, reckoned

ZONES = ["Europe/London", "Australia/Hobart", "America/St_Johns", "Africa/Casablanca", "Asia/Kathmandu"]


def daily(name: str, at: str, starts: date, weeks: int = 3, room: int = 0, days: str = "every day"):
    body = f'exercise squat\nbegin 2x6\nsession "A"\ndays {days}\nat {at} for 30 min\ndo squat'
    return evolve(plan_of(body, weeks, room), starts=starts, zone=name)


@pytest.mark.parametrize("name", ZONES)
@pytest.mark.parametrize("starts", [date(2027, 3, 1), date(2027, 9, 27), date(2027, 10, 18)])
def test_seven_thirty_stays_seven_thirty(name, starts):
    for week in reckoned(daily(name, "07:30", starts, 6)).weeks:
        for sitting in week.sittings:
            assert (sitting.starts.time(), sitting.starts.date()) == (time(7, 30), sitting.day)
            assert sitting.starts.utcoffset() == datetime.combine(sitting.day, time(7, 30), zone(name)).utcoffset()
            assert sitting.ends.astimezone(UTC) - sitting.starts.astimezone(UTC) == timedelta(minutes=30)


def test_the_offset_changes_in_hobart_on_the_first_sunday_of_april():
    # Tasmania: daylight saving ends on the first Sunday of April, 3 am to 2 am.
    weeks = reckoned(daily("Australia/Hobart", "07:30", date(2027, 3, 29), 2)).weeks
    by_day = {s.day: s.starts.isoformat() for w in weeks for s in w.sittings}
    assert by_day[date(2027, 4, 3)] == "2027-04-03T07:30:00+11:00"
    assert by_day[date(2027, 4, 4)] == "2027-04-04T07:30:00+10:00"


def test_a_time_that_the_clock_skips_is_a_finding():
    found = reckoned(daily("Europe/London", "01:30", date(2027, 3, 22), 2))
    assert messages(found) == ['The clock changes on 2027-03-28: 01:30, when "A" could fall, does not exist that day.']


def test_a_time_that_comes_twice_is_a_finding():
    found = reckoned(daily("Europe/London", "01:30", date(2027, 10, 25), 2))
    assert messages(found) == ['The clock changes on 2027-10-31: 01:30, when "A" could fall, comes twice that day.']


def test_a_time_on_other_days_is_no_finding():
    assert messages(reckoned(daily("Europe/London", "01:30", date(2027, 3, 22), 2, days="Mon, Wed"))) == []


def test_a_day_on_which_the_session_falls_only_after_rest_is_a_finding_too():
    # Training week 2 alone holds a Sunday session: on the 21st without rest, on the 28th after one rest week.
    def plan(room: int):
        return daily("Europe/London", "01:30", date(2027, 3, 8), 8, room, "Sun training weeks 2")

    assert messages(reckoned(plan(0))) == []
    assert "2027-03-28" in messages(reckoned(plan(1)))[0]


def test_an_unknown_zone_is_a_finding_and_times_have_none():
    found = reckoned(daily("Europe/Londn", "07:30", date(2027, 3, 1)))
    assert "no time zone" in messages(found)[0]
    assert found.weeks[0].sittings[0].starts == datetime(2027, 3, 1, 7, 30)


def test_a_session_across_the_change_lasts_as_long_as_a_watch_counts():
    starts, ends = span_of(date(2027, 3, 28), time(0, 45), 30, zone("Europe/London"))
    assert (starts.isoformat(), ends.isoformat()) == ("2027-03-28T00:45:00+00:00", "2027-03-28T02:15:00+01:00")


@pytest.mark.parametrize("name", ZONES)
def test_the_change_days_are_those_on_which_midnights_differ(name):
    here, first = zone(name), date(2027, 1, 1)
    found = change_days(here, first, 365)
    for n in range(365):
        day = first + timedelta(days=n)
        offsets = [datetime.combine(day + timedelta(days=d), time(0), here).utcoffset() for d in (0, 1)]
        if offsets[0] != offsets[1]:
            assert day in found


@pytest.mark.parametrize("name", ZONES)
def test_missing_and_double_times_are_those_that_do_not_come_back_from_utc_once(name):
    here = zone(name)
    for day in change_days(here, date(2027, 1, 1), 365):
        instants: dict[datetime, int] = {}
        start = datetime.combine(day - timedelta(days=1), time(0), UTC)
        for quarter in range(4 * 72):
            local = (start + timedelta(minutes=15 * quarter)).astimezone(here).replace(tzinfo=None)
            instants[local] = instants.get(local, 0) + 1
        for quarter in range(96):
            wall = datetime.combine(day, time(0)) + timedelta(minutes=15 * quarter)
            local = wall.replace(tzinfo=here)
            assert is_missing(local) == (instants.get(wall, 0) == 0)
            assert is_double(local) == (instants.get(wall, 0) == 2)
