"""`planlang compile`: the calendar of a plan."""

from __future__ import annotations

from datetime import datetime
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

import click
from attrs import evolve

from planlang.cli.console import echo_json, findings_data, json_option, many, options, show_findings, with_findings
from planlang.cli.main import FINDINGS
from planlang.cli.rest_option import placed_rest, rest_option
from planlang.text.data import frozen

if TYPE_CHECKING:
    from planlang.calendar.making import Made
    from planlang.calendar.previous import Previous
    from planlang.checking.check import Checked
    from planlang.checking.clinic import Clinic
    from planlang.checking.rulebook import Rulebook
    from planlang.planning.week import Weeks
    from planlang.report.result import Result
    from planlang.text.finding import Finding

LARGEST = 1 << 24  # bytes of a calendar; twenty years of daily sessions are less


@frozen
class _Case:
    """A plan that is to become a calendar, under its clinic's rules."""

    path: str
    checked: Checked
    book: Rulebook
    clinic: Clinic | None

    def result(self, findings: tuple[Finding, ...]) -> Result:
        from planlang.report.result import Result

        plan = self.checked.plan
        return Result(self.path, self.checked.source, findings, person=plan is not None and plan.code is not None)


@click.command("compile")
@click.argument("path", metavar="PLAN")
@click.option("-o", "--output", required=True, metavar="FILE.ics", help="The calendar to write.")
@click.option(
    "--previous", metavar="OLD.ics", help="The calendar that the person has now; cancels what is gone from it."
)
@rest_option
@click.option(
    "--today",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="Judge dates and waivers by this day; without it none are.",
)
@json_option
def command(path: str, output: str, previous: str | None, rest: str, today: datetime | None, as_json: bool) -> int:
    """Write the calendar of a plan.

    Nothing is written while something unsafe or unreadable stands in the plan. Entries say no more than "Exercise"
    unless the plan says that the person agreed to a full calendar.
    """
    from planlang.checking.beside import InFolder
    from planlang.checking.check import blocks, check
    from planlang.checking.standing import Keeping
    from planlang.report.result import Result
    from planlang.text.finding import Finding
    from planlang.text.load import load

    _writable(path, output)
    old = _old(previous)
    book, clinic = _clinic(path)
    source = load(path)
    if isinstance(source, Finding):
        return _refused(Result(path, source.source, (source,)), as_json)
    day = today.date() if today else None
    keeping = Keeping(Path(path), bool(clinic and clinic.has_key))
    beside = InFolder(Path(path), clinic.root if clinic else Path(path).parent)
    numbers = dict(clinic.contacts) if clinic else {}
    checked = check(source, book, day, keeping, beside=beside, contacts=numbers, files=beside.files)
    case = _Case(path, checked, book, clinic)
    standing_against = blocks(case.checked, day)
    if standing_against or case.checked.plan is None:
        return _refused(case.result(standing_against or case.checked.findings), as_json)
    weeks = _reckoned(case, rest)
    made = _made(case, weeks, old, previous)
    if isinstance(made, tuple):
        return _refused(case.result(made), as_json)
    _save(output, made.data)
    shown = with_findings(case.result(case.checked.findings), weeks.findings)
    if as_json:
        echo_json({**_data(output, made, weeks), "findings": findings_data(shown)})
    else:
        _say(output, made, weeks, shown, case)
    return 0


def _writable(path: str, output: str) -> None:
    if not output.endswith(".ics"):
        raise click.BadParameter("a calendar's name ends in .ics", param_hint="-o")
    if Path(output).resolve() == Path(path).resolve():
        raise click.BadParameter("that is the plan itself", param_hint="-o")


def _clinic(path: str) -> tuple[Rulebook, Clinic | None]:
    from planlang.checking.clinic import rulebook
    from planlang.checking.fault import RuleFault
    from planlang.checking.nearest import find_clinic

    try:
        return rulebook(find_clinic(Path(path).parent))
    except RuleFault as fault:
        raise click.UsageError(f"the clinic's rules can't be used.\n{fault}") from None


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


def _reckoned(case: _Case, rest: str) -> Weeks:
    """The weeks, in the clinic's zone where the plan names none, with the rest that fell."""
    from planlang.planning.reckon import reckon

    plan = case.checked.plan
    assert plan is not None
    if plan.zone is None and case.clinic and case.clinic.zone:
        plan = evolve(plan, zone=case.clinic.zone)
    return reckon(plan, placed_rest(rest, plan))


def _made(case: _Case, weeks: Weeks, old: Previous | None, previous: str | None) -> Made | tuple[Finding, ...]:
    from planlang.calendar.making import make
    from planlang.calendar.previous import NotOurs
    from planlang.planning.telling.standing import Contacts

    numbers = case.clinic.contacts if case.clinic else {}
    contacts = Contacts(numbers.get("emergency"), numbers.get("same-day"), numbers.get("clinic"))
    try:
        return make(weeks, contacts, _key(case.clinic), old)
    except NotOurs as fault:
        raise _not_ours(previous or "", fault) from None


def _key(clinic: Clinic | None) -> bytes | None:
    if clinic is None or clinic.key_file is None or not clinic.has_key:
        return None
    try:
        key = clinic.key_file.read_bytes().strip()
    except OSError as e:
        raise click.UsageError(f"the calendar key {clinic.key_file.name} can't be read: {e.strerror or e}") from None
    if not key:
        raise click.UsageError(f"the calendar key {clinic.key_file.name} is empty; make one, at random, and keep it")
    return key


def _save(output: str, data: bytes) -> None:
    from planlang.text.save import save

    said = save(output, data)
    if said:
        raise click.BadParameter(said, param_hint="-o")


def _refused(result: Result, as_json: bool) -> int:
    if as_json:
        echo_json({"file": None, "findings": findings_data(result)})
    else:
        show_findings(result, err=True)
        click.echo("No calendar was written: nothing goes to the person until that is put right.", err=True)
    return FINDINGS


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
    }


def _say(output: str, made: Made, weeks: Weeks, shown: Result, case: _Case) -> None:
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
        render(
            [shown], options(rules=len(case.checked.rules), not_judged=case.checked.not_judged, off=case.book.off())
        ),
        nl=False,
    )
