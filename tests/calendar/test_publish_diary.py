"""Publishing with a diary: the calendar on the server follows, and what is over stays as it was."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from planlang.cli.main import run
from tests.calendar.caldav_server import Account, Between
from tests.calendar.conftest import Desk
from tests.calendar.made import text_of
from tests.calendar.readers import by_icalendar
from tests.calendar.test_following import done_until
from tests.calendar.test_publish import ALL, WRITING, by_uid, changed

PLAN = text_of("five-weeks")
REST = [*done_until(PLAN, "2027-03-07"), "2027-03-08 rest"]


def diary(desk: Desk, *lines: str) -> str:
    path = desk.folder / "one.diary"
    path.write_text("diary for P-021\n" + "\n".join(lines) + "\n", "utf-8")
    return str(path)


def test_an_easier_week_of_the_diary_moves_what_is_to_come_without_a_new_revision(desk: Desk, account: Account) -> None:
    path = desk.plan()
    desk.publish(path)
    before = by_uid(account.whole(account.ours()))
    code, said = desk.publish(path, "--diary", diary(desk, *REST))
    after = by_uid(account.whole(account.ours()))
    assert (code, said["left"], said["removed"]) == (0, [], 3)
    moved = {uid for uid in set(before) & set(after) if after[uid].decoded("DTSTART") != before[uid].decoded("DTSTART")}
    assert {after[uid].decoded("DTSTART") - before[uid].decoded("DTSTART") for uid in moved} == {timedelta(weeks=1)}
    assert {int(after[uid]["SEQUENCE"]) for uid in moved} == {1001}
    assert len(moved) == 9
    over = [uid for uid, e in before.items() if str(e.decoded("DTSTART"))[:10] < "2027-03-08"]
    assert [after[uid].to_ical() for uid in over] == [before[uid].to_ical() for uid in over]
    assert len(over) == 3


def test_publishing_a_diary_twice_writes_nothing_the_second_time(
    desk: Desk, account: Account, between: Between
) -> None:
    path = desk.plan()
    desk.publish(path)
    told = diary(desk, *REST)
    desk.publish(path, "--diary", told)
    code, said = desk.publish(path, "--diary", told, to=between.url)
    assert (code, said["steps"]) == (0, [])
    assert between.methods(*WRITING) == 0


def test_done_sessions_write_nothing(desk: Desk, account: Account, between: Between) -> None:
    path = desk.plan()
    desk.publish(path)
    told = diary(desk, *done_until(PLAN, "2027-03-17"))
    code, said = desk.publish(path, "--diary", told, to=between.url)
    assert (code, said["same"], between.methods(*WRITING)) == (0, ALL, 0)


def test_the_server_says_what_compile_writes_with_the_same_diary(desk: Desk, account: Account, tmp_path: Path) -> None:
    path, told = desk.plan(), diary(desk, *REST)
    desk.publish(path)
    desk.publish(path, "--diary", told)
    assert run(["compile", str(path), "--diary", told, "-o", str(tmp_path / "one.ics")]) == 0
    desk.capsys.readouterr()
    seen, wanted = (
        sorted(by_icalendar(d), key=lambda e: e.uid)
        for d in (account.whole(account.ours()), (tmp_path / "one.ics").read_bytes())
    )
    assert seen == wanted


def test_a_session_not_done_is_moved_and_only_it_is_written(desk: Desk, account: Account, between: Between) -> None:
    text = PLAN.replace("Mon, Wed, Fri", "Mon, Thu")
    path = desk.written(text)
    desk.publish(path)
    lines = [*done_until(text, "2027-03-10"), '2027-03-11 not done "Chair and bench" because life']
    code, said = desk.publish(path, "--diary", diary(desk, *lines), to=between.url)
    assert (code, said["changed"], between.methods("PUT"), between.methods("DELETE")) == (0, 1, 1, 0)
    moved = [e for e in by_uid(account.whole(account.ours())).values() if int(e["SEQUENCE"]) == 1001]
    assert [e.decoded("DTSTART").date() for e in moved] == [date(2027, 3, 12)]


def test_a_run_of_moves_cut_off_is_finished_by_the_next_one(desk: Desk, account: Account, between: Between) -> None:
    path, told = desk.plan(), diary(desk, *REST)
    desk.publish(path)
    between.hook = lambda method, _: (503, {}) if between.methods("PUT", "DELETE") > 4 else None
    assert desk.publish(path, "--diary", told, to=between.url)[0] == 2
    between.hook = None
    code, said = desk.publish(path, "--diary", told, to=between.url)
    assert (code, said["left"]) == (0, [])
    starts = [str(e.decoded("DTSTART")) for e in by_uid(account.whole(account.ours())).values()]
    assert len(starts) == len(set(starts)) == ALL - 2  # three spare sessions less, an easier week more


def test_what_the_person_moved_themselves_is_left_where_they_put_it(desk: Desk, account: Account) -> None:
    path = desk.plan()
    desk.publish(path)
    href, kept = changed(account, "Chair and bench", location="the hall")
    code, said = desk.publish(path, "--diary", diary(desk, *REST))
    assert (code, said["left"]) == (0, [])  # its day is over, and nothing new is to be said of it
    assert account.ask("GET", href)[1] == kept


def test_a_sign_that_nobody_answered_stands_against_publishing(desk: Desk, account: Account, between: Between) -> None:
    told = diary(desk, *REST, '2027-03-09 told "calf sore and swollen" by P-021')
    code, said = desk.publish(desk.plan(), "--diary", told, to=between.url)
    assert code == 1
    assert "open-red-flag" in [f["rule"] for f in said["findings"]]
    assert between.asked == []
