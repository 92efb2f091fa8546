"""`planlang demo`: a small made-up clinic, and what the main commands make of it."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from planlang.cli.console import echo_json, json_option
from planlang.cli.main import WRONG_CALL, run

TAKEN = ("clinic.yaml", "drafts", "library", "people")
SUFFIXES = (".plan", ".yaml", ".diary")
FIRST = "p014-allotment"
TEMPLATE = "knee-middle"
IGNORED = """\
# Plans of people don't belong in a shared, versioned library: its history can't be erased.
people/
drafts/
# Whoever has the key can guess which entry belongs to whom.
.calendar-key
"""
KEY = "made up for the demo: a clinic makes its own, at random, and keeps it to itself\n"


@click.command("demo")
@click.argument("folder", metavar="FOLDER")
@json_option
def command(folder: str, as_json: bool) -> int:
    """Write a small made-up clinic into a new FOLDER and run the main commands on some of it."""
    target = Path(folder)
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        raise click.UsageError(f"{folder} is there already and isn't empty. Name a new folder.")
    written = _write(target)
    person = target / "people" / f"{FIRST}.plan"
    calls = [
        ["lint", str(target / "people"), str(target / "drafts")],
        ["lint", str(target / "library" / "templates" / f"{TEMPLATE}.plan")],
        ["weeks", str(person)],
        ["compile", str(person), "-o", str(person.with_suffix(".ics"))],
        ["caseload", str(target / "people")],
        ["review", str(person), str(person.with_suffix(".diary"))],
    ]
    if as_json:
        codes = [_quietly(call) for call in calls]
        ran = [{"command": ["planlang", *call], "exit": code} for call, code in zip(calls, codes, strict=True)]
        echo_json({"folder": folder, "files": written, "ran": ran})
        return max(code if code >= WRONG_CALL else 0 for code in codes)
    click.echo(f"A made-up clinic stands in {folder}: no person, clinic or number in it is real.")
    for name in written:
        click.echo(f"  {name}")
    worst = 0
    for call in calls:
        click.echo(f"\n$ planlang {shlex.join(call)}\n")
        code = run(call)
        worst = max(worst, code if code >= WRONG_CALL else 0)
    return worst


def _write(target: Path) -> list[str]:
    """Copies the examples and names what was written, relative to the folder."""
    from planlang.text.resources import folder
    from planlang.text.save import save

    source = folder("examples")
    files = {
        str(path.relative_to(source)): path.read_bytes()
        for path in sorted(source.rglob("*"))
        if path.is_file() and path.relative_to(source).parts[0] in TAKEN and path.suffix in SUFFIXES
    }
    files |= {".gitignore": IGNORED.encode(), ".calendar-key": KEY.encode()}
    for name, data in files.items():
        place = target / name
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
        except OSError as e:
            raise click.ClickException(f"{place.parent} can't be made: {e.strerror or e}") from None
        said = save(place, data)
        if said:
            raise click.ClickException(said)
    return sorted(files)


def _quietly(call: list[str]) -> int:
    """Runs a command and keeps what it prints to itself."""
    import contextlib
    import io

    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        return run(call)
