"""`planlang lint`: checks plans and says what was found."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planlang.cli.console import options
from planlang.cli.files import named
from planlang.cli.main import FINDINGS, WRONG_CALL

if TYPE_CHECKING:
    from planlang.checking.rulebook import Rulebook
    from planlang.cli.linted import Call, Linted
    from planlang.text.finding import Level

FORMATS = ("text", "json", "sarif", "junit", "github")
SUFFIXES = (".plan",)
LONG = 200
"""From so many files on a terminal sees how far the run is."""


def day(_: click.Context, __: click.Parameter, value: str | None) -> date | None:
    """The date of `--today`."""
    if value is None:
        return None
    try:
        return date.fromisoformat(value)
    except ValueError:
        raise click.BadParameter(f'"{value}" is no date; write it as 2027-03-01') from None


today_option = click.option("--today", metavar="DATE", callback=day, help="The day that dates are judged by.")
packs_option = click.option("--packs", metavar="FILE", help="A clinic's file, or a folder of rules, to use as well.")


@click.command("lint")
@click.argument("paths", metavar="PATH...", nargs=-1, required=True)
@click.option("--format", "format_", type=click.Choice(FORMATS), default="text", help="How to report.")
@click.option("--json", "as_json", is_flag=True, help="The same as --format json.")
@click.option(
    "--fail-on",
    metavar="LEVEL,...",
    default="unsafe,unrealistic",
    show_default=True,
    help="Levels that make exit code 1.",
)
@click.option("--jobs", metavar="N", type=click.IntRange(1, 256), default=1, help="How many processes work at once.")
@packs_option
@click.option("--stdin-filename", metavar="P", default="-", help="What the plan on standard input (-) is called.")
@click.option("--quote", is_flag=True, help="Quote people's plans in sarif, junit and github too.")
@today_option
def command(
    paths: tuple[str, ...],
    format_: str,
    as_json: bool,
    fail_on: str,
    jobs: int,
    packs: str | None,
    stdin_filename: str,
    quote: bool,
    today: date | None,
) -> int:
    """Check plans; folders are walked, - is standard input.

    No finding does not mean safe. Exit code 1: findings at the failing levels; 2: the call or a rule is wrong.
    """
    from planlang.checking.fault import RuleFault
    from planlang.cli.linted import lint_all
    from planlang.report.result import fails

    failing = levels(fail_on)
    call = called(packs, today, stdin_filename)
    if "-" in paths and len(paths) > 1:
        raise click.UsageError("Standard input (-) is checked by itself: name no other file beside it.")
    names = ["-"] if paths == ("-",) else named(paths, SUFFIXES)
    try:
        done = list(_seen(lint_all(names, call, jobs), len(names)))
        if not all(book.in_force() for book in _books(done, call)):
            raise click.UsageError("No rule is in force, so nothing was checked.")
        click.echo(_report("json" if as_json else format_, done, call, failing, quote), nl=False)
    except RuleFault as e:
        return refused(e)
    return FINDINGS if any(fails(f, failing) for one in done for f in one.result.findings) else 0


def refused(e: BaseException) -> int:
    """Says what is wrong with the rules or the clinic's file; nothing is checked past it."""
    click.echo(f"{e}\nNothing was checked: put the rules right first.", err=True)
    return WRONG_CALL


def levels(text: str) -> frozenset[Level]:
    """The levels of `--fail-on`; `none` for none."""
    from planlang.text.finding import Level
    from planlang.text.meant import did_you_mean, listed

    words = [word.strip() for word in text.split(",") if word.strip()]
    if words == ["none"]:
        return frozenset()
    known = [level.value for level in Level]
    if not words:
        raise click.BadParameter(f"it names no level: {listed(known)}, or none", param_hint="--fail-on")
    for word in words:
        if word not in known:
            help = did_you_mean(word, known) or f"The levels are {', '.join(known)}."
            raise click.BadParameter(f'no level is called "{word}". {help}', param_hint="--fail-on")
    return frozenset(Level(word) for word in words)


def called(packs: str | None, today: date | None = None, stdin_name: str = "-") -> Call:
    """The call, with `--packs` as a clinic's file or as a folder of rules."""
    from planlang.cli.linted import Call

    if packs is None:
        return Call(today, stdin_name=stdin_name)
    path = Path(packs)
    if path.is_dir():
        return Call(today, packs=(path,), stdin_name=stdin_name)
    if path.is_file():
        return Call(today, clinic=path, stdin_name=stdin_name)
    raise click.BadParameter(f"there is no file or folder {packs}", param_hint="--packs")


def _seen(done: Iterator[Linted], count: int) -> Iterator[Linted]:
    """The same, with a progress bar where somebody waits at a terminal."""
    if count < LONG or not sys.stderr.isatty():
        yield from done
        return
    with click.progressbar(done, length=count, label="checking", file=sys.stderr) as bar:
        yield from bar


def _report(format_: str, done: list[Linted], call: Call, failing: frozenset[Level], quote: bool) -> str:
    from planlang.cli.linted import infos
    from planlang.report.formats import render

    rules = {rule.name: rule for book in _books(done, call) for rule in book.rules}
    off: dict[str, str] = {}
    for one in done:
        off |= one.off
    told = options(
        rules=len({name for one in done for name in one.rules}),
        not_judged=tuple(sorted({name for one in done for name in one.not_judged})),
        off=off,
        infos=infos(rules.values()),
        failing=failing,
        quote=quote,
    )
    return render(format_, [one.result for one in done], told)


def _books(done: list[Linted], call: Call) -> list[Rulebook]:
    """The rulebooks of a run, each once."""
    from planlang.cli.linted import book_for

    return list({id(book): book for one in done for book, _ in [book_for(one.result.name, call)]}.values())
