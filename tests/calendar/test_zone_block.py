"""The zone block against zoneinfo, read by dateutil, which knows nothing but the block."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import available_timezones

import pytest

from planlang.calendar.zone import changes, zone_block
from planlang.planning.zones import zone
from tests.calendar.made import beds, made_of
from tests.calendar.readers import dateutil_zones

HOUR = timedelta(hours=1)


def block(name: str, first: date, last: date) -> list[str]:
    return zone_block(zone(name), first, last).to_ical().decode().split("\r\n")


def parts(name: str, first: date, last: date) -> list[str]:
    return [line.removeprefix("BEGIN:") for line in block(name, first, last) if line.startswith("BEGIN:")][1:]


def instants(name: str, first: date, last: date) -> list[datetime]:
    """Every third hour over the dates, and the seconds around each change."""
    start = datetime(first.year, first.month, first.day, tzinfo=UTC)
    found = [start + 3 * n * HOUR for n in range(8 * ((last - first).days + 1))]
    for change in changes(zone(name), first, last):
        found += [change.at - timedelta(seconds=1), change.at, change.at + 3 * HOUR]
    return found


def differences(name: str, first: date, last: date, at: list[datetime]) -> list[datetime]:
    """The instants whose wall clock, looked up in the block, is another instant."""
    made = dateutil_zones("\r\n".join(block(name, first, last)).encode())[name]
    true = zone(name)
    wrong = []
    for instant in at:
        local = instant.astimezone(true)
        if local.utcoffset() != local.replace(fold=1 - local.fold).utcoffset():
            continue  # a wall-clock time that comes twice; such times are never written with a zone
        if local.replace(tzinfo=made).astimezone(UTC) != instant:
            wrong.append(instant)
    return wrong


@pytest.mark.parametrize(
    ("name", "first", "last"),
    [
        ("Europe/London", date(2027, 3, 1), date(2027, 11, 30)),
        ("Australia/Hobart", date(2027, 3, 1), date(2027, 10, 31)),
        ("America/St_Johns", date(2027, 3, 1), date(2027, 11, 30)),
        ("Africa/Casablanca", date(2026, 1, 12), date(2026, 11, 1)),
        ("Asia/Kathmandu", date(2027, 3, 1), date(2027, 11, 30)),
        ("Australia/Lord_Howe", date(2027, 3, 1), date(2027, 10, 31)),
        ("Europe/Dublin", date(2026, 10, 1), date(2028, 4, 1)),
        ("America/Havana", date(2027, 1, 1), date(2028, 12, 1)),
        ("Asia/Gaza", date(2027, 1, 1), date(2028, 12, 1)),
    ],
)
def test_every_hour_of_the_plan_is_the_hour_that_zoneinfo_says(name: str, first: date, last: date) -> None:
    assert differences(name, first, last, instants(name, first, last)) == []


def test_every_zone_there_is_agrees_with_zoneinfo_on_each_side_of_its_changes() -> None:
    first, last = date(2027, 1, 4), date(2028, 1, 2)
    wrong = {}
    for name in sorted(available_timezones()):
        around = [
            change.at + shift
            for change in changes(zone(name), first, last)
            for shift in (-HOUR * 24, timedelta(seconds=-1), timedelta(0), HOUR * 24)
        ]
        if found := differences(name, first, last, [datetime(2027, 1, 4, tzinfo=UTC), *around]):
            wrong[name] = found
    assert wrong == {}


@pytest.mark.parametrize("name", ["Europe/London", "Australia/Hobart", "America/St_Johns"])
def test_yearly_rules_make_one_standard_and_one_daylight(name: str) -> None:
    assert parts(name, date(2027, 3, 1), date(2029, 3, 1)) == ["STANDARD", "DAYLIGHT"]
    assert sum(line.startswith("RRULE:FREQ=YEARLY") for line in block(name, date(2027, 3, 1), date(2029, 3, 1))) == 2


def test_both_halves_of_the_year_stand_there_though_the_plan_sees_no_change() -> None:
    assert parts("Europe/London", date(2027, 6, 7), date(2027, 8, 1)) == ["STANDARD", "DAYLIGHT"]


def test_london_begins_summer_time_at_one_by_the_winter_clock_as_the_standard_asks() -> None:
    # RFC 5545, 3.6.5: "DTSTART ... is the effective onset local date and time", told by TZOFFSETFROM. The EU directive
    # 2000/84/EC and the UK Summer Time Order 2002 begin summer time at 01:00 UTC on the last Sunday of March.
    lines = block("Europe/London", date(2027, 3, 1), date(2027, 7, 4))
    daylight = lines[lines.index("BEGIN:DAYLIGHT") : lines.index("END:DAYLIGHT")]
    assert "DTSTART:20260329T010000" in daylight
    assert "TZOFFSETFROM:+0000" in daylight
    assert "RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=3" in daylight


def test_a_zone_without_summer_time_has_one_standard() -> None:
    assert parts("Asia/Kathmandu", date(2027, 3, 1), date(2027, 7, 4)) == ["STANDARD"]


def test_a_zone_without_yearly_rules_has_one_observance_for_each_change() -> None:
    # tzdata: Morocco changed on 15 February and 22 March 2026 around Ramadan.
    lines = block("Africa/Casablanca", date(2026, 2, 2), date(2026, 4, 5))
    assert [line for line in lines if line.startswith("DTSTART")][1:] == [
        "DTSTART:20260215T030000",
        "DTSTART:20260322T020000",
    ]
    assert not any(line.startswith("RRULE") for line in lines)


@pytest.mark.parametrize("name", ["Europe/London", "Africa/Casablanca", "America/Havana", "Asia/Kathmandu"])
def test_changes_are_never_a_list_of_dates(name: str) -> None:
    assert not any(line.startswith(("RDATE", "EXDATE")) for line in block(name, date(2026, 1, 5), date(2028, 1, 2)))


def test_summer_is_daylight_where_zone_data_calls_winter_the_exception() -> None:
    lines = block("Europe/Dublin", date(2027, 3, 1), date(2027, 7, 4))
    daylight = lines[lines.index("BEGIN:DAYLIGHT") : lines.index("END:DAYLIGHT")]
    assert "TZOFFSETTO:+0100" in daylight


def test_a_rule_given_up_before_the_plan_is_not_carried_along() -> None:
    # Brazil gave summer time up in 2019 (decree 9,772); a rule left over from 2018 moved people's events.
    assert parts("America/Sao_Paulo", date(2027, 3, 1), date(2027, 12, 5)) == ["STANDARD"]


def test_the_block_is_that_of_the_dates_not_of_now() -> None:
    # Brazil: third Sunday of October to third Sunday of February, 2008 to 2017 (decree 6,558).
    lines = block("America/Sao_Paulo", date(2017, 3, 6), date(2018, 2, 4))
    assert "RRULE:FREQ=YEARLY;BYDAY=3SU;BYMONTH=10" in lines
    assert "TZOFFSETTO:-0200" in lines


def test_the_last_sunday_is_not_taken_for_the_fourth() -> None:
    # In 2027 and 2028 alone the last Sunday of March is the fourth (28, 26 March); the rule chosen holds longer.
    lines = block("Europe/London", date(2028, 1, 3), date(2028, 12, 31))
    assert "RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=3" in lines


def test_a_date_to_remember_far_away_does_not_widen_the_block() -> None:
    text = beds(("by         2027-07-04", "by         2041-07-04"))
    assert b"DTSTART:20260405T030000" in made_of(text).data
