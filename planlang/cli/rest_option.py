"""`--rest 3,7`: in which calendar weeks easier weeks fell."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from planlang.model.plan import Plan

rest_option = click.option("--rest", metavar="3,7", default="", help="Calendar weeks that turn out easier weeks.")


def placed_rest(text: str, plan: Plan) -> frozenset[int]:
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
