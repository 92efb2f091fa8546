"""`planlang fhir`: the plan for a clinic's record system."""

from __future__ import annotations

import re
from datetime import datetime
from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, findings_data, json_option, many, options, with_findings
from planlang.cli.refusing import Case, calendar_key, case_of, refuse, save_as, writable

if TYPE_CHECKING:
    from planlang.fhir.context import Context
    from planlang.fhir.parts import Json
    from planlang.report.result import Result

URI = re.compile(r"[A-Za-z][A-Za-z0-9+.\-]*:\S+")


@click.command("fhir")
@click.argument("path", metavar="PLAN")
@click.option("-o", "--output", required=True, metavar="FILE.json", help="The bundle to write.")
@click.option("--notes", is_flag=True, help="The plan's own words (goal, reasons, instructions) go along.")
@click.option("--system", metavar="URI", help="The system of the person's code in your records; unsaid, one made up.")
@click.option(
    "--today",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="Judge dates and waivers by this day; without it none are.",
)
@json_option
def command(path: str, output: str, notes: bool, system: str | None, today: datetime | None, as_json: bool) -> int:
    """Write a plan as an HL7 FHIR R4 bundle: a care plan, its goals and what is to be done.

    The person is a code and nothing else, and quoted words of the plan stay out unless --notes is given. Nothing is
    written while something unsafe or unreadable stands in the plan.
    """
    from planlang.fhir.bundle import bundle, refusals, status, to_bytes
    from planlang.fhir.context import Context
    from planlang.planning.reckon import reckon

    writable(path, output, (".json",), "a bundle")
    if system is not None and not URI.fullmatch(system):
        raise click.BadParameter(f'"{system}" is no URI; write one such as urn:oid:2.25.7', param_hint="--system")
    day = today.date() if today else None
    case, result = case_of(path, day)
    if case is None:
        return refuse(result, as_json, "bundle")
    weeks = reckon(case.plan())
    against = refusals(weeks)
    if against:
        return refuse(case.result(against), as_json, "bundle")
    name = case.clinic.name if case.clinic else ""
    key = calendar_key(case.clinic)
    context = Context(weeks, case.contacts, key, name, notes, system, status(weeks.plan, day))
    made = bundle(context)
    save_as(output, to_bytes(made))
    shown = with_findings(result, weeks.findings)
    if as_json:
        echo_json({**_data(output, made, context), "findings": findings_data(shown)})
    else:
        _say(output, made, context, shown, case)
    return 0


def _count(made: Json) -> dict[str, int]:
    kinds: dict[str, int] = {}
    for entry in made["entry"]:
        kind = entry["resource"]["resourceType"]
        kinds[kind] = kinds.get(kind, 0) + 1
    return kinds


def _data(output: str, made: Json, context: Context) -> dict[str, object]:
    return {
        "file": output,
        "resources": _count(made),
        "notes": context.notes,
        "system": context.patient["identifier"]["system"],
        "status": context.status,
    }


def _say(output: str, made: Json, context: Context, shown: Result, case: Case) -> None:
    from planlang.report.text import render

    count = _count(made)
    asked = many(count.get("ServiceRequest", 0), "request")
    click.echo(f"{output}: a care plan, {many(count.get('Goal', 0), 'goal')}, {asked}")
    words = "its own words go along" if context.notes else "its own words are left out (--notes takes them along)"
    click.echo(f"  {context.plan.code} is there as a code, and the plan's dates; {words}")
    click.echo("  A code is health data too. What is in a record can't be recalled: a safety change needs a call.")
    click.echo()
    said = options(rules=len(case.checked.rules), not_judged=case.checked.not_judged, off=case.book.off())
    click.echo(render([shown], said), nl=False)
