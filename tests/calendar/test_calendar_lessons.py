"""The ways in which generated calendars are known to go wrong in real calendar programs, one test each."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import zoneinfo
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import icalendar
import pytest
from attrs import evolve

from planlang.calendar.entry import Entry, Kind
from planlang.calendar.identity import Identities
from planlang.calendar.making import make
from planlang.planning.telling.standing import Contacts
from planlang.planning.zones import zone
from tests.calendar.made import CLINIC, KEY, beds, daily, entries_of, made_of, plan_of, stairs, weeks_of
from tests.calendar.readers import unfolded

ROOT = Path(__file__).parents[2]


def events(data: bytes) -> list[icalendar.Event]:
    return list(icalendar.Calendar.from_ical(data).events)


def named(data: bytes, summary: str) -> icalendar.Event:
    return next(e for e in events(data) if e["SUMMARY"] == summary)


def properties(data: bytes) -> set[str]:
    """The names of all properties outside the zone block."""
    text = "\n".join(unfolded(data))
    text = re.sub(r"BEGIN:VTIMEZONE.*END:VTIMEZONE", "", text, flags=re.DOTALL)
    return {re.split("[:;]", line, maxsplit=1)[0] for line in text.splitlines() if line}


def test_the_end_of_one_day_is_the_next_day_for_it_is_exclusive() -> None:
    event = named(made_of(beds()).data, "Appointment")
    assert event["DTSTART"].to_ical() == b"20270328"
    assert event["DTEND"].to_ical() == b"20270329"
    assert event["DTSTART"].params["VALUE"] == event["DTEND"].params["VALUE"] == "DATE"


def test_the_end_of_seven_days_is_the_eighth_for_it_is_exclusive() -> None:
    event = named(made_of(beds(), rest=[9]).data, "Easier week")
    assert event["DTSTART"].to_ical() == b"20270426"
    assert event["DTEND"].to_ical() == b"20270503"


def test_an_entry_that_ends_when_it_begins_cannot_be_made() -> None:
    day, at = date(2027, 3, 1), datetime(2027, 3, 1, 7, 30, tzinfo=UTC)
    for moment in (day, at):
        with pytest.raises(ValueError, match="ends after it begins"):
            Entry(Kind.TASK, "1", moment, moment, "a", "b")


def test_an_entry_of_a_date_and_a_time_cannot_be_made() -> None:
    with pytest.raises(ValueError, match="a date, or"):
        Entry(Kind.TASK, "1", date(2027, 3, 1), datetime(2027, 3, 1, 8, tzinfo=UTC), "a", "b")


def test_a_floating_time_cannot_be_made() -> None:
    with pytest.raises(ValueError, match="zone"):
        Entry(Kind.TASK, "1", datetime(2027, 3, 1, 7), datetime(2027, 3, 1, 8), "a", "b")


@pytest.mark.parametrize("text", [beds(), stairs(), daily("Africa/Casablanca", "2026-02-02")])
def test_every_zone_that_is_used_has_its_block_and_no_other_has(text: str) -> None:
    calendar = icalendar.Calendar.from_ical(made_of(text).data)
    used = {e[p].params["TZID"] for e in calendar.events for p in ("DTSTART", "DTEND") if "TZID" in e[p].params}
    assert used == {str(part["TZID"]) for part in calendar.walk("VTIMEZONE")}
    assert len(used) == 1


def test_the_zone_block_stands_before_the_events() -> None:
    names = [part.name for part in icalendar.Calendar.from_ical(made_of(beds()).data).subcomponents]
    assert names[0] == "VTIMEZONE"
    assert set(names[1:]) == {"VEVENT"}


def test_start_and_end_name_the_same_zone() -> None:
    for event in events(made_of(beds()).data):
        assert event["DTSTART"].params.get("TZID") == event["DTEND"].params.get("TZID")


@pytest.mark.parametrize("name", ["+00", "IST", "Asia/Beijing", "GMT+10 hours", "../etc/passwd", "Europe", ""])
def test_a_zone_name_that_is_none_is_no_zone(name: str) -> None:
    assert zone(name) is None


def test_utc_is_written_with_z_and_without_a_block() -> None:
    data = made_of(daily("UTC", "2027-03-01")).data
    assert b"DTSTART:20270301T073000Z" in data
    assert b"VTIMEZONE" not in data


def test_no_time_floats() -> None:
    for event in events(made_of(beds()).data):
        moment = event.decoded("DTSTART")
        assert not isinstance(moment, datetime) or moment.tzinfo is not None


def test_a_zone_for_the_whole_file_is_not_relied_upon() -> None:
    assert "X-WR-TIMEZONE" not in properties(made_of(beds()).data)


def test_half_past_seven_stays_half_past_seven_across_the_clock_change() -> None:
    sessions = [e for e in events(made_of(beds()).data) if isinstance(e.decoded("DTSTART"), datetime)]
    assert {e.decoded("DTSTART").time() for e in sessions} == {time(7, 30)}
    assert {e.decoded("DTSTART").utcoffset() for e in sessions} == {timedelta(hours=11), timedelta(hours=10)}


def test_a_time_that_comes_twice_or_not_at_all_is_found_and_written_as_an_instant() -> None:
    text = daily("Australia/Hobart", "2027-03-29", 2, times="02:30")
    assert any("2027-04-04" in f.message and "02:30" in f.message for f in weeks_of(text).findings)
    starts = [e["DTSTART"] for e in events(made_of(text).data)]
    assert [s.to_ical() for s in starts if "TZID" not in s.params] == [b"20270403T153000Z"]
    assert len(starts) == 14


def test_nothing_recurs_is_left_out_or_overridden() -> None:
    assert not properties(made_of(beds()).data) & {"RRULE", "RDATE", "EXDATE", "EXRULE", "RECURRENCE-ID"}


def test_the_first_and_the_last_day_of_the_plan_hold_their_sessions() -> None:
    days = {e.first_day for e in entries_of(daily("Europe/London", "2027-03-01", 4))}
    assert days == {date(2027, 3, 1) + timedelta(days=n) for n in range(28)}


def test_uids_are_neither_counters_nor_guessable_from_a_list_of_codes() -> None:
    made = made_of(beds())
    for entry in made.entries:
        assert re.fullmatch(r"[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}", entry.uid)
    other = made_of(beds(), key=b"another key")
    assert not {e.uid for e in made.entries} & {e.uid for e in other.entries}


def test_a_second_build_gives_the_same_uids_and_another_person_others() -> None:
    uids = [e.uid for e in made_of(beds()).entries]
    assert uids == [e.uid for e in made_of(beds()).entries]
    assert not set(uids) & {e.uid for e in made_of(beds(("P-014", "P-015"))).entries}


def test_a_uid_does_not_change_with_time_of_day_words_lines_or_start() -> None:
    plain_uids = {e.uid for e in made_of(beds()).entries if e.kind is Kind.SESSION}
    changed = beds(
        ("at         07:30", "at         09:00"),
        ("2027-03-01\n", "2027-03-08\n"),
        ('"dining chair, hands on thighs"', '"kitchen chair"'),
        ("screening 2027-02-22", "# one more line\n\nscreening 2027-02-22"),
    )
    assert {e.uid for e in made_of(changed).entries if e.kind is Kind.SESSION} == plain_uids


@pytest.mark.parametrize("text", [beds(), stairs()])
def test_every_event_has_a_uid_of_its_own_a_stamp_and_a_sequence(text: str) -> None:
    found = events(made_of(text).data)
    assert len({e["UID"] for e in found}) == len(found)
    assert all("DTSTAMP" in e and "SEQUENCE" in e for e in found)


def test_the_same_parts_a_second_time_are_the_second_of_their_kind() -> None:
    ids = Identities(plan_of(beds()), KEY)
    assert ids.of("task", "buy a band", 2) != ids.of("task", "buy a band", 2)


def test_the_sequence_is_a_thousand_times_the_revision_and_the_same_in_all_events() -> None:
    assert {e.decoded("SEQUENCE") for e in events(made_of(beds()).data)} == {1000}
    assert {e.decoded("SEQUENCE") for e in events(made_of(stairs()).data)} == {3000}


def test_a_revision_too_high_for_a_calendar_is_refused_with_its_line() -> None:
    weeks = weeks_of(beds())
    refused = make(evolve(weeks, plan=evolve(weeks.plan, revision=3_000_000)), CLINIC, KEY)
    assert isinstance(refused, tuple)
    assert "revision 3000000" in refused[0].message
    assert refused[0].blocks


def test_it_is_no_invitation_and_names_nobody() -> None:
    assert not properties(made_of(stairs()).data) & {"METHOD", "ORGANIZER", "ATTENDEE", "CONTACT", "URL"}


def test_there_is_no_alarm_and_no_category() -> None:
    data = made_of(stairs()).data
    assert b"VALARM" not in data
    assert not properties(data) & {"CATEGORIES", "TRIGGER", "ACTION", "ATTACH"}


@pytest.mark.parametrize("text", [beds(), stairs(), beds(("calendar full", "calendar discreet"))])
def test_summary_and_description_are_never_empty(text: str) -> None:
    for event in events(made_of(text, rest=[8]).data):
        assert str(event["SUMMARY"]).strip()
        assert str(event["DESCRIPTION"]).strip()


def test_an_end_is_written_never_a_length() -> None:
    data = made_of(stairs()).data
    assert "DURATION" not in properties(data)
    for event in events(data):
        assert event.decoded("DTEND") > event.decoded("DTSTART")


def test_a_session_without_a_length_is_not_of_zero_length() -> None:
    text = daily("Europe/London", "2027-03-01", 1).replace(" for 35 min", "").replace("07:30, 23:20", "07:30")
    for entry in entries_of(text):
        assert entry.ends > entry.starts


def test_whole_days_leave_the_day_free_and_timed_sessions_do_not() -> None:
    for event in events(made_of(beds(), rest=[9]).data):
        whole = not isinstance(event.decoded("DTSTART"), datetime)
        assert event["TRANSP"] == ("TRANSPARENT" if whole else "OPAQUE")
        assert event.get("X-MICROSOFT-CDO-BUSYSTATUS") == ("FREE" if whole else None)


def test_every_entry_is_private() -> None:
    assert {str(e["CLASS"]) for e in events(made_of(beds()).data)} == {"PRIVATE"}


def test_the_stamp_is_the_day_on_which_the_plan_was_written() -> None:
    assert {e.decoded("DTSTAMP") for e in events(made_of(beds()).data)} == {datetime(2027, 2, 22, tzinfo=UTC)}


def test_two_machines_in_two_zones_with_two_clocks_write_the_same_bytes() -> None:
    program = (
        "import sys, hashlib; from tests.calendar.made import made_of, stairs;"
        "sys.stdout.write(hashlib.sha256(made_of(stairs(), rest=[8]).data).hexdigest())"
    )
    digests = set()
    for place, seed in (("Pacific/Kiritimati", "1"), ("America/Los_Angeles", "2")):
        environment = {**os.environ, "TZ": place, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT), "LC_ALL": "C"}
        run = subprocess.run(
            [sys.executable, "-c", program], env=environment, cwd=ROOT, capture_output=True, text=True, check=True
        )
        digests.add(run.stdout)
    assert len(digests) == 1


def test_the_zones_of_the_package_go_before_those_of_the_machine() -> None:
    assert zoneinfo.TZPATH == ()
    assert zone("Europe/London") is not None


def test_a_plan_with_times_and_no_zone_is_refused_and_says_what_to_write() -> None:
    weeks = weeks_of(beds(("  zone       Australia/Hobart\n", "")))
    refused = make(weeks, Contacts(), KEY)
    assert isinstance(refused, tuple)
    assert "zone" in refused[0].message
    assert "zone Australia/Hobart" in refused[0].advice


def test_calendar_files_keep_their_line_ends_in_version_control() -> None:
    assert "*.ics -text" in (ROOT / ".gitattributes").read_text("utf-8").splitlines()


def test_the_calendar_has_a_name_that_tells_nothing() -> None:
    calendar = icalendar.Calendar.from_ical(made_of(beds()).data)
    assert calendar["X-WR-CALNAME"] == "Exercise"
    assert "P-014" not in str(calendar["PRODID"])
