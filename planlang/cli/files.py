"""Which files a command is to look at."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

import click

SUFFIXES = (".plan", ".diary")


def named(paths: Iterable[str], suffixes: tuple[str, ...] = SUFFIXES) -> list[str]:
    """The files that are named, and those with our endings in the folders that are named; each once, in order.

    A run that would look at no file is a wrong call.
    """
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
