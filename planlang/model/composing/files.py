"""Files that a file names: opened inside the library only, each read once."""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Protocol

from attrs import field

from planlang.text.data import define, frozen
from planlang.text.finding import Finding
from planlang.text.load import load
from planlang.text.source import Source

TRIES = 3
"""How often a file that changes while it is read is read anew."""


@frozen
class NotOpened:
    """Why a file can't be had, and what to do; `finding` where its text is what is wrong."""

    why: str
    help: str = ""
    finding: Finding | None = None


class Files(Protocol):
    """Opens files that other files name."""

    def open(self, name: str, beside: Source) -> Source | NotOpened:
        """The file called `name`, seen from the file `beside`. The same file is the same object each time."""


@define(eq=False)
class InLibrary:
    """The files of one library. `root`: the folder of the nearest clinic.yaml, else the folder that was given.

    Links are followed before it is asked whether a file lies inside. Each file is read once for as long as
    this object lives, so that one run sees one text of it.
    """

    root: Path
    _read: dict[Path, Source | NotOpened] = field(factory=dict, init=False)
    _named: dict[tuple[str, str], Source | NotOpened] = field(factory=dict, init=False)
    _resolved: Path | None = field(init=False, default=None)

    def there(self, path: Path) -> None:
        """Called before a file of the library is looked for: files that lie elsewhere are brought here by it."""

    def open(self, name: str, beside: Source) -> Source | NotOpened:
        """See Files."""
        key = os.path.dirname(beside.name), name  # noqa: PTH120 - asked for every plan of a library
        if key not in self._named:
            self._named[key] = self._open(name, beside)
        return self._named[key]

    def _open(self, name: str, beside: Source) -> Source | NotOpened:
        shown = os.path.normpath(str(Path(beside.name).parent / name)) if name.strip() else ""
        if not shown or "\0" in name:
            return NotOpened("no file is named", "Name the file, seen from this one.")
        try:
            path = (Path(beside.name).parent / name).resolve()
            root = self._resolved = self._resolved or self.root.resolve()
            inside = path.is_relative_to(root)
        except (OSError, ValueError, RuntimeError):
            return NotOpened(f'"{name}" leads nowhere', "Check the name; a link may lead in a circle.")
        if not inside:
            return NotOpened(
                f'"{name}" lies outside the library',
                "Paths are seen from the file that names them, and stay inside the folder of the nearest clinic.yaml "
                "above, or the folder that was given. A clinic.yaml at the top of the library says where that is.",
            )
        self.there(path)
        if "\\" in name and not path.exists():
            return NotOpened(
                f'"{name}" can\'t be read: there is no such file',
                f'Folders are parted by a plain stroke here: "{name.replace(chr(92), "/")}"',
            )
        if path not in self._read:
            self._read[path] = read_whole(path, shown)
        return self._read[path]


def read_whole(path: Path, name: str) -> Source | NotOpened:
    """A file's text, as it was at one moment."""
    for _ in range(TRIES):
        before = state(path)
        found = load(path)
        if before == state(path):
            break
    else:
        return NotOpened(
            f'"{name}" was being written while it was read',
            "Run this again when whoever writes it has finished.",
        )
    if isinstance(found, Finding):
        return NotOpened(f'"{name}" can\'t be read: {found.message}', found.advice, _named(found, name))
    return same(name, found.text)


@lru_cache(maxsize=256)
def same(name: str, text: str) -> Source:
    """A text as the same object for as long as it says the same, so that what was read of it is found again."""
    return Source(name, text)


def state(path: Path) -> tuple[int, int, int] | None:
    """What changes of a file when it is written; None where it can't be asked."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def _named(finding: Finding, name: str) -> Finding | None:
    """The finding on the file as it is called here; None where it has no place in it."""
    from attrs import evolve

    if finding.span is None or finding.source is None:
        return None
    return evolve(finding, source=Source(name, finding.source.text))


@define(eq=False)
class TextFiles:
    """Files given as texts by name."""

    texts: Mapping[str, str] = field(factory=dict)
    _made: dict[str, Source] = field(factory=dict)

    def open(self, name: str, beside: Source) -> Source | NotOpened:
        """See Files."""
        if name not in self.texts:
            return NotOpened(f'there is no file "{name}"', "Check the name.")
        return self._made.setdefault(name, Source(name, self.texts[name]))
