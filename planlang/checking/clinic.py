"""What `clinic.yaml` says, and the rules in force under it; it is read strictly, and no lint runs past a fault."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from attrs import field

from planlang.checking.clinic_files import files_of, folder_files, state_of
from planlang.checking.fault import RuleFault
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook, assembled, built_in_rules, load_packs, pack_folders, rule_files
from planlang.model.known import BUILT_IN, Catalogue
from planlang.text.data import frozen
from planlang.text.finding import unreadable
from planlang.text.source import Source


@frozen
class Clinic:
    """A clinic's file. `root` is the folder that it stands in; every other path stays inside it.

    `languages`: its own files of the texts that people read, one a language.
    """

    path: Path
    root: Path
    name: str = ""
    contacts: Mapping[str, str] = field(factory=dict)
    key_file: Path | None = None
    zone: str | None = None
    packs: tuple[Path, ...] = ()
    languages: tuple[Path, ...] = ()

    @property
    def has_key(self) -> bool:
        """True where the key file is named and there."""
        return self.key_file is not None and self.key_file.is_file()


def rulebook(path: Path | None = None, more_packs: tuple[Path, ...] = ()) -> tuple[Rulebook, Clinic | None]:
    """The rules in force under a clinic's file (None: the built-in ones), and what the file says.

    `more_packs`: further packs, or folders of packs. Raises RuleFault with everything that is wrong. What was read is
    kept for as long as every file that it rests on is the same, so that a process that lives long is never behind.
    """
    rests = (*(files_of(path) if path is not None else ()), *(p for pack in more_packs for p in folder_files(pack)))
    return _rulebook(path, more_packs, Path.cwd(), state_of(rests))


@lru_cache(maxsize=32)
def _rulebook(
    path: Path | None, more_packs: tuple[Path, ...], folder: Path, state: bytes
) -> tuple[Rulebook, Clinic | None]:
    if path is None:
        return assembled((*built_in_rules(), *packs_of(more_packs))), None
    from planlang.checking.clinic_file import Reader

    return Reader(path).read(more_packs)


def packs_of(folders: tuple[Path, ...], catalogue: Catalogue = BUILT_IN) -> tuple[Rule, ...]:
    """The rules of these packs, or folders of packs, each once. Raises RuleFault with everything that is wrong."""
    if not folders:
        return ()
    packs: list[Path] = []
    for folder in folders:
        inside = pack_folders(folder)
        own = rule_files(folder)
        packs += [folder, *inside] if own else inside
        if not own and not inside:
            source = Source(str(folder), "")
            raise RuleFault(
                [unreadable("this folder holds no rules", None, source, "A pack is a folder of rule files.")]
            )
        known = {folder, *inside}
        lost = next((p for p in sorted(folder.rglob("*.yaml")) if p.parent not in known and not p.is_dir()), None)
        if lost is not None:
            help = "A pack is a folder of rule files, without folders in it; name the folder above this one as a pack."
            raise RuleFault([unreadable("this file lies too deep to be found", None, Source(str(lost), ""), help)])
    return load_packs({pack.resolve(): pack for pack in packs}.values(), catalogue)
