"""`planlang weeks`: a plan week by week."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, findings_data, json_option, plan_at, show_findings, width, with_findings
from planlang.cli.diary_option import diary_option, past_at, today_option
from planlang.cli.main import FINDINGS
from planlang.cli.rest_option import placed_rest, rest_option

if TYPE_CHECKING:
    from planlang.model.plan import Plan
    from planlang.planning.past import Past
    from planlang.planning.week import Weeks
    from planlang.report.result import Result


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
    plan, result = plan_at(path)
    weeks, past = None, None
    if plan is not None:
        weeks, past, result = _reckoned(plan, result, rest, diary, today)
    if weeks is None or not weeks.weeks:
        return _nothing(plan, result, as_json)
    if as_json:
        from planlang.cli import looked_back
        from planlang.cli.weeks_data import as_data

        told = {"past": looked_back.as_data(past)} if past else {}
        echo_json({**as_data(weeks), **told, "findings": findings_data(result)})
        return 0
    from textwrap import wrap

    from planlang.cli.weeks_table import table
    from planlang.report.result import CAUTION

    click.echo(table(weeks, width()))
    if past is not None:
        from planlang.cli.looked_back import as_words

        click.echo("\n".join(line for said in as_words(past) for line in wrap(said, width())) + "\n")
    show_findings(result)
    click.echo("\n".join(wrap(f"Reckoned; no rule ran: planlang lint checks. {CAUTION}", width())))
    return 0


def _reckoned(
    plan: Plan, result: Result, rest: str, diary: str | None, today: date | None
) -> tuple[Weeks | None, Past | None, Result]:
    """The weeks, None where a diary that was named can't be had; what it says of them; and all that was found."""
    from planlang.planning.reckon import reckon

    placed = placed_rest(rest, plan)
    if diary is None:
        weeks = reckon(plan, placed)
        return weeks, None, with_findings(result, weeks.findings)
    from planlang.cli.looked_back import placed_after

    past, told = past_at(diary, plan, today)
    result = with_findings(result, told.findings)
    if past is None:
        return None, None, result
    weeks = reckon(plan, placed_after(placed, past), past.looking)
    return weeks, past, with_findings(result, weeks.findings)


def _nothing(plan: Plan | None, result: Result, as_json: bool) -> int:
    if as_json:
        nothing = {"plan": plan and plan.title, "starts": None, "dropped": 0}
        echo_json({**nothing, "findings": findings_data(result), "weeks": []})
    else:
        show_findings(result, err=True)
        click.echo("This plan can't be reckoned until that is put right.", err=True)
    return FINDINGS
