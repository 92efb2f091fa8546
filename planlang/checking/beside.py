"""What stands beside a plan: the block that it continues, and other plans of the same person."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from attrs import field

from planlang.model.composing.compose import compose
from planlang.model.composing.files import Files, InLibrary, TextFiles
from planlang.model.known import Catalogue
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.text.data import define, frozen
from planlang.text.finding import Finding
from planlang.text.load import LARGEST, load
from planlang.text.source import Source

if TYPE_CHECKING:
    from planlang.planning.week import Week

SUFFIX, DIARY = ".plan", ".diary"
HEAD = 4096
"""Bytes of a diary in which it says whose it is."""
_DIARY_FOR = re.compile(r"^[ \t\ufeff]*diary[ \t]+for[ \t]+([A-Z]{1,4}-[0-9]{1,6})\b", re.MULTILINE)
_CODE = re.compile(r"^[ \t]*for[ \t]+([A-Z]{1,4}-[0-9]{1,6})\b", re.MULTILINE)


class Beside(Protocol):
    """Where other plans come from."""

    @property
    def files(self) -> Files:
        """What the plans here are put together from."""

    def previous(self, plan: Plan) -> Plan | None:
        """The plan that this one continues; None where it isn't found, isn't read whole, or is not in the library."""

    def others(self, plan: Plan) -> tuple[Plan, ...]:
        """Other plans for the same code."""

    def weeks_of(self, plan: Plan, before: date | None) -> tuple[Week, ...]:
        """The weeks of such a plan as they were, by its diary where there is one; from `before` on another holds."""

    def plans(self, code: str, catalogue: Catalogue) -> tuple[Plan, ...]:
        """The plans for a code that are read whole, by file name."""


@define(eq=False)
class Folders:
    """Whose plans the files of a folder are, and what libraries hold, looked up once in a run over many of them."""

    _shared: dict[Path, Mapping[str, tuple[str, ...]]] = field(factory=dict)
    _libraries: dict[Path, InLibrary] = field(factory=dict)
    _diaries: dict[Path, Mapping[str, tuple[str, ...]]] = field(factory=dict)
    _plans: dict[Path, dict[str, list[Path]]] = field(factory=dict)
    opening: Callable[[Path], InLibrary] = InLibrary
    _real: dict[str, Path] = field(factory=dict)

    @staticmethod
    def knowing(codes: Mapping[str, Mapping[str, tuple[str, ...]]]) -> Folders:
        """With what `shared_codes` found in some folders."""
        return Folders({Path(folder).resolve(): shared for folder, shared in codes.items()})

    def library(self, root: Path) -> InLibrary:
        """The files of a library, each read once in a run."""
        if root not in self._libraries:
            self._libraries[root] = self.opening(root)
        return self._libraries[root]

    def real(self, folder: Path) -> Path:
        """A folder without links, looked up once."""
        name = str(folder)
        if name not in self._real:
            self._real[name] = folder.resolve()
        return self._real[name]

    def files(self, folder: Path, code: str) -> list[Path]:
        """The plan files of a folder that name a code which another names too, by name."""
        if folder not in self._shared:
            self._shared[folder] = shared_codes(folder)
        return [folder / name for name in self._shared[folder].get(code, ())]

    def plans(self, folder: Path, code: str) -> list[Path]:
        """The plan files of a folder that name a code, by name."""
        if folder not in self._plans:
            by_code: dict[str, list[Path]] = {}
            for path in sorted(p for p in folder.iterdir() if p.suffix == SUFFIX and not p.is_symlink()):
                for named in _codes(path):
                    by_code.setdefault(named, []).append(path)
            self._plans[folder] = by_code
        return self._plans[folder].get(code, [])

    def diaries(self, folder: Path, code: str) -> list[Path]:
        """The diaries for a code in a folder, by name."""
        if folder not in self._diaries:
            self._diaries[folder] = _diaries(folder)
        return [folder / name for name in self._diaries[folder].get(code, ())]


def _diaries(folder: Path) -> dict[str, tuple[str, ...]]:
    """The diaries of a folder by the code that each is for; links are left out."""
    found: dict[str, tuple[str, ...]] = {}
    with os.scandir(folder) as entries:
        names = sorted(e.name for e in entries if e.name.endswith(DIARY) and e.is_file(follow_symlinks=False))
    for name in names:
        with open(folder / name, "rb") as file:  # noqa: PTH123 - its first lines are enough
            code = _DIARY_FOR.search(file.read(HEAD).decode("utf-8", "replace"))
        if code:
            found[code.group(1)] = (*found.get(code.group(1), ()), name)
    return found


def shared_codes(folder: Path) -> dict[str, tuple[str, ...]]:
    """The codes that more than one plan of a folder names, each with those files; links are left out."""
    first: dict[str, str] = {}
    shared: dict[str, tuple[str, ...]] = {}
    with os.scandir(folder) as entries:
        names = sorted(e.name for e in entries if e.name.endswith(SUFFIX) and e.is_file(follow_symlinks=False))
    for name in names:
        for code in _codes(folder / name):
            if code in first:
                shared[code] = (*shared.get(code, (first[code],)), name)
            else:
                first[code] = name
    return shared


@frozen
class InFolder:
    """The files round a plan's own. `root`: the library; nothing outside it is read."""

    path: Path
    root: Path
    folders: Folders = field(factory=Folders)

    @property
    def files(self) -> InLibrary:
        """What the plans here are put together from."""
        return self.folders.library(self.root)

    def previous(self, plan: Plan) -> Plan | None:
        """See Beside."""
        if plan.continues is None or Path(plan.continues).is_absolute():
            return None
        try:
            found = (self.path.parent / plan.continues).resolve()
            inside = found.is_relative_to(self.root.resolve()) and found != self.path.resolve()
        except (OSError, ValueError, RuntimeError):
            return None
        if not inside:
            return None
        self.files.there(found)
        return _read(found, plan.catalogue, self.files)

    def others(self, plan: Plan) -> tuple[Plan, ...]:
        """See Beside. Looked for in the plan's own folder."""
        if plan.code is None:
            return ()
        try:
            linked = self.path.is_symlink()
            folder = self.path.resolve().parent if linked else self.folders.real(self.path.parent)
            names = self.folders.files(folder, plan.code)
            if not names:  # most people have one plan
                return ()
            own = self.path.resolve()
            names = [p for p in names if p != own]
        except OSError:
            return ()
        return running(plan, (found for p in names if (found := _read(p, plan.catalogue, self.files)) is not None))

    def weeks_of(self, plan: Plan, before: date | None) -> tuple[Week, ...]:
        """See Beside. Diaries are looked for beside the plan."""
        try:
            names = self.folders.diaries(Path(plan.source.name).parent, plan.code) if plan.code else []
        except OSError:
            names = []
        if not names:
            return reckon(plan).weeks
        from planlang.checking.looked_back import weeks_of  # most plans continue none, and most that do have no diary

        read = (load(path) for path in names)
        return weeks_of(plan, (source for source in read if isinstance(source, Source)), before)

    def plans(self, code: str, catalogue: Catalogue) -> tuple[Plan, ...]:
        """See Beside. Looked for in the diary's own folder."""
        try:
            names = self.folders.plans(self.path.parent, code)
        except OSError:
            return ()
        return tuple(found for p in names if (found := _read(p, catalogue, self.files)) is not None)


