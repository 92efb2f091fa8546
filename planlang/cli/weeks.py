"""`planlang weeks`: a plan week by week."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, findings_data, json_option, plan_at, show_findings, width, with_findings
from planlang.cli.main import FINDINGS

if TYPE_CHECKING:
    from planlang.model.plan import Plan


@click.command("weeks")
@click.argument("path", metavar="PLAN")
@click.option("--rest", metavar="3,7", default="", help="Calendar weeks that turn out easier weeks.")
@json_option
def command(path: str, rest: str, as_json: bool) -> int:
    """Show a plan week by week.

    Training weeks come first; the easier weeks that there is room for stand at the end as spare weeks,
    until --rest says where they fell.
    """
    from planlang.planning.reckon import reckon

    plan, result = plan_at(path)
    weeks = None
    if plan is not None:
        placed = _placed(rest, plan)
        weeks = reckon(plan, placed)
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
    from planlang.cli.weeks_table import table

    click.echo(table(weeks, width()))
    show_findings(result)
    return 0


def _placed(text: str, plan: Plan) -> frozenset[int]:
    """The calendar weeks of `--rest`. A week that the plan doesn't have or that is away is a wrong call."""
    from planlang.planning.weeks import Calendar

    try:
        placed = frozenset(int(part) for part in text.replace(" ", "").split(",") if part)
    except ValueError:
        raise click.BadParameter("write calendar weeks with commas between: --rest 3,7", param_hint="--rest") from None
    if placed and plan.starts is not None and plan.weeks:
        outside = sorted(w for w in placed if not 1 <= w <= plan.weeks)
        if outside:
            raise click.BadParameter(f"week {outside[0]} is not one of weeks 1 to {plan.weeks}", param_hint="--rest")
        away = sorted(placed & Calendar(plan).away_weeks)
        if away:
            raise click.BadParameter(f"week {away[0]} is away already; rest is never placed on it", param_hint="--rest")
    return placed
