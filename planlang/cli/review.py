"""`planlang review`: what happened, where each target stands, what is next."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, findings_data, json_option, show_findings, width
from planlang.cli.diary_option import today_option
from planlang.cli.main import FINDINGS

if TYPE_CHECKING:
    from planlang.planning.review.data import Review
    from planlang.report.result import Result


@click.command("review")
@click.argument("path", metavar="PLAN")
@click.argument("diary", metavar="DIARY")
@today_option
@click.option("--html", "page", metavar="FILE", help="Also write it as one page, with small charts.")
@click.option("--next-block", "block", metavar="FILE", help="Also write the proposal for the next block: a new plan.")
@json_option
def command(path: str, diary: str, today: date | None, page: str | None, block: str | None, as_json: bool) -> int:
    """Say what happened, where each target stands, and what is next.

    The first screen is for the first minute of a visit. What is proposed is a draft: a clinician reads it, changes it
    and signs it. Without --today it is the review of the last day that the diary tells of.
    """
    from planlang.cli.reviewed import reviewed

    _may_write("--html", page, ".html", path, diary)
    _may_write("--next-block", block, ".plan", path, diary)
    if block is not None and Path(block).exists():
        raise click.BadParameter(f"{block} is there already, and nothing was written", param_hint="--next-block")
    review, results = reviewed(path, diary, today)
    if review is None:
        _can_not(results, as_json)
        return FINDINGS
    said = _closing(review, results)
    if page is not None:
        from planlang.people.review.page import html

        _save("--html", page, html(review, said).encode())
    if block is not None and review.proposal is not None:
        _save_new(block, review.proposal.encode())
    if as_json:
        from planlang.cli.review_data import as_data

        echo_json({**as_data(review), "findings": _findings(results)})
        return 0
    from planlang.cli.review_text import text

    click.echo(text(review, width(), block))
    for result in results:
        show_findings(result)
    from textwrap import wrap

    click.echo("\n".join(wrap(said, width(), break_on_hyphens=False)))
    return 0


def _may_write(option: str, file: str | None, ending: str, *read: str) -> None:
    """Refuses a name that is one of the files read, or has another ending."""
    if file is None:
        return
    if not file.endswith(ending):
        raise click.BadParameter(f"its name ends in {ending}", param_hint=option)
    if any(Path(file).resolve() == Path(one).resolve() for one in read):
        raise click.BadParameter("that is one of the files that are read", param_hint=option)


def _can_not(results: tuple[Result, ...], as_json: bool) -> None:
    if as_json:
        from planlang.cli.review_data import NOTHING

        echo_json({**NOTHING, "findings": _findings(results)})
        return
    for result in results:
        show_findings(result, err=True)
    click.echo("There is no review until that is put right: a plan needs `starts` and `lasts`.", err=True)


def _findings(results: tuple[Result, ...]) -> list[dict[str, object]]:
    return [one for result in results for one in findings_data(result)]


def _closing(review: Review, results: tuple[Result, ...]) -> str:
    """Rules run, off and waived by number, and what that does not say."""
    from planlang.cli.console import options
    from planlang.report.result import closing

    ran = review.ran
    diary = results[-1:]
    return closing(diary, options(rules=ran.rules, not_judged=ran.not_judged, off=dict.fromkeys(ran.off, "")))


def _save(option: str, file: str, data: bytes) -> None:
    from planlang.text.save import save

    said = save(file, data)
    if said:
        raise click.BadParameter(said, param_hint=option)


def _save_new(file: str, data: bytes) -> None:
    from planlang.text.save import save_new

    said = save_new(file, data)
    if said:
        raise click.BadParameter(said, param_hint="--next-block")
