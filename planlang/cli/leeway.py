"""`planlang leeway`: what is reached wherever the rest falls."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, findings_data, json_option, plan_at, show_findings, width, with_findings
from planlang.cli.diary_option import diary_option, past_at, today_option
from planlang.cli.main import FINDINGS
from planlang.cli.watched import watched

if TYPE_CHECKING:
    from planlang.planning.leeway.data import Leeway

LONG = 104
"""From so many weeks on a terminal sees how far it is."""


@click.command("leeway")
@click.argument("path", metavar="PLAN")
@click.option("--svg", "svg", metavar="FILE", help="Also draw it: each ladder between its best and worst placement.")
@diary_option
@today_option
@json_option
def command(path: str, svg: str | None, diary: str | None, today: date | None, as_json: bool) -> int:
    """Say what is reached wherever the rest falls, and how likely it is.

    Every placement of the easier weeks that there is room for is looked at. Chances are arithmetic on the
    plan's own assumptions, not a prognosis, and for the clinician only. With a diary, placements start with the week
    of --today, else of the last day that it tells of.
    """
    from planlang.planning.leeway.reckon import leeway
    from planlang.planning.leeway.standing_at import origin_of
    from planlang.planning.reckon import reckon

    plan, result = plan_at(path)
    answer = None
    if plan is not None:
        past = None
        if diary is not None:
            past, told = past_at(diary, plan, today)
            result = with_findings(result, told.findings)
        with watched("reckoning", len(plan.targets), (plan.weeks or 0) > LONG) as one_done:
            if past is None:
                answer = leeway(plan, one_done=one_done)
            else:
                answer = leeway(plan, one_done=one_done, origin=origin_of(past), as_of=past.as_of)
    if plan is not None:
        result = with_findings(result, reckon(plan).findings)
    if answer is None or not answer.reckoned:
        if as_json:
            echo_json({**_empty(answer), "findings": findings_data(result)})
        else:
            show_findings(result, err=True)
            click.echo("This plan can't be reckoned until that is put right.", err=True)
        return FINDINGS
    if svg is not None:
        _draw(answer, svg)
    if as_json:
        from planlang.cli.leeway_data import as_data

        findings = findings_data(result)
        echo_json({**as_data(answer), **({"findings": findings} if findings else {})})
        return 0
    from planlang.cli.leeway_text import text

    click.echo(text(answer, width()))
    show_findings(result)
    return 0


def _empty(answer: Leeway | None) -> dict[str, object]:
    """The answer for a plan that can't be reckoned: every target open."""
    from planlang.cli.leeway_data import as_data

    if answer is not None:
        return as_data(answer)
    nothing = ("plan", "as_of", "allowance", "rest_used", "rest_left", "expect", "enough_rest")
    return {**dict.fromkeys(nothing), "rest_weeks_used": None, "room_needed": None, "targets": []}


def _draw(answer: Leeway, file: str) -> None:
    """Writes the picture beside and renames it."""
    from planlang.people.leeway_svg import svg
    from planlang.text.save import save

    said = save(Path(file), svg(answer).encode())
    if said:
        raise click.UsageError(said)
