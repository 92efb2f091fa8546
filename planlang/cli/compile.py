"""`planlang compile`: the calendar of a plan."""

from __future__ import annotations

from datetime import datetime
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, findings_data, json_option, many, options, with_findings
from planlang.cli.diary_option import diary_option
from planlang.cli.reckoned import Reckoned, reckoned
from planlang.cli.refusing import Case, calendar_key, case_of, refuse, save_as, writable
from planlang.cli.rest_option import rest_option

if TYPE_CHECKING:
    from planlang.calendar.making import Made
    from planlang.calendar.previous import Previous
    from planlang.planning.week import Weeks
    from planlang.report.result import Result
    from planlang.text.finding import Finding
    from planlang.text.languages.words import Words

LARGEST = 1 << 24  # bytes of a calendar; twenty years of daily sessions are less


@click.command("compile")
@click.argument("path", metavar="PLAN")
@click.option("-o", "--output", required=True, metavar="FILE.ics", help="The calendar to write.")
@click.option(
    "--previous", metavar="OLD.ics", help="The calendar that the person has now; cancels what is gone from it."
)
@diary_option
@rest_option
@click.option(
    "--today",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="Judge dates and waivers by this day; without it none are. With a diary: the day to look back from.",
)
@json_option
def command(
    path: str,
    output: str,
    previous: str | None,
    diary: str | None,
    rest: str,
    today: datetime | None,
    as_json: bool,
) -> int:
    """Write the calendar of a plan. With a diary it follows: what is to come is moved, what is over stays as it was.

    Nothing is written while something unsafe or unreadable stands in the plan. Entries say no more than "Exercise"
    unless the plan says that the person agreed to a full calendar.
    """
    writable(path, output, (".ics",), "a calendar")
    old = _old(previous)
    day = today.date() if today else None
    case, result = case_of(path, day)
    if case is None:
        return refuse(result, as_json, "calendar")
    words = case.words(None)
    known = reckoned(case, rest, diary, day)
    if not isinstance(known, Reckoned):
        return refuse(known, as_json, "calendar")
    weeks = known.weeks
    made = _made(case, known, old, previous, words)
    if isinstance(made, tuple):
        return refuse(case.result(made), as_json, "calendar")
    save_as(output, made.data)
    shown = with_findings(result, (*weeks.findings, *case.about_language(words)))
    if as_json:
        echo_json({**_data(output, made, weeks), "findings": findings_data(shown) + known.findings()})
    else:
        _say(output, made, weeks, [shown, *([known.told] if known.told else [])], case)
    return 0


def _old(previous: str | None) -> Previous | None:
    from planlang.calendar.previous import NotOurs, read_previous

    if previous is None:
        return None
    try:
        with Path(previous).open("rb") as file:
            data = file.read(LARGEST + 1)
    except (OSError, ValueError) as e:
        raise click.BadParameter(
            f"{previous} can't be read: {getattr(e, 'strerror', None) or e}", param_hint="--previous"
        ) from None
    try:
        if len(data) > LARGEST:
            raise NotOurs("it is larger than any calendar of a plan")
        return read_previous(data)
    except NotOurs as fault:
        raise _not_ours(previous, fault) from None


def _not_ours(previous: str, fault: Exception) -> click.BadParameter:
    return click.BadParameter(f"{previous} can't be used: {fault}.", param_hint="--previous")


def _made(
    case: Case, known: Reckoned, old: Previous | None, previous: str | None, words: Words
) -> Made | tuple[Finding, ...]:
    from planlang.calendar.making import make
    from planlang.calendar.previous import NotOurs

    try:
        return make(known.weeks, case.contacts, calendar_key(case.clinic), old, words, known.past)
    except NotOurs as fault:
        raise _not_ours(previous or "", fault) from None


def _data(output: str, made: Made, weeks: Weeks) -> dict[str, object]:
    days = [entry.first_day for entry in made.entries]
    kinds: dict[str, int] = {}
    for entry in made.entries:
        if not entry.cancelled:
            kinds[entry.kind.value] = kinds.get(entry.kind.value, 0) + 1
    plan = weeks.plan
    return {
        "file": output,
        "entries": len(made.entries) - made.cancelled,
        "cancelled": made.cancelled,
        "kinds": kinds,
        "full": bool(plan.agreed and plan.agreed.calendar == "full"),
        "first": min(days).isoformat() if days else None,
        "last": max(days).isoformat() if days else None,
        "zone": plan.zone,
        "zone_data": version("tzdata"),
        "sequence": made.sequence,
        "moves": made.moves.total,
    }


def _say(output: str, made: Made, weeks: Weeks, shown: list[Result], case: Case) -> None:
    from planlang.calendar.entry import Kind
    from planlang.planning.week import WeekKind
    from planlang.report.text import render

    plan = weeks.plan
    count = {kind: sum(e.kind is kind and not e.cancelled for e in made.entries) for kind in Kind}
    training = sum(week.kind is WeekKind.TRAINING for week in weeks.weeks)
    said = f"{many(count[Kind.SESSION], 'session')} in {many(training, 'training week')}"
    if count[Kind.SPARE]:
        said += f", {count[Kind.SPARE]} more if no easier week is needed"
    elif count[Kind.EASIER_WEEK]:
        said += f", {many(count[Kind.EASIER_WEEK], 'easier week')}"
    click.echo(f"{output}: {many(len(made.entries) - made.cancelled, 'entry').replace('entrys', 'entries')}")
    click.echo(f"  {said}")
    if made.cancelled:
        click.echo(f"  {made.cancelled} cancelled")
    if plan.agreed and plan.agreed.calendar == "full":
        click.echo(f"  in full, as agreed on {plan.agreed.day}; who else sees this calendar?")
    else:
        click.echo('  discreet: every entry says only "Exercise" and the like, for no `agreed` line says full')
    click.echo(
        "  Import it into a calendar of its own. What is in a phone can't be recalled: a safety change needs a call."
    )
    click.echo()
    click.echo(
        render(shown, options(rules=len(case.checked.rules), not_judged=case.checked.not_judged, off=case.book.off())),
        nl=False,
    )
