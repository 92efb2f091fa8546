"""A second version of a calendar: what stays is the same entry, what goes is cancelled, a change needs a revision."""

from __future__ import annotations

import icalendar
import pytest

from planlang.calendar.entry import Kind
from planlang.calendar.making import make
from planlang.calendar.previous import NotOurs, read_previous
from planlang.calendar.writing import PRODUCT
from tests.calendar.made import CLINIC, KEY, beds, made_of, stairs, weeks_of

SECOND = ("revision   1", "revision   2")
FEWER_DAYS = ("Mon, Wed, Fri", "Mon, Fri")


def by_uid(data: bytes) -> dict[str, icalendar.Event]:
    return {str(e["UID"]): e for e in icalendar.Calendar.from_ical(data).events}


def first() -> bytes:
    return made_of(beds()).data


def test_a_session_keeps_its_uid_when_an_easier_week_moves_it() -> None:
    before, after = made_of(beds()), made_of(beds(SECOND), rest=[9])
    sessions = [e for e in before.entries if e.kind is Kind.SESSION]
    moved = {e.uid: e for e in after.entries if e.kind is Kind.SESSION}
    assert {e.uid for e in sessions} == set(moved)
    week_nine = [e for e in sessions if e.first_day.isoformat() == "2027-04-26"]
    assert [moved[e.uid].first_day.isoformat() for e in week_nine] == ["2027-05-03"]


def test_what_is_gone_is_cancelled_with_a_higher_sequence_and_says_so() -> None:
    old = by_uid(first())
    made = made_of(beds(SECOND, FEWER_DAYS), previous=read_previous(first()))
    new = by_uid(made.data)
    cancelled = {uid: e for uid, e in new.items() if e["STATUS"] == "CANCELLED"}
    assert made.cancelled == len(cancelled) == 18
    for uid, event in cancelled.items():
        assert event["SUMMARY"] == f"Cancelled: {old[uid]['SUMMARY']}"
        assert event.decoded("SEQUENCE") == 2000 > old[uid].decoded("SEQUENCE")
        assert event.decoded("DTSTART") == old[uid].decoded("DTSTART")
        assert event["TRANSP"] == "TRANSPARENT"
    assert set(old) <= set(new)


def test_all_events_of_a_build_have_one_sequence_the_cancelled_ones_too() -> None:
    made = made_of(beds(SECOND, FEWER_DAYS), previous=read_previous(first()))
    assert {e.decoded("SEQUENCE") for e in by_uid(made.data).values()} == {2000}


def test_a_cancellation_is_carried_on_for_those_who_skipped_a_version() -> None:
    second = made_of(beds(SECOND, FEWER_DAYS), previous=read_previous(first())).data
    third = made_of(beds(("revision   1", "revision   3"), FEWER_DAYS), previous=read_previous(second))
    assert third.cancelled == 18
    assert not any("Cancelled: Cancelled" in e.summary for e in third.entries)


def test_what_comes_back_is_confirmed_again() -> None:
    second = made_of(beds(SECOND, FEWER_DAYS), previous=read_previous(first())).data
    third = made_of(beds(("revision   1", "revision   3")), previous=read_previous(second))
    assert third.cancelled == 0
    assert {str(e["STATUS"]) for e in by_uid(third.data).values()} == {"CONFIRMED"}


def test_a_change_with_the_same_revision_is_refused_with_its_line() -> None:
    weeks = weeks_of(beds(FEWER_DAYS))
    refused = make(weeks, CLINIC, KEY, read_previous(first()))
    assert isinstance(refused, tuple)
    assert refused[0].blocks
    assert "still says revision 1" in refused[0].message
    assert "revision 2" in refused[0].advice
    assert weeks.plan.source.text[refused[0].span.start : refused[0].span.end].startswith("revision")


def test_an_easier_week_with_the_same_revision_is_refused() -> None:
    assert isinstance(make(weeks_of(beds(), rest=[9]), CLINIC, KEY, read_previous(first())), tuple)


def test_a_lower_revision_than_the_persons_calendar_is_refused() -> None:
    third = made_of(beds(("revision   1", "revision   3"))).data
    refused = make(weeks_of(beds(SECOND)), CLINIC, KEY, read_previous(third))
    assert isinstance(refused, tuple)
    assert "of revision 3" in refused[0].message
    assert "revision 4" in refused[0].advice


def test_the_same_plan_again_is_the_same_file() -> None:
    assert made_of(beds(), previous=read_previous(first())).data == first()


def test_another_persons_calendar_is_not_cancelled() -> None:
    with pytest.raises(NotOurs, match="another plan's"):
        made_of(beds(SECOND), previous=read_previous(made_of(stairs()).data))


def test_a_new_title_or_key_is_said_not_guessed() -> None:
    for changed, key in ((beds(SECOND, ("Two raised beds by spring", "Beds")), KEY), (beds(SECOND), b"new key")):
        with pytest.raises(NotOurs, match="title, the person's code"):
            made_of(changed, previous=read_previous(first()), key=key)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"hello",
        b"\x00\xff\xfe",
        b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//somebody//else//EN\r\nEND:VCALENDAR\r\n",
        f"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:{PRODUCT}\r\nBEGIN:VEVENT\r\nUID:1\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n".encode(),
        b"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\n",
    ],
)
def test_a_file_that_is_no_calendar_of_ours_is_said_to_be_none(data: bytes) -> None:
    with pytest.raises(NotOurs):
        read_previous(data)


@pytest.mark.parametrize("share", [0.01, 0.1, 0.5, 0.9, 0.999])
def test_a_file_that_was_cut_off_is_said_to_be_damaged(share: float) -> None:
    data = first()
    with pytest.raises(NotOurs):
        read_previous(data[: int(len(data) * share)])


def test_a_session_that_moves_to_another_zone_is_cancelled_at_the_same_instant() -> None:
    moved = made_of(beds(SECOND, FEWER_DAYS, ("Australia/Hobart", "Europe/London")), previous=read_previous(first()))
    old, new = by_uid(first()), by_uid(moved.data)
    for uid, event in new.items():
        if event["STATUS"] == "CANCELLED":
            assert event.decoded("DTSTART") == old[uid].decoded("DTSTART")
