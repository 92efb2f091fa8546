"""`planlang lint`: checks plans and says what was found."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planlang.cli.console import options
from planlang.cli.main import FAILED, FINDINGS, WRONG_CALL
from planlang.text.data import frozen

if TYPE_CHECKING:
    from planlang.checking.batch import Summary
    from planlang.checking.rule import Rule
    from planlang.checking.rulebook import Rulebook
    from planlang.cli.files import Group
    from planlang.cli.linted import Call
    from planlang.report.result import Result
    from planlang.text.finding import Level

FORMATS = ("text", "json", "sarif", "junit", "github")
SOME = 5
"""So many files on which planlang itself failed are named."""
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
@click.option(
    "--changed-since",
    metavar="REV",
    help="Only files that differ from this commit of git, and what depends on a file that does.",
)
@click.option(
    "--cluster", metavar="ADDRESS", help="A dask.distributed scheduler whose workers check; PATH may be a URL."
)
@click.option("--shards", metavar="WHERE", help="Folder or URL where those workers write what they find.")
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
    changed_since: str | None,
    cluster: str | None,
    shards: str | None,
    packs: str | None,
    stdin_filename: str,
    quote: bool,
    today: date | None,
) -> int:
    """Check plans, templates, libraries and diaries; folders are walked, - is standard input.

    No finding does not mean safe. Exit code 1: findings at the failing levels; 2: the call or a rule is wrong.
    """
    from planlang.checking.fault import RuleFault
    from planlang.cli.files import grouped

    how = Report("json" if as_json else format_, levels(fail_on), quote)
    call = called(packs, today, stdin_filename)
    if "-" in paths:
        if len(paths) > 1:
            raise click.UsageError("Standard input (-) is checked by itself: name no other file beside it.")
        if changed_since is not None:
            raise click.UsageError("--changed-since asks git about files; standard input (-) is none.")
    try:
        if paths == ("-",):
            return _one(call, how)
        if cluster is not None:
            return _by_cluster(paths, call, how, cluster, shards, changed_since)
        groups = grouped(paths, settings=True)
        if changed_since is not None:
            from planlang.cli.changed import only_changed

            groups = only_changed(groups, changed_since, call)
            if not groups:
                return _nothing(changed_since, call, how)
        return _many(groups, call, how, jobs)
    except RuleFault as e:
        return refused(e)


@frozen
class Report:
    """How to report: the format, the levels that make the run fail, whether people's plans are quoted."""

    format_: str
    failing: frozenset[Level]
    quote: bool

    def write(self, results: Collection[Result], total: Summary, rules: Iterable[Rule]) -> None:
        """Prints the report piece by piece."""
        from planlang.cli.linted import infos
        from planlang.report.formats import pieces

        told = options(
            rules=len(total.rules),
            not_judged=tuple(sorted(total.not_judged)),
            off=dict(sorted(total.off.items())),
            infos=infos(rules),
            failing=self.failing,
            quote=self.quote,
        )
        for piece in pieces(self.format_, results, told):
            click.echo(piece, nl=False)


def _one(call: Call, how: Report) -> int:
    """Standard input."""
    from planlang.checking.batch import Summary
    from planlang.cli.linted import book_for, lint_file
    from planlang.report.result import fails

    done = lint_file("-", call)
    book = book_for(call.stdin_name, call)[0]
    _some_rule([book])
    total = Summary("", 1, rules=frozenset(done.rules), not_judged=frozenset(done.not_judged), off=done.off)
    how.write([done.result], total, book.rules)
    return FINDINGS if any(fails(finding, how.failing) for finding in done.result.findings) else 0


def _many(groups: list[Group], call: Call, how: Report, jobs: int) -> int:
    """Files, however many: their findings lie on disk until they are reported."""
    from planlang.cli.linted import Shards, books, lint_all, lint_here
    from planlang.cli.watched import watched

    count = sum(len(group.names) for group in groups)
    rulebooks = books(groups, call)
    _some_rule(rulebooks)
    if count < LONG and jobs == 1:
        total, few = lint_here(groups, call, lambda: None)
        how.write(few, total, _rules(rulebooks))
        return _code(total, how)

    from tempfile import TemporaryDirectory

    with TemporaryDirectory(prefix="planlang-") as folder:
        with watched("checking", count, count >= LONG) as seen:
            total, shards = summed(lint_all(groups, call, Path(folder), jobs, seen))
        how.write(Shards(shards, total.files), total, _rules(rulebooks))
    return _code(total, how)


def _by_cluster(
    paths: tuple[str, ...], call: Call, how: Report, address: str, where: str | None, since: str | None
) -> int:
    """Files and URLs, checked by the workers of a cluster."""
    if since is not None:
        raise click.UsageError("--changed-since is for the working tree here; leave it out or leave out --cluster.")
    from planlang.cli.clustered import at_cluster

    with at_cluster(paths, call, address, where) as run:
        _some_rule(run.rulebooks)
        total, shards = summed(run.summaries())
        how.write(run.results(shards, total.files), total, _rules(run.rulebooks))
    return _code(total, how)


def summed(summaries: Iterable[Summary]) -> tuple[Summary, list[str]]:
    """All together, and the shards in order. Raises RuleFault where one met a fault of the rules."""
    from planlang.checking.batch import Summary
    from planlang.checking.fault import RuleFault

    total, shards = Summary(""), []
    for summary in summaries:
        if summary.fault:
            raise RuleFault.said(summary.fault)
        total = total.plus(summary)
        shards.append(summary.shard)
    return total, shards


def _rules(rulebooks: Iterable[Rulebook]) -> Iterable[Rule]:
    return {rule.name: rule for book in rulebooks for rule in book.rules}.values()


def _code(total: Summary, how: Report) -> int:
    """The exit code of a run; where planlang itself failed on a file, that is said."""
    for name in total.failed[:SOME]:
        click.echo(f"planlang itself failed on {name}: run planlang --debug lint on it, and report that.", err=True)
    if len(total.failed) > SOME:
        click.echo(f"... and on {len(total.failed) - SOME} more files.", err=True)
    if total.failed:
        return FAILED
    return FINDINGS if total.fails(how.failing) else 0


def _nothing(since: str, call: Call, how: Report) -> int:
    """What is said where nothing differs: no file was looked at, and none had to be."""
    from planlang.checking.batch import Summary

    said = f"Nothing that is checked here differs from {since}, so no file was looked at."
    if how.format_ == "text":
        click.echo(said)
    else:
        how.write([], Summary(""), ())
        click.echo(said, err=True)
    return 0


def _some_rule(rulebooks: list[Rulebook]) -> None:
    if not all(book.in_force() for book in rulebooks):
        raise click.UsageError("No rule is in force, so nothing was checked.")


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
