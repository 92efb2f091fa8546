"""`planlang rules`: the rules in force, the facts that they can ask, and their own examples run."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import groupby
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, json_option, many, width
from planlang.cli.lint import called, packs_option, refused, today_option
from planlang.cli.main import FINDINGS

if TYPE_CHECKING:
    from planlang.checking.facts.registry import Fact
    from planlang.checking.rule import Rule
    from planlang.checking.rulebook import Rulebook

UNREVIEWED = (
    "The built-in rules were written from published sources; no clinician or clinical body has reviewed them. "
    "A clinic answers for its own packs. The date is the day on which a rule's sources were last read."
)
MONTHS = 24


@click.group("rules")
def command() -> None:
    """The rules in force, the facts that rules can ask, and the rules' own examples."""


@command.command("list")
@packs_option
@today_option
@json_option
def list_(packs: str | None, today: date | None, as_json: bool) -> int:
    """List the rules in force."""
    from planlang.checking.fault import RuleFault
    from planlang.checking.table import overdue
    from planlang.cli.linted import book_for

    try:
        book, _ = book_for("-", called(packs))
    except RuleFault as e:
        return refused(e)
    old = {rule.name for rule in overdue(book.rules, today, MONTHS)} if today else set()
    if as_json:
        echo_json({"rules": [_data(rule, book, rule.name in old if today else None) for rule in book.rules]})
        return 0
    click.echo("\n".join(_listed(book, old, min(width(), 100))))
    return 0


def _data(rule: Rule, book: Rulebook, old: bool | None) -> dict[str, object]:
    return {
        "name": rule.name,
        "pack": rule.pack,
        "level": book.level(rule).value,
        "strength": rule.strength,
        "title": rule.title,
        "reviewed": rule.reviewed,
        "overdue": old,
        "off": book.off().get(rule.name),
    }


def _listed(book: Rulebook, old: set[str], columns: int) -> Iterator[str]:
    for pack, rules in groupby(sorted(book.rules, key=lambda r: (r.pack, r.name)), key=lambda r: r.pack):
        several = list(rules)
        yield pack
        late = [rule for rule in several if rule.name in old]
        if late:
            some = f"{len(late)} of these {len(several)} rules {'was' if len(late) == 1 else 'were'}"
            whole = "This pack was" if len(late) == len(several) else some
            yield from wrap(f"{whole} not reviewed for {MONTHS} months.", columns, initial_indent="  ")
        for rule in several:
            yield f"  {rule.name}  ({level_text(rule, book)}, {rule.strength}, {rule.reviewed})"
            yield from wrap(
                " ".join(_said(rule, book, rule.name in old)),
                columns,
                initial_indent="    ",
                subsequent_indent="    ",
            )
        yield ""
    off_count = len(book.off())
    yield f"{many(len(book.in_force()), 'rule')} in force" + (f", {off_count} switched off." if off_count else ".")
    yield from wrap(UNREVIEWED, columns)


def _said(rule: Rule, book: Rulebook, old: bool) -> Iterator[str]:
    yield rule.title.rstrip(".") + "."
    if old:
        yield f"Not reviewed for {MONTHS} months."
    off = book.off().get(rule.name)
    if off:
        yield f'Switched off: "{off}".'


def level_text(rule: Rule, book: Rulebook) -> str:
    """The level in force, and the rule's own where a clinic has changed it."""
    level = book.level(rule)
    return level.value if level is rule.level else f"{level.value} here, {rule.level.value} as written"


@command.command("facts")
@json_option
def facts(as_json: bool) -> int:
    """List every fact that a rule can ask: its type, unit and meaning."""
    from planlang.checking.facts import every

    registry = every()
    found = sorted(registry.facts.values(), key=lambda f: (f.owner, f.name))
    if as_json:
        echo_json(
            {
                "facts": [
                    {"of": f.owner or None, "name": f.name, "type": f.type.name, "unit": f.type.unit or None,
                     "thing": f.type.thing or None, "words": list(f.type.words), "meaning": f.meaning}
                    for f in found
                ]
            }
        )  # fmt: skip
        return 0
    columns = min(width(), 100)
    for owner, group in groupby(found, key=lambda f: f.owner):
        click.echo(f"{owner}'s" if owner else "begin with")
        for fact in group:
            click.echo("\n".join(_fact(fact, columns)))
        click.echo()
    return 0


def _fact(fact: Fact, columns: int) -> list[str]:
    words = f": {', '.join(fact.type.words)}" if fact.type.words else ""
    head = f"  {fact.name} ({fact.type}{words})"
    return wrap(f"{head}: {fact.meaning}", columns, subsequent_indent="      ", break_on_hyphens=False)


@command.command("test")
@click.argument("packs", metavar="[PACK...]", nargs=-1)
@json_option
def test(packs: tuple[str, ...], as_json: bool) -> int:
    """Run every rule's own examples: of all rules in force, or of the packs named (built-in names, or folders)."""
    from planlang.checking.examples import run_examples
    from planlang.checking.fault import RuleFault

    try:
        groups = _to_test(packs)
    except RuleFault as e:
        return refused(e)
    failures = [failure for book, rules in groups for rule in rules for failure in run_examples(rule, book)]
    rules = [rule for _, rules in groups for rule in rules]
    count = sum(len(rule.flagged) + len(rule.clean) for rule in rules)
    if as_json:
        told = [{"rule": f.rule, "kind": f.kind, "number": f.number, "message": f.message} for f in failures]
        echo_json({"rules": len(rules), "examples": count, "failures": told})
    else:
        for failure in failures:
            click.echo(str(failure))
        done = f"{many(count, 'example')} of {many(len(rules), 'rule')}"
        click.echo(f"{done}, {len(failures)} failed." if failures else f"{done}, all as they should be.")
    return FINDINGS if failures else 0


def _to_test(packs: tuple[str, ...]) -> list[tuple[Rulebook, list[Rule]]]:
    """The rules whose examples are to run, each group with a rulebook in which nothing is changed.

    A folder is tested with all that its own clinic's file names: what it adds to the data, its other packs.
    """
    from planlang.checking.clinic import packs_of, rulebook
    from planlang.checking.nearest import find_clinic
    from planlang.cli.linted import book_for
    from planlang.text.meant import did_you_mean

    if not packs:
        book = unchanged(book_for("-", called(None))[0])
        return [(book, list(book.rules))]
    built_in = rulebook()[0]
    names = {rule.pack for rule in built_in.rules}
    groups = [(built_in, [rule for rule in built_in.rules if rule.pack in packs])] if names & {*packs} else []
    folders: dict[Path | None, list[Path]] = {}
    for pack in packs:
        if pack in names:
            continue
        folder = Path(pack)
        if not folder.is_dir():
            near = did_you_mean(pack, sorted(names))
            raise click.UsageError(f'There is no pack or folder "{pack}". {near}'.strip())
        folders.setdefault(find_clinic(folder), []).append(folder)
    for clinic, own in folders.items():
        book = unchanged(rulebook(clinic, tuple(own))[0])
        tested = {rule.name for rule in packs_of(tuple(own), book.catalogue)}
        groups.append((book, [rule for rule in book.rules if rule.name in tested]))
    return groups


def unchanged(book: Rulebook) -> Rulebook:
    """The same rules and data, with nothing switched off and nothing changed."""
    from planlang.checking.rulebook import assembled

    return assembled(book.rules, catalogue=book.catalogue)
