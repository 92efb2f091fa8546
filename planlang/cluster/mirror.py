"""The part of a library that a batch needs, brought here from where fsspec reaches it, a folder at a time."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from attrs import field

from planlang.checking.clinic_files import ENDINGS, texts_of
from planlang.checking.nearest import NAME
from planlang.checking.walk import SUFFIXES
from planlang.model.composing.files import InLibrary
from planlang.text.data import define
from planlang.text.load import LARGEST

TABLE = ".csv"
AT_ONCE = 500
"""Files that are asked for together."""


def is_url(name: str) -> bool:
    """Whether a name is a URL and no path."""
    return "://" in name


@define(eq=False)
class Mirror:
    """A library elsewhere and the folder here in which its files come to lie, as far as they are asked for.

    `files`: the fsspec file system; `root`: the library's folder in it; `url`: the same as it is called.
    """

    files: Any
    root: str
    url: str
    folder: Path
    _brought: set[str] = field(factory=set, init=False)

    @staticmethod
    def of(url: str, folder: Path) -> Mirror:
        """The mirror of a library."""
        from fsspec.core import url_to_fs

        files, root = url_to_fs(url)
        folder.mkdir(parents=True, exist_ok=True)
        return Mirror(files, root.rstrip("/"), url.rstrip("/"), folder.resolve())

    def local(self, name: str) -> Path:
        """Where a file comes to lie here. A name that leads out of the library leads to nothing."""
        inside = name.removeprefix(self.url).lstrip("/")
        path = Path(os.path.normpath(self.folder / inside))
        return path if path.is_relative_to(self.folder) else self.folder / "outside" / path.name

    def called(self, name: str) -> str:
        """What a file here is called where it truly lies."""
        path = os.path.normpath(name)
        inside = path.removeprefix(str(self.folder)).lstrip("/") if path.startswith(str(self.folder)) else None
        return name if inside is None else f"{self.url}/{inside}" if inside else self.url

    def opening(self, root: Path) -> InLibrary:
        """The library's files, each brought when it is asked for."""
        return _Fetching(root, mirror=self)

    def bring(self, folder: Path) -> None:
        """Brings a folder's files, and the settings that hold for it."""
        self.settings(folder)
        self._folder("/".join(self._parts(folder)))

    def settings(self, folder: Path) -> None:
        """Brings the clinics' files of a folder here and of those above it, with what they name."""
        inside = self._parts(folder)
        for depth in range(len(inside) + 1):
            self._settings("/".join(inside[:depth]))

    def _parts(self, folder: Path) -> tuple[str, ...]:
        return Path(os.path.normpath(folder)).relative_to(self.folder).parts

    def _folder(self, inside: str) -> None:
        if inside in self._brought:
            return
        self._brought.add(inside)
        here = f"{self.root}/{inside}".rstrip("/")
        try:
            listed = self.files.ls(here, detail=True)
        except (OSError, ValueError):
            return
        wanted = [e["name"] for e in listed if e["type"] == "file" and e["name"].endswith((*SUFFIXES, TABLE))]
        self._get(wanted)

    def _settings(self, inside: str) -> None:
        """A folder's clinic.yaml with all that it names; of its key only that it is there."""
        if f"{inside}\0" in self._brought:
            return
        self._brought.add(f"{inside}\0")
        clinic = "/".join(part for part in (self.root, inside, NAME) if part)
        self._get([clinic])
        path = self.folder / inside / NAME
        if not path.is_file():
            return
        for name in texts_of(path):
            there = os.path.normpath("/".join(part for part in (self.root, inside, name) if part))
            if not there.startswith(f"{self.root}/") or len(name) > 1000:
                continue
            if self.files.isdir(there):
                self._get([one for one in self.files.find(there) if one.endswith(ENDINGS)])
            elif there.endswith(ENDINGS):
                self._get([there])
            elif self.files.isfile(there):
                self._here(there).touch()

    def _get(self, wanted: Iterable[str]) -> None:
        """Brings files; what can't be had is not there, and whoever opens it says so."""
        listed = list(wanted)
        for start in range(0, len(listed), AT_ONCE):
            some = listed[start : start + AT_ONCE]
            found = self.files.cat(some, recursive=False, on_error="return") if len(some) > 1 else self._one(some[0])
            for name, data in found.items():
                if isinstance(data, bytes):
                    self._here(name).write_bytes(data[: LARGEST + 1])

    def _one(self, name: str) -> dict[str, Any]:
        try:
            return {name: self.files.cat_file(name)}
        except (OSError, ValueError) as e:
            return {name: e}

    def _here(self, name: str) -> Path:
        path = self.folder / name.removeprefix(self.root).lstrip("/")
        path.parent.mkdir(parents=True, exist_ok=True)
        return path


@define(eq=False)
class _Fetching(InLibrary):
    mirror: Mirror = field(kw_only=True)

    def there(self, path: Path) -> None:
        """See InLibrary."""
        if path.is_relative_to(self.mirror.folder):
            self.mirror.bring(path.parent)