@frozen
class InTexts:
    """Plans given as texts by file name."""

    texts: Mapping[str, str] = field(factory=dict)

    @property
    def files(self) -> TextFiles:
        """What the plans here are put together from."""
        return TextFiles(self.texts)

    def previous(self, plan: Plan) -> Plan | None:
        """See Beside."""
        name = plan.continues or ""
        return _whole(Source(name, self.texts[name]), plan.catalogue, self.files) if name in self.texts else None

    def others(self, plan: Plan) -> tuple[Plan, ...]:
        """See Beside."""
        read = (_whole(Source(name, text), plan.catalogue, self.files) for name, text in self.texts.items())
        return running(plan, (one for one in read if one is not None))

    def weeks_of(self, plan: Plan, before: date | None) -> tuple[Week, ...]:
        """See Beside."""
        diaries = [Source(name, text) for name, text in self.texts.items() if name.endswith(DIARY)]
        if not diaries:
            return reckon(plan).weeks
        from planlang.checking.looked_back import weeks_of

        return weeks_of(plan, diaries, before)

    def plans(self, code: str, catalogue: Catalogue) -> tuple[Plan, ...]:
        """See Beside."""
        read = (
            _whole(Source(name, text), catalogue, self.files)
            for name, text in sorted(self.texts.items())
            if not name.endswith((DIARY, ".yaml", ".csv"))
        )
        return tuple(one for one in read if one is not None and one.code == code)


def running(plan: Plan, found: Iterable[Plan]) -> tuple[Plan, ...]:
    """Those of the same code that are in force: no draft, nothing paused, no other revision of the plan itself."""
    return tuple(
        one
        for one in found
        if one.code == plan.code is not None
        and not one.draft
        and one.pause is None
        and (one.title != plan.title or one.revision == plan.revision)
    )


def _read(path: Path, catalogue: Catalogue, files: Files) -> Plan | None:
    source = load(path)
    return None if isinstance(source, Finding) else _whole(source, catalogue, files)


def _whole(source: Source, catalogue: Catalogue, files: Files) -> Plan | None:
    """The plan in a source with what it is made from, or None where part of it can't be read."""
    plan, _ = read_plan(compose(source, files)[0], catalogue)
    return None if plan is None or plan.unread else plan


def _codes(path: Path) -> frozenset[str]:
    """The codes that a file's `for` lines name."""
    try:
        if path.stat().st_size > LARGEST:
            return frozenset()
        return frozenset(_CODE.findall(path.read_text("utf-8", "replace")))
    except OSError:
        return frozenset()
