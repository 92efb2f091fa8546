"""`planlang tidy`: formats files in place; the meaning stays."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click
from attrs import field

from planlang.cli.console import echo_json, findings_data, json_option, many, show_findings
from planlang.cli.files import grouped
from planlang.cli.main import FINDINGS, WRONG_CALL
from planlang.text.data import define

if TYPE_CHECKING:
    from planlang.checking.file import Run
    from planlang.report.result import Result


@define
class _Run:
    """What came of each file."""

    changed: list[str] = field(factory=list)
    same: list[str] = field(factory=list)
    left: list[Result] = field(factory=list)
    refused: list[str] = field(factory=list)


@click.command("tidy")
@click.argument("paths", metavar="PATH...", nargs=-1, required=True)
@click.option("--check", is_flag=True, help="Only say what would change; exit 1 if something would.")
@json_option
def command(paths: tuple[str, ...], check: bool, as_json: bool) -> int:
    """Format plans in place; comments and meaning stay.

    Lines that can't be read stay as they are. `-` formats standard input to standard output.
    """
    from planlang.checking.fault import RuleFault
    from planlang.checking.file import Run
    from planlang.cli.lint import LONG
    from planlang.cli.watched import watched

    if "-" in paths:
        return _piped(paths, as_json)
    done = _Run()
    try:
        groups = grouped(paths)
    except RuleFault as e:
        click.echo(f"{e}\nNothing was tidied: put that right first.", err=True)
        return WRONG_CALL
    count = sum(len(group.names) for group in groups)
    with watched("tidying", count, count >= LONG) as seen:
        for group in groups:
            run = Run(given=Path(group.given) if group.given else None)
            for name in group.names:
                _tidy(name, check, done, run)
                seen()
    if as_json:
        findings = [one for result in done.left for one in findings_data(result)]
        echo_json({"files": _count(done), "changed": done.changed, "not_written": done.refused, "findings": findings})
    else:
        _say(done, check)
    if done.refused:
        return WRONG_CALL
    return FINDINGS if done.left or (check and done.changed) else 0


def _tidy(name: str, check: bool, done: _Run, run: Run) -> None:
    from planlang.checking.file import read_file
    from planlang.report.result import Result
    from planlang.syntax.tidy import tidy
    from planlang.text.finding import Finding
    from planlang.text.save import save

    source = read_file(Path(name), run)
    if isinstance(source, Finding):
        done.left.append(Result(name, source.source, (source,)))
        return
    tidied = tidy(source)
    if tidied.findings:
        done.left.append(Result(name, source, tidied.findings))
        return
    data = tidied.text.encode("utf-8")
    try:
        same = data == Path(name).read_bytes()
    except OSError as e:
        done.refused.append(f"{name} can't be read any more: {e.strerror or e}")
        return
    if same:
        done.same.append(name)
        return
    said = None if check else save(name, data)
    if said:
        done.refused.append(said)
    else:
        done.changed.append(name)


def _count(done: _Run) -> int:
    return len(done.changed) + len(done.same) + len(done.left) + len(done.refused)


def _say(done: _Run, check: bool) -> None:
    for name in done.changed:
        click.echo(f"{'would change' if check else 'tidied'}: {name}")
    for result in done.left:
        show_findings(result)
    for said in done.refused:
        click.echo(said, err=True)
    changed = f"{len(done.changed)} {'would change' if check else 'tidied'}"
    click.echo(f"{many(_count(done), 'file')}: {changed}, {len(done.same)} tidy already.")


def _piped(paths: tuple[str, ...], as_json: bool) -> int:
    from planlang.report.result import Result
    from planlang.syntax.tidy import tidy
    from planlang.text.finding import Finding
    from planlang.text.load import load_standard_input

    if len(paths) > 1 or as_json:
        raise click.UsageError("- stands alone: it formats standard input to standard output.")
    source = load_standard_input("standard input")
    if isinstance(source, Finding):
        show_findings(Result("standard input", source.source, (source,)), err=True)
        return FINDINGS
    sys.stdout.buffer.write(tidy(source).text.encode("utf-8"))
    return 0
