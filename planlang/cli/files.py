"""Which files a command is to look at."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from planlang.text.data import frozen
from planlang.text.meant import listed, meant

SUFFIXES = (".plan", ".diary")
SETTINGS = (".yaml", ".yml")


@frozen
class Group:
    """The files of one folder that was named, which is their library where no clinic.yaml is above; or single files."""

    given: str | None
    names: tuple[str, ...]


def grouped(paths: Sequence[str], suffixes: tuple[str, ...] = SUFFIXES, settings: bool = False) -> list[Group]:
    """The files that are named, and those with our endings in the folders that are named; each once, in order.

    `settings`: the YAML files of the clinics in those folders too. A run that would look at no file is a wrong call:
    where no name is that of a file, and where folders hold none. Raises RuleFault where a clinic's file is wrong.
    """
    url = next((path for path in paths if "://" in path and not os.path.lexists(path)), None)
    if url is not None:
        raise click.UsageError(f"{url} is a URL: it can be read by the workers of a cluster only (--cluster ADDRESS).")
    if not any(os.path.lexists(path) for path in paths):
        raise click.UsageError(f"There is no file {listed(paths)}.{_near(paths)}")
    groups: list[Group] = []
    seen: set[str] = set()
    for path in paths:
        folder = Path(path).is_dir()
        # Names of a walk are in their plain form already, and each comes once.
        found = _walked(path, suffixes, settings) if folder else [path]
        new = tuple(name for name in found if (name if folder else os.path.normpath(name)) not in seen)
        if len(paths) > 1:
            seen.update(new if folder else map(os.path.normpath, new))
        if new:
            groups.append(Group(path if folder else None, new))
    if not any(group.given is None or not name.endswith(SETTINGS) for group in groups for name in group.names):
        raise click.UsageError(
            f"There is no file that ends in {' or '.join(suffixes)} in {', '.join(paths) or 'nothing'}."
        )
    return groups


def named(paths: Sequence[str], suffixes: tuple[str, ...] = SUFFIXES) -> list[str]:
    """The same as one list."""
    return [name for group in grouped(paths, suffixes) for name in group.names]


def _walked(path: str, suffixes: tuple[str, ...], settings: bool) -> Iterator[str]:
    from planlang.checking.walk import files_in

    yield from files_in(Path(path), suffixes, settings)


def _near(paths: Sequence[str]) -> str:
    """What lies beside the first of them and is called nearly so."""
    path = Path(paths[0])
    try:
        beside = [p.name for p in path.parent.iterdir()]
    except OSError:
        return ""
    near = meant(path.name, beside)
    return f' Did you mean "{path.parent / near}"?' if near else ""
