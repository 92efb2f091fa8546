"""`planlang caseload`: everybody of a folder, in the order of who is worth a call."""

from __future__ import annotations

import csv
import io
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planlang.cli.console import echo_json, width
from planlang.cli.diary_option import day_of
from planlang.cli.files import grouped
from planlang.cli.main import WRONG_CALL
from planlang.cli.watched import watched

if TYPE_CHECKING:
    from planlang.people.caseload.data import Caseload, Person

LONG = 100
"""From so many files on a terminal sees how far it is."""
FORMATS = ("text", "json", "csv")


@click.command("caseload")
@click.argument("folder", metavar="FOLDER")
@click.option("--format", "format_", type=click.Choice(FORMATS), default="text", help="How to report.")
@click.option("--json", "as_json", is_flag=True, help="The same as --format json.")
@click.option("--html", "html", metavar="FILE", help="Also write it as one page.")
@click.option(
    "--today",
    metavar="DATE",
    callback=lambda _, __, value: day_of(value),
    help="The day to look back from; unsaid, the last day that any diary tells of.",
)
def command(folder: str, format_: str, as_json: bool, html: str | None, today: date | None) -> int:
    """List everybody whose plan or diary lies in a folder: who is worth a call, and when each is next due.

    Codes only. The order is that of what should not wait; it is no score. Nobody watches a diary: a sign belongs on
    the telephone.
    """
    from planlang.checking.fault import RuleFault
    from planlang.checking.file import Run
    from planlang.people.caseload.gathering import gathered

    if not Path(folder).is_dir():
        raise click.BadParameter(f"there is no folder {folder}", param_hint="FOLDER")
    try:
        names = [name for group in grouped((folder,)) for name in group.names]
        with watched("looking back", 2 * len(names), len(names) > LONG) as one_done:
            found = gathered(names, Run(today, given=Path(folder)), today, one_done)
    except RuleFault as fault:
        click.echo(f"{fault}\nNobody was looked at: put the rules right first.", err=True)
        return WRONG_CALL
    if not found.people:
        raise click.UsageError(f"No plan or diary in {folder} says whose it is (for P-014).")
    if html is not None:
        _write(html, found)
    match "json" if as_json else format_:
        case "json":
            echo_json(as_data(found))
        case "csv":
            click.echo(as_csv(found), nl=False)
        case _:
            click.echo(text(found, width()), nl=False)
    return 0


def _write(file: str, found: Caseload) -> None:
    from planlang.people.caseload.page import page
    from planlang.text.save import save

    if not file.endswith(".html"):
        raise click.BadParameter("a page's name ends in .html", param_hint="--html")
    said = save(file, page(found).encode())
    if said:
        raise click.BadParameter(said, param_hint="--html")


def as_data(found: Caseload) -> dict[str, Any]:
    """The object of `caseload --json`; the first fields are promised to scripts."""
    return {
        "as_of": found.as_of.isoformat() if found.as_of else None,
        "people": [
            {
                "code": one.code,
                "reasons": [reason.text for reason in one.reasons],
                "last_entry": one.last_entry.isoformat() if one.last_entry else None,
                "next_review": one.next_review.isoformat() if one.next_review else None,
                "kinds": [reason.why.name.lower().replace("_", "-") for reason in one.reasons],
            }
            for one in found.people
        ],
        "rules": found.rules,
        "off": list(found.off),
    }


def as_csv(found: Caseload) -> str:
    """A table for a spreadsheet (RFC 4180): one line a person, reasons with semicolons between."""
    made = io.StringIO()
    writer = csv.writer(made)
    writer.writerow(["code", "why on the list", "last entry", "next date"])
    for one in found.people:
        reasons = "; ".join(reason.text for reason in one.reasons)
        writer.writerow([one.code, _harmless(reasons), one.last_entry or "", one.next_review or ""])
    return made.getvalue()


def _harmless(cell: str) -> str:
    """A cell that a spreadsheet takes for no formula."""
    return f"'{cell}" if cell[:1] in "=+-@\t\r" else cell


def text(found: Caseload, columns: int) -> str:
    """The list for a terminal."""
    from textwrap import wrap

    from planlang.people.caseload.page import NOTES, ran
    from planlang.report.quoting import visible

    people = f"{len(found.people)} {'person' if len(found.people) == 1 else 'people'}"
    lines = [f"{len(found.listed)} of {people} on the list" + (f", told up to {found.as_of}" if found.as_of else "")]
    for one in found.listed:
        lines += ["", f"{one.code}  {_dates(one)}"]
        for reason in one.reasons:
            lines += wrap(visible(reason.text), columns, initial_indent="  - ", subsequent_indent="    ")
    others = [one for one in found.people if not one.reasons]
    if others:
        lines += ["", "No reason to call seen:"]
        lines += [f"  {one.code}  {_dates(one)}" for one in others]
    lines.append("")
    for note in (ran(found), *NOTES):
        lines += wrap(note, columns)
    return "\n".join(lines) + "\n"


def _dates(one: Person) -> str:
    last = f"last entry {one.last_entry}" if one.last_entry else "no entry"
    return f"{last}, next {one.next_review}" if one.next_review else last
