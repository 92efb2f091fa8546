"""`planlang weeks`: a plan week by week."""

from __future__ import annotations

from datetime import date

import click

from planlang.cli.console import echo_json, findings_data, json_option, plan_at, show_findings, width, with_findings
from planlang.cli.diary_option import diary_option, past_at, today_option
from planlang.cli.main import FINDINGS
from planlang.cli.rest_option import placed_rest, rest_option


@click.command("weeks")
@click.argument("path", metavar="PLAN")
@rest_option
@diary_option
@today_option
@json_option
def command(path: str, rest: str, diary: str | None, today: date | None, as_json: bool) -> int:
    """Show a plan week by week.

    Training weeks come first; the easier weeks that there is room for stand at the end as spare weeks,
    until --rest says where they fell, or --diary what happened.
    """
    from planlang.planning.reckon import reckon

    plan, result = plan_at(path)
    weeks = None
    if plan is not None:
        placed, looking = placed_rest(rest, plan), None
        if diary is not None:
            past, told = past_at(diary, plan, today)
            result = with_findings(result, told.findings)
            placed, looking = (placed | past.rest, past.looking) if past else (placed, None)
        weeks = reckon(plan, placed, looking)
        result = with_findings(result, weeks.findings)
    if weeks is None or not weeks.weeks:
        if as_json:
            echo_json(
                {
                    "plan": plan and plan.title,
                    "starts": None,
                    "dropped": 0,
                    "findings": findings_data(result),
                    "weeks": [],
                }
            )
        else:
            show_findings(result, err=True)
            click.echo("This plan can't be reckoned until that is put right.", err=True)
        return FINDINGS
    if as_json:
        from planlang.cli.weeks_data import as_data

        echo_json({**as_data(weeks), "findings": findings_data(result)})
        return 0
    from textwrap import wrap

    from planlang.cli.weeks_table import table
    from planlang.report.result import CAUTION

    click.echo(table(weeks, width()))
    show_findings(result)
    click.echo("\n".join(wrap(f"Reckoned; no rule ran: planlang lint checks. {CAUTION}", width())))
    return 0
