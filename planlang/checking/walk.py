"""The files of a library's folders: in a steady order, hidden and ignored ones left out, no link followed out of it."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from attrs import field

from planlang.checking.clinic_files import ENDINGS, files_of
from planlang.checking.nearest import NAME, find_clinic
from planlang.text.data import define, frozen

if TYPE_CHECKING:
    from pathspec import GitIgnoreSpec

SUFFIXES = (".plan", ".diary")


def files_in(folder: Path, suffixes: Sequence[str] = SUFFIXES, settings: bool = False) -> Iterator[str]:
    """The files below a folder that have one of the endings; with `settings`, the YAML of each clinic found too.

    A folder's own files come first, then its folders, both by name; what is reached through a link comes last, and
    only where it isn't reached without one. A link that leads out of the library, and a folder that can't be read, are
    given back themselves, so that whoever reads them can say so. Raises RuleFault where a clinic's file is wrong.
    """
    walk = _Walk(tuple(suffixes), settings)
    found = find_clinic(folder)
    yield from walk.folder(folder, _Library.of(found, folder))
    while walk.links:
        yield from walk.link(*walk.links.pop(0))


@frozen
class _Library:
    """Where one stands: the library's folder as written and without links, and what it leaves out."""

    root: Path
    real: Path
    spec: GitIgnoreSpec | None = None

    @staticmethod
    def of(clinic: Path | None, given: Path) -> _Library:
        if clinic is None:
            return _Library(given.absolute(), given.resolve())
        root = clinic.parent
        return _Library(root, root.resolve(), _spec(ignored(clinic)))

    def leaves_out(self, path: str, is_folder: bool) -> bool:
        """Whether a path is hidden, or what `ignore` in clinic.yaml names."""
        if os.path.basename(path).startswith("."):  # noqa: PTH119 - once a file
            return True
        if self.spec is None:
            return False
        inside = os.path.relpath(os.path.abspath(path), self.root).replace(os.sep, "/")  # noqa: PTH100
        return self.spec.match_file(inside + "/" if is_folder else inside)


@define
class _Walk:
    """One walk: what has been seen, and the links that are still to be followed."""

    suffixes: tuple[str, ...]
    settings: bool
    seen: set[str] = field(factory=set)
    links: list[tuple[str, bool, _Library]] = field(factory=list)

    def folder(self, folder: Path, library: _Library) -> Iterator[str]:
        real = os.path.realpath(folder)
        if real in self.seen:
            return
        self.seen.add(real)
        try:
            with os.scandir(folder) as entries:
                found = sorted(entries, key=lambda e: e.name)
        except OSError:
            yield str(folder)
            return
        if any(e.name == NAME for e in found):
            clinic = folder.absolute() / NAME
            library = _Library.of(clinic, folder)
            if self.settings:
                yield from _settings(clinic, folder)
        inner: list[Path] = []
        for entry in found:
            path = os.path.normpath(entry.path)
            is_folder = _is_folder(entry)
            if not (is_folder or entry.name.endswith(self.suffixes)) or library.leaves_out(path, is_folder):
                continue
            if entry.is_symlink():
                self.links.append((path, is_folder, library))
            elif is_folder:
                inner.append(Path(path))
            else:
                yield path
        for one in inner:
            yield from self.folder(one, library)

    def link(self, path: str, is_folder: bool, library: _Library) -> Iterator[str]:
        real = Path(os.path.realpath(path))
        if not real.is_relative_to(library.real) or not real.exists():
            yield path
        elif is_folder:
            yield from self.folder(Path(path), library)
        elif str(real) not in self.seen and not (str(real.parent) in self.seen and real.name.endswith(self.suffixes)):
            self.seen.add(str(real))
            yield path


def _is_folder(entry: os.DirEntry[str]) -> bool:
    try:
        return entry.is_dir()
    except OSError:  # a link in a circle
        return False


def _settings(clinic: Path, folder: Path) -> Iterator[str]:
    """The YAML files that a clinic rests on, called as the folder is."""
    root = clinic.parent.resolve()
    for path in files_of(clinic):
        if path.suffix in ENDINGS:
            yield os.path.normpath(str(folder / path.resolve().relative_to(root)))


def ignored(clinic: Path) -> tuple[str, ...]:
    """The patterns under `ignore` in a clinic's file. Raises RuleFault where the file can't be read."""
    from planlang.checking.clinic_file import Reader

    return Reader(clinic).ignored()


@lru_cache(maxsize=32)
def _spec(patterns: tuple[str, ...]) -> GitIgnoreSpec | None:
    if not patterns:
        return None
    from pathspec import GitIgnoreSpec

    return GitIgnoreSpec.from_lines(patterns)
