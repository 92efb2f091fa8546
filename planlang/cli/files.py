"""Which files a command is to look at."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from planlang.text.meant import listed, meant

SUFFIXES = (".plan", ".diary")


def named(paths: Sequence[str], suffixes: tuple[str, ...] = SUFFIXES) -> list[str]:
    """The files that are named, and those with our endings in the folders that are named; each once, in order.

    A run that would look at no file is a wrong call: where no name is that of a file, and where folders hold none.
    """
    if not any(os.path.lexists(path) for path in paths):
        raise click.UsageError(f"There is no file {listed(paths)}.{_near(paths)}")
    found = list(dict.fromkeys(name for path in paths for name in _walked(path, suffixes)))
    if not found:
        raise click.UsageError(
            f"There is no file that ends in {' or '.join(suffixes)} in {', '.join(paths) or 'nothing'}."
        )
    return found


def _walked(path: str, suffixes: tuple[str, ...]) -> Iterator[str]:
    if not Path(path).is_dir():
        yield path
        return
    for folder, folders, files in os.walk(path):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(files):
            if name.endswith(suffixes) and not name.startswith("."):
                yield os.path.normpath(str(Path(folder, name)))


def _near(paths: Sequence[str]) -> str:
    """What lies beside the first of them and is called nearly so."""
    path = Path(paths[0])
    try:
        beside = [p.name for p in path.parent.iterdir()]
    except OSError:
        return ""
    near = meant(path.name, beside)
    return f' Did you mean "{path.parent / near}"?' if near else ""
