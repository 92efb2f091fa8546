"""One file checked, whatever kind it is: what the command line, batches and editors all call."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

from attrs import evolve, field

from planlang.checking.beside import Folders, InFolder
from planlang.checking.check import Checked, check
from planlang.checking.clinic import Clinic, rulebook
from planlang.checking.inside import led, not_inside
from planlang.checking.nearest import find_clinic
from planlang.checking.private import private, private_settings
from planlang.checking.rulebook import Rulebook
from planlang.checking.standing import Keeping, diary_kept
from planlang.model.composing.files import TRIES, state
from planlang.model.reading import kind_of
from planlang.text.data import define
from planlang.text.finding import Finding, unreadable
from planlang.text.load import load
from planlang.text.source import Source

SETTINGS = (".yaml", ".yml")


@define(eq=False)
class Run:
    """What a run of checks was asked for, and what it has found out on the way; one run sees one state of a library.

    `clinic`: the file to use instead of the nearest one above; `packs`: further packs. `given`: the folder that was
    named, which is the library of files without a clinic's file above them.
    """

    today: date | None = None
    clinic: Path | None = None
    packs: tuple[Path, ...] = ()
    given: Path | None = None
    folders: Folders = field(factory=Folders)
    _clinics: dict[str, Path | None] = field(factory=dict, init=False)
    _books: dict[Path | None, tuple[Rulebook, Clinic | None]] = field(factory=dict, init=False)
    _keys: dict[Path | None, bool] = field(factory=dict, init=False)
    _tracked: dict[str, frozenset[bytes]] = field(factory=dict, init=False)
    _inside: dict[tuple[str, str], str] = field(factory=dict, init=False)

    def clinic_of(self, path: Path) -> Path | None:
        """The clinic's file that holds for a file: the one asked for, else the nearest above it."""
        if self.clinic is not None:
            return self.clinic
        folder = os.path.dirname(path)  # noqa: PTH120 - asked for several times a file, as are those below
        if folder not in self._clinics:
            self._clinics[folder] = find_clinic(path.parent)
        return self._clinics[folder]

    def book(self, path: Path) -> tuple[Rulebook, Clinic | None]:
        """The rules in force for a file, and what the clinic's file says. Raises RuleFault where they are wrong."""
        found = self.clinic_of(path)
        if found not in self._books:
            self._books[found] = rulebook(found, self.packs)
        return self._books[found]

    def keeping(self, path: Path | None, where: Path) -> Keeping:
        """How a file is kept."""
        found = self.clinic_of(where)
        if found not in self._keys:
            clinic = self.book(where)[1]
            self._keys[found] = bool(clinic and clinic.has_key)
        return Keeping(path, self._keys[found], self.tracked)

    def tracked(self, path: Path) -> bool:
        """Whether a file is under version control; git's index is looked up once a folder."""
        folder = os.path.dirname(path)  # noqa: PTH120
        if folder not in self._tracked:
            from planlang.checking.versioned import tracked_in

            self._tracked[folder] = tracked_in(path.parent)
        return path.name.encode() in self._tracked[folder]

    def leads(self, path: Path, root: Path) -> str:
        """What is wrong with the way to a file that should lie in a library's folder; empty where it lies there."""
        if path.is_symlink():
            return led(path, root)
        key = os.path.dirname(path), str(root)  # noqa: PTH120
        if key not in self._inside:
            self._inside[key] = led(path.parent, root)
        return self._inside[key]

    def root(self, path: Path) -> Path:
        """The library that a file lies in: nothing outside it is opened."""
        found = self.clinic_of(path)
        if found is not None:
            return found.absolute().parent
        if self.given is not None and path.absolute().is_relative_to(self.given.absolute()):
            return self.given
        return path.parent


def check_file(path: Path, run: Run) -> Checked:
    """The file at a path, read and checked. Raises RuleFault where its rules are wrong, and for nothing in the file.

    A file that can't be read, or is a link that leads out of its library, is one finding.
    """
    source = read_file(path, run)
    if isinstance(source, Finding):
        return Checked(source.source or Source(str(path), ""), None, None, (source,))
    return check_text(source, run, path)


def read_file(path: Path, run: Run) -> Source | Finding:
    """The text at a path, or the finding that says why it can't be had. Nothing outside the library is opened."""
    return _leads_out(path, run) or _closed(path) or _steady(path)


def _steady(path: Path) -> Source | Finding:
    """A file's text as it was at one moment."""
    for _ in range(TRIES):
        before = state(path)
        found = load(path)
        if before == state(path):
            return found
    help = "Run this again when whoever writes it has finished."
    return unreadable("this file was being written while it was read", None, Source(str(path), ""), help)


def _closed(path: Path) -> Finding | None:
    """A folder that can't be looked into: what it holds isn't checked, and that is said."""
    if not path.is_dir():
        return None
    try:
        with os.scandir(path):
            return None
    except OSError as e:
        message = f"this folder can't be looked into: {(e.strerror or str(e)).lower()}"
    return unreadable(message, None, Source(str(path), ""), "Nothing in it was checked. Ask whoever keeps it.")


def _leads_out(path: Path, run: Run) -> Finding | None:
    """A link out of the library is not followed: whoever may write in it could have anything read and quoted."""
    found = run.clinic_of(path)
    root = found.parent if found is not None else run.given
    message = run.leads(path, root) if root is not None else ""
    if not message:
        return None
    return not_inside(message, path)


def check_text(source: Source, run: Run, path: Path | None = None) -> Checked:
    """A text that lies at `path`, or nowhere (standard input, an editor's new file), checked by its kind."""
    where = path if path is not None else Path(source.name)
    book, clinic = run.book(where)
    contacts = dict(clinic.contacts) if clinic else {}
    if where.suffix in SETTINGS:
        return Checked(source, None, None, private_settings(source, book, contacts))
    keeping = run.keeping(path, where)
    root = run.root(where)
    beside = InFolder(path, root, run.folders) if path is not None else None
    files = run.folders.library(root)
    checked = check(source, book, run.today, keeping, beside=beside, contacts=contacts, files=files)
    more: tuple[Finding, ...] = ()
    kind = kind_of(source)
    if kind in ("template", "library", "diary"):
        more = _not_yet(private(source, book, contacts), checked)
    if kind == "diary":
        more = (*more, *diary_kept(source, keeping))
    return evolve(checked, findings=(*checked.findings, *more)) if more else checked


def _not_yet(more: tuple[Finding, ...], checked: Checked) -> tuple[Finding, ...]:
    """Those of the findings that the file's own rules haven't made at the same place."""
    there = {
        (one.rule, (one.source or checked.source).place(one.span).line)
        for one in checked.findings
        if one.span is not None
    }
    return tuple(
        one for one in more if not (one.source and one.span and (one.rule, one.source.place(one.span).line) in there)
    )


def is_person(checked: Checked) -> bool:
    """Whether a file is about one person, so that its text stays in the house."""
    return (checked.plan is not None and checked.plan.code is not None) or kind_of(checked.source) == "diary"
