"""Which files have to be checked when some have changed: those, and whatever rests on them, however far."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from functools import cached_property
from pathlib import Path

from attrs import field

from planlang.checking.clinic_files import ENDINGS, files_of
from planlang.checking.git import Tree
from planlang.checking.nearest import NAME
from planlang.checking.walk import SUFFIXES
from planlang.text.data import define
from planlang.text.load import LARGEST

_SPACE = r"[^\S\n\r]"
_QUOTES = '"“”„‟«»'
_NAMES = re.compile(
    rf"^{_SPACE}*(?:from{_SPACE}+template|uses?{_SPACE}+library|continues?|steps{_SPACE}+from){_SPACE}+"
    rf"[{_QUOTES}]([^{_QUOTES}\n\r]+)[{_QUOTES}]",
    re.MULTILINE,
)
_CODE = re.compile(rf"^\ufeff?{_SPACE}*(?:diary{_SPACE}+)?for{_SPACE}+([A-Z]{{1,4}}-[0-9]{{1,6}})\b", re.MULTILINE)


@define(eq=False, slots=False)
class Dependants:
    """Asks of each file whether it, or something that it rests on, has changed.

    A file rests on the templates, libraries and plans that it names, on the clinic's file above it with all that this
    one names, and on other files of the same person. `more`: what every file rests on, such as packs of the call.
    """

    tree: Tree
    more: tuple[Path, ...] = ()
    _known: dict[str, bool] = field(factory=dict, init=False)
    _clinics: dict[str, bool] = field(factory=dict, init=False)

    def to_check(self, names: Iterable[str]) -> list[str]:
        """Those of the files, as they are called, that have to be checked."""
        listed = list(names)
        found = [name for name in listed if self._rests_on_changed(name)]
        codes = {
            code for name in found if self.tree.changed(os.path.realpath(name)) for code in codes_in(text_of(name))
        }
        for path in self.gone:
            if path.endswith(SUFFIXES):
                codes |= codes_in(self.tree.before(path).decode("utf-8", "replace"))
        if not codes:
            return found
        kept = set(found)
        return [name for name in listed if name in kept or not codes.isdisjoint(codes_in(text_of(name)))]

    @cached_property
    def gone(self) -> frozenset[str]:
        """Files that the commit has, and that are no more."""
        return frozenset(path for path in self.tree.differing if not os.path.lexists(path))

    def _rests_on_changed(self, name: str) -> bool:
        path = os.path.realpath(name)
        return self._named_changed(path) or self._settings_changed(os.path.dirname(path))  # noqa: PTH120

    def _named_changed(self, path: str) -> bool:
        """Whether a file or one that it names, however far, has changed; circles are gone round once."""
        seen: set[str] = set()
        todo = [path]
        while todo:
            one = todo.pop()
            if one in seen or self._known.get(one) is False:
                continue
            seen.add(one)
            if one in self._known or self.tree.changed(one):
                self._known[path] = True
                return True
            todo += named_in(one)
        self._known |= dict.fromkeys(seen, False)
        return False

    def _settings_changed(self, folder: str) -> bool:
        """Whether the clinic's file above a folder, one that it rests on, or one that was there before has changed."""
        if folder not in self._clinics:
            clinic, above = Path(folder, NAME), os.path.dirname(folder)  # noqa: PTH120
            if any(map(self._setting_changed, self.more)) or str(clinic) in self.gone:
                self._clinics[folder] = True
            elif os.path.lexists(clinic):
                rules_gone = any(p.endswith(ENDINGS) and Path(p).is_relative_to(folder) for p in self.gone)
                self._clinics[folder] = rules_gone or any(map(self._setting_changed, files_of(clinic)))
            else:
                self._clinics[folder] = above != folder and self._settings_changed(above)
        return self._clinics[folder]

    def _setting_changed(self, path: Path) -> bool:
        """A key file is not under version control, so that it isn't is no change."""
        real = os.path.realpath(path)
        return self.tree.changed(real) if path.suffix in ENDINGS else real in self.tree.differing


def named_in(path: str) -> list[str]:
    """The real paths of the files that a file names."""
    folder = os.path.dirname(path)  # noqa: PTH120
    return [os.path.realpath(os.path.join(folder, name)) for name in _NAMES.findall(text_of(path)) if "\0" not in name]  # noqa: PTH118


def codes_in(text: str) -> frozenset[str]:
    """The codes of the people whom a plan or a diary is for."""
    return frozenset(_CODE.findall(text))


def text_of(path: str) -> str:
    """A file's text as far as it can be read."""
    try:
        with open(path, "rb") as file:  # noqa: PTH123
            return file.read(LARGEST).decode("utf-8", "replace")
    except (OSError, ValueError):
        return ""
