"""`planlang handout`: the person's own sheet."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, findings_data, json_option, options, with_findings
from planlang.cli.diary_option import diary_option
from planlang.cli.refusing import Case, case_of, looked_back, refuse, save_as, writable
from planlang.cli.rest_option import rest_option

if TYPE_CHECKING:
    from planlang.people.sheet.blocks import Sheet
    from planlang.planning.week import Weeks
    from planlang.report.result import Result
    from planlang.text.finding import Finding
    from planlang.text.languages.words import Words


@click.command("handout")
@click.argument("path", metavar="PLAN")
@click.option("-o", "--output", required=True, metavar="FILE.html|.pdf", help="The sheet to write.")
@click.option("--large", is_flag=True, help="In 18 points instead of 14.")
@click.option("--week", type=click.IntRange(1), metavar="N", help="The calendar week; unsaid: today's, or the first.")
@click.option(
    "--today",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="For the week of this day; by it dates and waivers are judged too. Unsaid: the diary's last day, if any.",
)
@diary_option
@rest_option
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", help="Of a PDF; a page of HTML fits both.")
@click.option("--language", metavar="CODE", help="As es or de; unsaid: the plan's own. English fills what is missing.")
@json_option
def command(
    path: str,
    output: str,
    large: bool,
    week: int | None,
    today: datetime | None,
    diary: str | None,
    rest: str,
    paper: str,
    language: str | None,
    as_json: bool,
) -> int:
    """Write the person's own sheet: one week, what to do on a sore day and in a flare, and when to get help.

    A page of HTML that needs nothing beside it, or a PDF. Nothing is written while something unsafe or unreadable
    stands in the plan.
    """
    from planlang.people.sheet.making import sheet
    from planlang.planning.reckon import reckon

    writable(path, output, (".html", ".pdf"), "a sheet")
    day = today.date() if today else None
    case, result = case_of(path, day)
    if case is None:
        return refuse(result, as_json, "sheet")
    plan, placed, looking, told = case.plan(), case.placed(rest), None, None
    if diary is not None:
        past, told = looked_back(case, diary, day)
        if past is None:
            return refuse(told, as_json, "sheet")
        placed, looking, day = placed | past.rest, past.looking, past.as_of
    weeks = reckon(plan, placed, looking)
    if not weeks.weeks:
        return refuse(case.result((_nothing(case),)), as_json, "sheet")
    number = _week(weeks, week, day)
    words = case.words(language)
    made = sheet(weeks, number, case.contacts, words, large, lambda more: reckon(plan, placed | {more}, looking))
    data, more = _written(made, output, paper)
    save_as(output, data)
    shown = with_findings(result, (*weeks.findings, *case.about_language(words), *more))
    results = [shown, *([told] if told else [])]
    if as_json:
        findings = [one for result in results for one in findings_data(result)]
        echo_json({**_data(output, made, weeks, number, words), "findings": findings})
    else:
        _say(output, weeks, number, results, case)
    return 0


def _nothing(case: Case) -> Finding:
    from planlang.text.finding import unreckonable

    plan = case.plan()
    message = "there is no week to put on a sheet: the plan's weeks can't be reckoned"
    return unreckonable(message, plan.span, plan.source, "Write `starts` and `lasts`.")


def _week(weeks: Weeks, week: int | None, day: date | None) -> int:
    """The calendar week that is asked for."""
    first, last = weeks.weeks[0], weeks.weeks[-1]
    if week is not None:
        if week > last.number:
            raise click.BadParameter(f"the plan has weeks 1 to {last.number}", param_hint="--week")
        return week
    if day is None or day < first.starts:
        return first.number
    end = last.starts + timedelta(days=6)
    if day > end:
        said = f"the plan ended on {end}; write the next one, or ask for a week of this one with --week"
        raise click.BadParameter(said, param_hint="--today")
    return (day - first.starts).days // 7 + 1


def _written(made: Sheet, output: str, paper: str) -> tuple[bytes, tuple[Finding, ...]]:
    if output.endswith(".html"):
        from planlang.people.sheet.html import html

        return html(made).encode(), ()
    from planlang.people.sheet.pdf import NoTypst, pdf

    try:
        return pdf(made, paper)
    except NoTypst as fault:
        raise click.UsageError(str(fault)) from None


def _data(output: str, made: Sheet, weeks: Weeks, number: int, words: Words) -> dict[str, object]:
    week = weeks.weeks[number - 1]
    return {
        "file": output,
        "week": number,
        "starts": week.starts.isoformat(),
        "kind": week.kind.value,
        "language": made.code,
        "direction": made.direction,
        "points": 18 if made.large else 14,
        "not_translated": sorted(words.missing),
    }


def _say(output: str, weeks: Weeks, number: int, results: list[Result], case: Case) -> None:
    from planlang.report.text import render

    week = weeks.weeks[number - 1]
    click.echo(f"{output}: the sheet for week {number}, from {week.starts}")
    click.echo("  Read it through with the person. A sheet at home can't be recalled: a safety change needs a call.")
    click.echo()
    said = options(rules=len(case.checked.rules), not_judged=case.checked.not_judged, off=case.book.off())
    click.echo(render(results, said), nl=False)
