"""What a plan is begun from, and how it is written: the template looked through, the text laid out, the key made."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planlang.text.data import frozen

if TYPE_CHECKING:
    from planlang.checking.clinic import Clinic
    from planlang.cli.starting_room import Room
    from planlang.model.composing.blanks import BlankLine
    from planlang.model.composing.files import InLibrary
    from planlang.model.composing.sheet import Sheet
    from planlang.report.result import Result

KEY_BYTES = 32


@frozen
class Beginning:
    """A template and the place of the plan to be. `named`: what the plan calls it; `result`: why it can't be used."""

    output: Path
    named: str
    sheet: Sheet
    blanks: tuple[BlankLine, ...]
    files: InLibrary
    clinic: Clinic | None
    result: Result | None = None


def beginning(template_path: str, output: str) -> Beginning:
    """The template, if the plan may be written and may name it. Raises click's errors where the call is wrong."""
    from planlang.checking.clinic import rulebook
    from planlang.checking.fault import RuleFault
    from planlang.checking.nearest import find_clinic, library_of
    from planlang.model.composing.files import InLibrary, NotOpened
    from planlang.model.composing.instance import blanks_of, lowest
    from planlang.model.composing.library import template
    from planlang.model.reading import read_plan
    from planlang.report.result import Result
    from planlang.text.finding import Finding
    from planlang.text.load import load
    from planlang.text.source import Source

    place = Path(output)
    _writable(place)
    loaded = load(template_path)
    if isinstance(loaded, Finding):
        raise click.BadParameter(f"{template_path}: {loaded.message}. {loaded.advice}", param_hint="TEMPLATE")
    try:
        _, clinic = rulebook(find_clinic(place.parent))
    except RuleFault as fault:
        raise click.UsageError(f"the clinic's file can't be used.\n{fault}") from None
    named = Path(os.path.relpath(Path(template_path).resolve(), place.parent.resolve())).as_posix()
    files = InLibrary(library_of(place))
    found = files.open(named, Source(output, ""))
    if isinstance(found, NotOpened):
        raise click.UsageError(f"{output} can't be made from {template_path}: {found.why}. {found.help}")
    sheet = template(found)
    if sheet is None:
        raise click.BadParameter(
            f'{template_path} is no template; one begins with a line: template "Knee base"', param_hint="TEMPLATE"
        )
    lowest_plan = lowest(found, files)
    bad = tuple(f for f in (*lowest_plan.findings, *read_plan(lowest_plan)[1]) if f.rule == "unreadable")
    result = Result(found.name, lowest_plan, bad) if bad else None
    return Beginning(place, named, sheet, blanks_of(found), files, clinic, result)


def written_text(lines: list[str], room: Room | None) -> str:
    """The plan's text, laid out."""
    from planlang.syntax.tidy import tidy
    from planlang.text.source import Source

    text = "\n".join([*lines, *(room.lines if room else ())])
    return tidy(Source("", f"{text}\n")).text


def key_made(clinic: Clinic | None) -> str | None:
    """Makes the calendar key that a clinic's file names and that isn't there; the key's file, if one was made."""
    import secrets

    from planlang.text.save import save_new

    if clinic is None or clinic.key_file is None or os.path.lexists(clinic.key_file):
        return None
    fault = save_new(clinic.key_file, f"{secrets.token_hex(KEY_BYTES)}\n".encode(), 0o600)
    if fault is None:
        return str(clinic.key_file)
    if not os.path.lexists(clinic.key_file):  # somebody else's call may have made it meanwhile
        click.echo(f"The clinic's calendar key was not made: {fault}.", err=True)
    return None


def _writable(place: Path) -> None:
    if place.suffix != ".plan":
        raise click.BadParameter("a plan's name ends in .plan", param_hint="-o")
    if os.path.lexists(place):
        raise click.BadParameter(f"{place} is there already, and is not written over", param_hint="-o")
    if not place.parent.is_dir():
        raise click.BadParameter(f"there is no folder {place.parent}", param_hint="-o")
