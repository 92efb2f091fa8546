"""`planlang publish` against a real calendar server: what is there afterwards, seen without any of our code."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import icalendar
import pytest

from planlang.cli.main import run
from tests.calendar.caldav_server import Account, Between
from tests.calendar.conftest import Desk
from tests.calendar.made import daily
from tests.calendar.readers import by_dateutil, by_icalendar, by_recurring_ical_events, everybody

SECOND = ("revision   1", "revision   2")
FEWER_DAYS = ("Mon, Wed, Fri", "Mon, Wed")
ALL = 17  # entries of the plan: 12 sessions, 3 spare ones, a review, a target
READING = ("PROPFIND", "REPORT")
WRITING = ("PUT", "DELETE", "MKCALENDAR", "PROPPATCH")
FOREIGN = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//somebody//else//EN\r\nBEGIN:VEVENT\r\nUID:dentist\r\n"
    b"DTSTAMP:20270101T000000Z\r\nDTSTART:20270303T080000Z\r\nDTEND:20270303T083000Z\r\nSUMMARY:Dentist\r\n"
    b"END:VEVENT\r\nEND:VCALENDAR\r\n"
)


def by_uid(data: bytes) -> dict[str, icalendar.Event]:
    return {str(e["UID"]): e for e in icalendar.Calendar.from_ical(data).events}


def changed(account: Account, said: str, **properties: object) -> tuple[str, bytes]:
    """The first entry that says so, changed as another program would: its address and how it is kept then."""
    found = {h: icalendar.Calendar.from_ical(data) for h, data in account.resources(account.ours()).items()}
    same = [(str(c.events[0].decoded("DTSTART")), h) for h, c in found.items() if str(c.events[0]["SUMMARY"]) == said]
    href = min(same)[1]
    event = found[href].events[0]
    for name, value in properties.items():
        event.pop(name, None)
        event.add(name, value)
    account.put(href, found[href].to_ical())
    return href, account.ask("GET", href)[1]


def test_it_makes_a_calendar_of_its_own_and_fills_it(desk: Desk, account: Account) -> None:
    code, said = desk.publish(desk.plan())
    assert code == 0
    assert (said["written"], said["changed"], said["removed"]) == (ALL, 0, 0)
    assert len(by_uid(account.whole(account.ours()))) == ALL


def test_what_is_there_says_what_compile_writes(desk: Desk, account: Account, tmp_path: Path) -> None:
    path = desk.plan()
    assert run(["compile", str(path), "-o", str(tmp_path / "one.ics")]) == 0
    desk.capsys.readouterr()
    desk.publish(path)
    wanted = (tmp_path / "one.ics").read_bytes()
    for reader in (by_icalendar, by_recurring_ical_events):
        seen = [sorted(reader(data), key=lambda e: e.uid) for data in (account.whole(account.ours()), wanted)]
        assert seen[0] == seen[1]
    one_by_one = [
        event
        for data in account.resources(account.ours()).values()
        for event in by_dateutil(data.replace(b"\r\n", b"\n").replace(b"\n", b"\r\n"))
    ]
    assert sorted(one_by_one, key=lambda e: e.uid) == sorted(by_dateutil(wanted), key=lambda e: e.uid)


@pytest.mark.node
def test_four_readers_see_the_same_on_the_server(desk: Desk, account: Account, tmp_path: Path) -> None:
    desk.publish(desk.plan())
    seen = everybody(account.whole(account.ours()).replace(b"\r\n", b"\n").replace(b"\n", b"\r\n"), tmp_path)
    assert len(seen["icalendar"]) == ALL
    assert all(events == seen["icalendar"] for events in seen.values())


def test_no_name_on_the_server_tells_whose_it_is(desk: Desk, account: Account, between: Between) -> None:
    desk.publish(desk.plan(), to=between.url)
    told = " ".join(
        [*(path for _, path in between.asked), *account.resources(account.ours()), *account.calendars().values()]
    )
    for secret in ("021", "P-0", "low", "Up", "knee"):
        assert secret not in told


def test_publishing_twice_writes_nothing_the_second_time(desk: Desk, account: Account, between: Between) -> None:
    path = desk.plan()
    desk.publish(path, to=between.url)
    before = account.resources(account.ours())
    between.asked.clear()
    code, said = desk.publish(path, to=between.url)
    assert code == 0
    assert (said["same"], said["written"], said["steps"]) == (ALL, 0, [])
    assert between.methods(*WRITING) == 0
    assert between.methods("REPORT") == 1
    assert account.resources(account.ours()) == before


def test_two_hundred_entries_take_one_listing_and_only_the_writes_that_are_needed(
    desk: Desk, account: Account, between: Between
) -> None:
    path = desk.written(daily("Europe/London", "2027-01-04", weeks=29, times="07:30"))
    assert desk.publish(path, to=between.url)[1]["written"] == between.methods("PUT") == 203
    between.asked.clear()
    removed = sorted(account.resources(account.ours()))[:3]
    for href in removed:
        account.ask("DELETE", href)
    _, said = desk.publish(path, to=between.url)
    assert (said["written"], said["same"]) == (3, 200)
    assert [path for method, path in between.asked if method in WRITING] == sorted(
        removed, key=[path for _, path in between.asked].index
    )
    assert between.methods("REPORT") == 1
    assert between.methods("PROPFIND") <= 5
    assert between.methods("GET") == 0


def test_a_dry_run_says_what_would_be_written_and_writes_nothing(
    desk: Desk, account: Account, between: Between
) -> None:
    code, said = desk.publish(desk.plan(), "--dry-run", to=between.url)
    assert code == 0
    assert (said["dry_run"], said["written"], len(said["steps"])) == (True, ALL, ALL)
    assert said["steps"][0] == {"do": "write", "starts": "2027-03-01T07:30:00+11:00", "summary": "Chair and bench"}
    assert between.methods(*WRITING) == 0
    assert account.calendars() == {}


def test_an_easier_week_moves_what_is_to_come_and_keeps_the_identities(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan())
    before = by_uid(account.whole(account.ours()))
    code, said = desk.publish(desk.plan(SECOND), "--rest", "2")
    after = by_uid(account.whole(account.ours()))
    assert (code, said["cancelled"], said["removed"], said["written"]) == (0, 0, 3, 1)
    moved = {uid for uid in set(before) & set(after) if after[uid].decoded("DTSTART") != before[uid].decoded("DTSTART")}
    assert {after[uid].decoded("DTSTART") - before[uid].decoded("DTSTART") for uid in moved} == {timedelta(weeks=1)}
    assert min(before[uid].decoded("DTSTART").date() for uid in moved) == date(2027, 3, 8)
    assert len(moved) == 9
    assert sum(str(e["SUMMARY"]) == "Easier week" for e in after.values()) == 1


def test_no_two_entries_stand_at_one_time_after_an_easier_week(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan())
    desk.publish(desk.plan(SECOND), "--rest", "2")
    starts = [e.decoded("DTSTART") for e in by_uid(account.whole(account.ours())).values()]
    timed = [s for s in starts if isinstance(s, datetime)]
    assert len(timed) == len(set(timed)) == 12


def test_a_session_that_is_gone_is_called_off_in_plain_words(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan())
    before = by_uid(account.whole(account.ours()))
    code, said = desk.publish(desk.plan(SECOND, FEWER_DAYS))
    after = by_uid(account.whole(account.ours()))
    assert (code, said["cancelled"]) == (0, 5)
    called_off = [e for e in after.values() if str(e["STATUS"]) == "CANCELLED"]
    assert {str(e["SUMMARY"]) for e in called_off} == {"Cancelled: Chair and bench"}
    assert {e.decoded("DTSTART").weekday() for e in called_off} == {4}
    assert {e.decoded("SEQUENCE") for e in called_off} == {2000}
    assert set(after) == set(before)
    again = desk.publish(desk.plan(SECOND, FEWER_DAYS))[1]
    assert (again["steps"], again["same"]) == ([], ALL)


def test_where_another_session_now_stands_the_old_one_is_taken_away(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan())
    code, said = desk.publish(desk.plan(SECOND, ("Mon, Wed, Fri", "Mon, Fri")))
    assert (code, said["cancelled"], said["removed"]) == (0, 0, 5)
    fridays = [e for e in by_uid(account.whole(account.ours())).values() if e.decoded("DTSTART").weekday() == 4]
    assert [str(e["SUMMARY"]) for e in fridays] == ["Chair and bench"] * 5


def test_what_comes_back_is_on_again(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan())
    desk.publish(desk.plan(SECOND, FEWER_DAYS))
    code, said = desk.publish(desk.plan(("revision   1", "revision   3")))
    assert (code, said["changed"]) == (0, ALL)
    assert {str(e["STATUS"]) for e in by_uid(account.whole(account.ours())).values()} == {"CONFIRMED"}


def test_a_change_with_the_same_revision_is_refused_and_nothing_is_written(
    desk: Desk, account: Account, between: Between
) -> None:
    desk.publish(desk.plan(), to=between.url)
    between.asked.clear()
    for more, change in (((), (FEWER_DAYS,)), (("--rest", "2"), ())):
        code, said = desk.publish(desk.plan(*change), *more, to=between.url)
        assert code == 1
        assert "still says revision 1" in said["findings"][0]["message"]
    assert between.methods(*WRITING) == 0


def test_a_lower_revision_than_the_servers_is_refused(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan(("revision   1", "revision   3")))
    code, said = desk.publish(desk.plan(SECOND))
    assert code == 1
    assert "of revision 3" in said["findings"][0]["message"]


def test_what_the_person_changed_is_left_and_said_once_there_is_news(desk: Desk, account: Account) -> None:
    path = desk.plan()
    desk.publish(path)
    href, kept = changed(account, "Chair and bench", summary="Bench, with Ann")
    code, said = desk.publish(path)
    assert (code, said["same"]) == (0, ALL - 1)
    assert said["left"] == [
        {
            "starts": "2027-03-01T07:30:00+11:00",
            "summary": "Bench, with Ann",
            "why": "changed by the person",
            "news": False,
        }
    ]
    code, said = desk.publish(desk.plan(SECOND))
    assert (code, said["changed"]) == (1, ALL - 1)
    assert said["left"][0]["news"] is True
    assert account.ask("GET", href)[1] == kept


@pytest.mark.parametrize(
    "change",
    [
        {"location": "the hall"},
        {"status": "CANCELLED"},
        {"rrule": "x"},
        {"categories": "home"},
        {"description": "mine"},
    ],
)
def test_whatever_a_person_can_mean_by_a_change_counts(desk: Desk, account: Account, change: dict[str, object]) -> None:
    path = desk.plan()
    desk.publish(path)
    if "rrule" in change:
        change = {"rrule": icalendar.vRecur(freq="WEEKLY", count=2)}
    href, kept = changed(account, "Chair and bench", **change)
    assert desk.publish(desk.plan(SECOND))[0] == 1
    assert account.ask("GET", href)[1] == kept


def test_an_alarm_that_the_person_set_is_not_lost(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan())
    href, data = next(iter(sorted(account.resources(account.ours()).items())))
    alarm = b"BEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:Now\r\nTRIGGER:-PT15M\r\nEND:VALARM\r\nEND:VEVENT"
    account.put(href, data.replace(b"END:VEVENT", alarm))
    assert desk.publish(desk.plan(SECOND))[0] == 1
    assert b"VALARM" in account.ask("GET", href)[1]


def test_what_a_program_notes_for_itself_is_no_change(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan())
    href, data = next(iter(sorted(account.resources(account.ours()).items())))
    noted = b"X-SEEN:20270301T000000Z\r\nLAST-MODIFIED:20270301T000000Z\r\nEND:VEVENT"
    account.put(href, data.replace(b"END:VEVENT", noted))
    code, said = desk.publish(desk.plan(SECOND))
    assert (code, said["changed"], said["left"]) == (0, ALL, [])


def test_a_change_between_looking_and_writing_is_left_and_the_rest_is_written(
    desk: Desk, account: Account, between: Between
) -> None:
    desk.publish(desk.plan())
    kept: list[tuple[str, bytes]] = []

    def meddle(method: str, path: str) -> None:
        if method == "REPORT" and not kept:
            kept.append(changed(account, "Chair and bench", summary="Bench, with Ann"))

    between.after = meddle
    code, said = desk.publish(desk.plan(SECOND), to=between.url)
    assert (code, said["changed"]) == (1, ALL - 1)
    assert "since we looked" in said["left"][0]["why"]
    assert account.ask("GET", kept[0][0])[1] == kept[0][1]


def test_what_the_person_writes_in_its_place_in_between_is_left(desk: Desk, account: Account, between: Between) -> None:
    path = desk.plan()
    desk.publish(path)
    href, data = next(iter(sorted(account.resources(account.ours()).items())))
    account.ask("DELETE", href)

    def meddle(method: str, _: str) -> None:
        if method == "REPORT":
            account.put(href, data.replace(b"STATUS:CONFIRMED", b"STATUS:TENTATIVE"))

    between.after = meddle
    code, said = desk.publish(path, to=between.url)
    assert (code, said["written"], len(said["left"])) == (1, 0, 1)
    assert b"TENTATIVE" in account.ask("GET", href)[1]


def test_a_removal_meets_a_change_and_leaves_it(desk: Desk, account: Account, between: Between) -> None:
    path = desk.plan()
    desk.publish(path)
    between.after = lambda method, _: (
        changed(account, "Chair and bench", summary="Mine") and None if method == "REPORT" else None
    )
    code, said = desk.publish(path, "--withdraw", to=between.url)
    assert (code, said["removed"], said["calendar_removed"]) == (1, ALL - 1, False)
    assert [str(e["SUMMARY"]) for e in by_uid(account.whole(account.ours())).values()] == ["Mine"]


def test_nobody_elses_event_is_touched_in_our_calendar_or_in_another(desk: Desk, account: Account) -> None:
    other = account.make("home", "Exercise")  # theirs, and by chance of the same name
    account.put(f"{other}dentist.ics", FOREIGN)
    desk.publish(desk.plan())
    ours = next(href for href in account.calendars() if href != other)
    account.put(f"{ours}walk.ics", FOREIGN.replace(b"dentist", b"walk"))
    before = account.resources(other), account.ask("GET", f"{ours}walk.ics")
    for change, more in (((SECOND, FEWER_DAYS), ()), ((("revision   1", "revision   3"),), ("--rest", "2"))):
        assert desk.publish(desk.plan(*change), *more)[0] == 0
    code, said = desk.publish(desk.plan(), "--withdraw")
    assert (code, said["calendar_removed"]) == (0, False)
    assert (account.resources(other), account.ask("GET", f"{ours}walk.ics")) == before
    assert list(account.resources(ours)) == [f"{ours}walk.ics"]


def test_withdrawing_leaves_nothing_of_us_and_twice_is_once(desk: Desk, account: Account) -> None:
    path = desk.plan()
    desk.publish(path)
    code, said = desk.publish(path, "--withdraw", "--dry-run")
    assert (code, said["removed"], len(account.resources(account.ours()))) == (0, ALL, ALL)
    code, said = desk.publish(path, "--withdraw")
    assert (code, said["removed"], said["calendar_removed"]) == (0, ALL, True)
    assert account.calendars() == {}
    code, said = desk.publish(path, "--withdraw")
    assert (code, said["removed"], said["calendar_removed"]) == (0, 0, False)


def test_withdrawing_leaves_what_the_person_made_their_own_unless_told(desk: Desk, account: Account) -> None:
    path = desk.plan()
    desk.publish(path)
    changed(account, "Chair and bench", summary="Bench, with Ann")
    code, said = desk.publish(path, "--withdraw")
    assert (code, said["removed"], len(said["left"])) == (1, ALL - 1, 1)
    code, said = desk.publish(path, "--withdraw", "--changed-too")
    assert (code, said["removed"], said["calendar_removed"]) == (0, 1, True)


@pytest.mark.parametrize(
    "change",
    [
        ("calendar full", "calendar none"),
        ("revision   1", "revision   1\n  state draft"),
        ("lasts      5 weeks", "lasts      5 weaks"),
    ],
)
def test_withdrawing_needs_nothing_of_the_plan_but_whose_it_is(
    desk: Desk, account: Account, change: tuple[str, str]
) -> None:
    desk.publish(desk.plan())
    code, said = desk.publish(desk.plan(change), "--withdraw")
    assert (code, said["removed"]) == (0, ALL)


def test_what_is_over_stays_as_it_was(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan())
    before = by_uid(account.whole(account.ours()))
    code, said = desk.publish(desk.plan(SECOND, FEWER_DAYS), "--today", "2027-03-17")
    after = by_uid(account.whole(account.ours()))
    assert code == 0
    over = {uid for uid, e in before.items() if str(e.decoded("DTEND"))[:10] < "2027-03-17"}
    assert said["past"] == len(over) == 7
    stays = ("SUMMARY", "DESCRIPTION", "DTSTART", "SEQUENCE", "STATUS")
    for uid in over:
        assert [after[uid][name] for name in stays] == [before[uid][name] for name in stays]
    assert {e.decoded("SEQUENCE") for uid, e in after.items() if uid not in over} == {2000}


def test_one_persons_blocks_share_a_calendar_and_go_one_by_one(desk: Desk, account: Account) -> None:
    first, second = desk.plan(), desk.plan(("Up from the low chair", "Up from the low bench"), file="two.plan")
    desk.publish(first)
    code, said = desk.publish(second)
    assert (code, said["written"], said["same"], said["others"]) == (0, ALL, 0, ALL)
    assert len(account.resources(account.ours())) == 2 * ALL
    code, said = desk.publish(first, "--withdraw")
    assert (code, said["removed"], said["calendar_removed"]) == (0, ALL, False)
    assert len(account.resources(account.ours())) == ALL


def test_two_people_of_one_account_have_a_calendar_each(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan())
    desk.publish(desk.plan(("P-021", "P-022"), file="two.plan"))
    assert list(account.calendars().values()) == ["Exercise", "Exercise"]
    desk.publish(desk.plan(), "--withdraw")
    assert len(account.resources(account.ours())) == ALL


def test_a_discreet_calendar_tells_the_server_nothing_of_the_exercises(desk: Desk, account: Account) -> None:
    desk.publish(desk.plan(("calendar full", "calendar discreet")))
    told = account.whole(account.ours()).decode().lower()
    for word in ("sit to stand", "chair", "bench", "knee", "front room", "cards", "p-021"):
        assert word not in told


def test_instants_hold_over_a_clock_change(desk: Desk, account: Account) -> None:
    desk.publish(desk.written(daily("Europe/London", "2027-03-22", weeks=2, times="07:30")))
    starts = sorted(e.starts for e in by_icalendar(account.whole(account.ours())))
    assert starts[5] == datetime(2027, 3, 27, 7, 30, tzinfo=UTC)
    assert starts[6] == datetime(2027, 3, 28, 6, 30, tzinfo=UTC)


def test_the_text_names_counts_and_what_is_left(desk: Desk, account: Account) -> None:
    path = desk.plan()
    desk.publish(path)
    changed(account, "Chair and bench", summary="Bench, with Ann")
    assert run(["publish", str(desk.plan(SECOND)), "--to", desk.url]) == 1
    said = desk.capsys.readouterr().out
    assert "16 changed" in said
    assert "2027-03-01 07:30  Bench, with Ann: changed by the person; the plan now says something else" in said
    assert "can't be recalled" in said
    assert "Free text is not understood" in said
