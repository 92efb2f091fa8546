"""What the commands share: reading a plan, showing findings, colour, width, JSON."""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from planlang.model.known import Catalogue
    from planlang.model.plan import Plan
    from planlang.report.result import Options, Result
    from planlang.text.finding import Finding

json_option = click.option("--json", "as_json", is_flag=True, help="One JSON object, and nothing else.")


def plan_at(path: str) -> tuple[Plan | None, Result]:
    """The plan in a file, or None where it can't be had, with the findings of the reading."""
    from planlang.checking.inside import read_inside
    from planlang.checking.nearest import library_of
    from planlang.model.composing.compose import compose
    from planlang.model.composing.files import InLibrary
    from planlang.model.composing.placed import placed
    from planlang.model.reading import read_plan
    from planlang.report.result import Result
    from planlang.text.finding import Finding

    source = read_inside(path)
    if isinstance(source, Finding):
        return None, Result(path, source.source, (source,))
    catalogue = _catalogue(path)
    source, put_together = compose(source, InLibrary(library_of(Path(path))))
    plan, findings = read_plan(source, catalogue)
    found = placed((*put_together, *findings), source)
    return plan, Result(path, source, found, person=plan is not None and plan.code is not None)


def _catalogue(path: str) -> Catalogue:
    """The conditions and measures that are known where the plan lies."""
    from planlang.checking.fault import RuleFault
    from planlang.checking.nearest import catalogue_for

    try:
        return catalogue_for(Path(path).parent)
    except RuleFault as fault:
        raise click.UsageError(f"the clinic's file can't be used.\n{fault}") from None


def with_findings(result: Result, more: Iterable[Finding]) -> Result:
    """The result with further findings; what it holds already isn't added again."""
    from planlang.report.result import Result

    added = [f for f in more if f not in result.findings]
    return Result(result.name, result.source, (*result.findings, *added), result.person)


def show_findings(result: Result, err: bool = False) -> None:
    """The findings as text; nothing where there are none."""
    from planlang.report.text import findings_text

    if result.findings:
        click.echo(findings_text([result], options()), err=err)


def findings_data(result: Result) -> list[dict[str, Any]]:
    """The findings as JSON data, each with the fields of `lint --format json`."""
    from planlang.report.json import as_data
    from planlang.report.result import shown

    return [as_data(one) for one in shown([result])]


def options(**parts: Any) -> Options:
    """Report options that suit where the output goes."""
    from planlang import __version__
    from planlang.report.result import Options

    return Options(__version__, colour=coloured(), width=width(), root=os.getcwd(), **parts)  # noqa: PTH109


def coloured() -> bool:
    """Colour only on a terminal, and never against NO_COLOR."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def width() -> int:
    """Columns of the terminal, or what COLUMNS says; 80 in a pipe."""
    return max(shutil.get_terminal_size((80, 24)).columns, 20)


def echo_json(answer: object) -> None:
    """One JSON object on standard output."""
    click.echo(json.dumps(answer, ensure_ascii=False, indent=2))


def number(value: Fraction | int) -> int | float:
    """An exact number as JSON has it: whole where it is whole."""
    return int(value) if Fraction(value).denominator == 1 else round(float(value), 6)


def many(count: int, noun: str) -> str:
    """`1 week`, `3 weeks`."""
    return f"{count} {noun}{'' if count == 1 else 's'}"
