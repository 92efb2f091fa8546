"""`--diary FILE`: what happened, read beside a plan."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from planlang.model.diary import Diary
    from planlang.model.plan import Plan
    from planlang.planning.past import Past
    from planlang.report.result import Result

diary_option = click.option("--diary", metavar="FILE", help="The person's diary: reckon from what really happened.")
today_option = click.option(
    "--today",
    metavar="DATE",
    callback=lambda _, __, value: day_of(value),
    help="With a diary: the day to look back from; unsaid, the last day that it tells of.",
)


def day_of(text: str | None) -> date | None:
    """The date of `--today`."""
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise click.BadParameter(f'"{text}" is no date; write it as 2027-03-01') from None


def diary_at(path: str, plan: Plan, today: date | None = None, hint: str = "--diary") -> tuple[Diary | None, Result]:
    """The diary in a file with the steps that it names, or None where it can't be had, with what was found in it.

    Raises UsageError where it is another person's.
    """
    from planlang.checking.diary_file import read_beside
    from planlang.checking.inside import read_inside
    from planlang.checking.nearest import library_of
    from planlang.model.composing.files import InLibrary
    from planlang.report.result import Result
    from planlang.text.finding import Finding

    source = read_inside(path)
    if isinstance(source, Finding):
        return None, Result(path, source.source, (source,), person=True)
    diary, findings = read_beside(source, plan, InLibrary(library_of(Path(path))), today)
    if diary is not None and plan.code is not None and diary.code != plan.code:
        raise click.BadParameter(f"it is {diary.code}'s diary, and the plan is {plan.code}'s", param_hint=hint)
    return diary, Result(path, source, findings, person=True)


def past_at(path: str, plan: Plan, today: date | None = None) -> tuple[Past | None, Result]:
    """What a diary says of a plan's weeks up to `today`, else to its last day; None where either can't be reckoned."""
    from planlang.cli.console import with_findings
    from planlang.planning.diary_days import past_faults
    from planlang.planning.looking_back import can_look_back, past_of

    diary, result = diary_at(path, plan, today)
    if diary is None or not can_look_back(plan):
        return None, result
    past = past_of(plan, diary, today)
    return past, with_findings(result, past_faults(past))
