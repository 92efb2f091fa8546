"""`planlang publish`: the calendar of a plan on a CalDAV server, and taking it back."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, findings_data, json_option, plan_at
from planlang.cli.diary_option import diary_option
from planlang.cli.main import FINDINGS, WRONG_CALL
from planlang.cli.password import password_for, user_of
from planlang.cli.published import data_of, say, say_stopped, say_usual
from planlang.cli.reckoned import Reckoned, reckoned
from planlang.cli.refusing import calendar_key, case_of, clinic_of, refuse
from planlang.cli.rest_option import rest_option
from planlang.cli.watched import watched

if TYPE_CHECKING:
    from planlang.calendar.making import Made
    from planlang.calendar.server.address import Address
    from planlang.calendar.server.publishing import Server
    from planlang.cli.refusing import Case

MANY = 20  # writings from which a bar is shown


@click.command("publish")
@click.argument("path", metavar="PLAN")
@click.option("--to", "to", required=True, metavar="URL", help="The CalDAV server; https:// unless it is this machine.")
@click.option("--user", metavar="NAME", help="Who signs in; else PLANLANG_USER.")
@click.option("--dry-run", is_flag=True, help="Say what would be written, and write nothing.")
@click.option("--withdraw", is_flag=True, help="Remove everything of this plan from the server.")
@click.option("--changed-too", is_flag=True, help="With --withdraw: also entries that the person has changed.")
@diary_option
@rest_option
@click.option(
    "--today",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="Judge dates and waivers by this day, and leave what was before it. With a diary: the day to look back from.",
)
@json_option
def command(
    path: str,
    to: str,
    user: str | None,
    dry_run: bool,
    withdraw: bool,
    changed_too: bool,
    diary: str | None,
    rest: str,
    today: datetime | None,
    as_json: bool,
) -> int:
    """Put the calendar of a plan on a CalDAV server, into a calendar of its own that is named "Exercise".

    Only what differs is written; what the person has changed is left and reported. The password is taken from
    PLANLANG_PASSWORD or the machine's keyring. A clinic never asks for the password of a person's own server: give
    the file that planlang compile writes.
    """
    from planlang.calendar.making import make, not_agreed

    address = _address(to)
    if changed_too and not withdraw:
        raise click.UsageError("--changed-too goes with --withdraw only")
    if withdraw and (rest or diary is not None):
        raise click.UsageError("--withdraw takes everything of the plan away: leave --rest and --diary out")
    if withdraw:
        return _withdraw(path, address, user, dry_run, changed_too, as_json)
    day = today.date() if today else None
    case, result = case_of(path, day)
    if case is None:
        return refuse(result, as_json, "calendar")
    refused = not_agreed(case.plan())
    if refused:
        return refuse(case.result((refused,)), as_json, "calendar")
    known = reckoned(case, rest, diary, day)
    if not isinstance(known, Reckoned):
        return refuse(known, as_json, "calendar")
    made = make(known.weeks, case.contacts, calendar_key(case.clinic), None, case.words(None), known.past)
    if isinstance(made, tuple):
        return refuse(case.result(made), as_json, "calendar")
    return _publish(case, known, made, address, user, dry_run, known.past.as_of if known.past else day, as_json)


def _publish(
    case: Case,
    known: Reckoned,
    made: Made,
    address: Address,
    user: str | None,
    dry_run: bool,
    today: date | None,
    as_json: bool,
) -> int:
    from planlang.calendar.identity import collection_uid
    from planlang.calendar.making import same_revision
    from planlang.calendar.server.publishing import Course, find, to_do, written

    plan = case.plan()
    collection = collection_uid(plan, calendar_key(case.clinic))
    with _signed_in(address, user) as server:
        found = find(server, collection, made.uid)
        todo = to_do(made, found, today)
        if todo.clashes:
            before = max(one.sequence for one in todo.clashes)
            return refuse(case.result((same_revision(plan, before),)), as_json, "calendar")
        if dry_run:
            course = Course(todo.steps)
        else:
            with watched("writing", len(todo.steps), len(todo.steps) >= MANY) as one_done:
                course = written(server, found, collection, todo.steps, one_done)
    if as_json:
        answer = data_of(address.origin, course, dry_run, todo)
        echo_json({**answer, "findings": findings_data(case.result(case.checked.findings)) + known.findings()})
    else:
        say(address.origin, course, dry_run, todo)
        say_usual(case, known.told)
    if course.stopped:
        say_stopped(course)
        return WRONG_CALL
    return FINDINGS if course.met or any(one.news for one in todo.touched) else 0


def _withdraw(path: str, address: Address, user: str | None, dry_run: bool, changed_too: bool, as_json: bool) -> int:
    from planlang.calendar.identity import calendar_uid, collection_uid
    from planlang.calendar.server.difference import Difference, Touched
    from planlang.calendar.server.publishing import Course, emptied, find, withdrawal, written

    plan, result = plan_at(path)
    if plan is None:
        return refuse(result, as_json, "calendar")
    key = calendar_key(clinic_of(path)[1])
    mark, collection = calendar_uid(plan, key), collection_uid(plan, key)
    with _signed_in(address, user) as server:
        found = find(server, collection, mark)
        steps, left = withdrawal(found, mark, changed_too)
        if dry_run:
            course = Course(steps)
        else:
            with watched("removing", len(steps), len(steps) >= MANY) as one_done:
                course = written(server, found, collection, steps, one_done)
            emptied(server, found, course)
    todo = Difference(steps, tuple(Touched(one, news=True) for one in left), 0, 0, ())
    if as_json:
        echo_json({**data_of(address.origin, course, dry_run, todo), "findings": []})
    else:
        say(address.origin, course, dry_run, todo, withdrawing=True)
    if course.stopped:
        say_stopped(course)
        return WRONG_CALL
    return FINDINGS if course.met or left else 0


def _address(text: str) -> Address:
    from planlang.calendar.server.address import BadAddress, address

    try:
        return address(text)
    except BadAddress as fault:
        raise click.BadParameter(str(fault), param_hint="--to") from None


@contextmanager
def _signed_in(address: Address, user: str | None) -> Iterator[Server]:
    """The server; whatever keeps us from it before a word is written is a wrong call."""
    name = user_of(user)
    password = password_for(address.origin, name)
    try:
        from planlang.calendar.server.connection import Connection
    except ImportError:
        raise click.UsageError("publishing needs the caldav library: pip install 'planlang[publish]'") from None
    from planlang.calendar.server.faults import ServerFault

    try:
        server = Connection(address, name, password)
        try:
            yield server
        finally:
            server.close()
    except ServerFault as fault:
        raise click.ClickException(f"{fault}. Nothing was written.") from None
