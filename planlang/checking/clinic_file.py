"""Reads `clinic.yaml` strictly: every fault with its place and the nearest right thing."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Literal

from attrs import evolve, field

from planlang.checking.clinic import Clinic, packs_of
from planlang.checking.fault import RuleFault
from planlang.checking.rule import Rule, Setting
from planlang.checking.rulebook import Change, Rulebook, assembled, built_in_rules
from planlang.model.known import BUILT_IN, Catalogue
from planlang.text.data import frozen
from planlang.text.finding import ORDER, Finding, Level, unreadable
from planlang.text.meant import did_you_mean
from planlang.text.source import Source
from planlang.text.strict_yaml import Document, read_yaml
from planlang.text.strict_yaml import Path as At

CONTACTS = ("emergency", "same-day", "clinic")
_LevelName = Literal["unsafe", "unrealistic", "incomplete", "advice"]
_HYPHENED = {"calendar-key-file": "calendar key file"}


@frozen
class _Changed:
    off: str | None = None
    level: _LevelName | None = None
    settings: dict[str, str | int | Fraction] = field(factory=dict)


@frozen
class _Waivers:
    unsafe: tuple[str, ...] | None = None
    unrealistic: tuple[str, ...] | None = None
    incomplete: tuple[str, ...] | None = None
    advice: tuple[str, ...] | None = None


@frozen
class _File:
    clinic: str = ""
    contacts: dict[str, str] = field(factory=dict)
    calendar_key_file: str | None = None
    zone: str | None = None
    packs: tuple[str, ...] = ()
    rules: dict[str, _Changed] = field(factory=dict)
    waivers: _Waivers = _Waivers()
    measures: str | None = None
    conditions: str | None = None
    languages: tuple[str, ...] = ()
    ignore: tuple[str, ...] = ()


class Reader:
    """Reads one clinic's file."""

    def __init__(self, path: Path) -> None:
        self.path, self.root = path, path.absolute().parent
        self.source = Source(str(path), "")
        self.document = Document({}, self.source)
        self.faults: list[Finding] = []

    def _fault(self, at: At, message: str, help: str = "") -> None:
        span = self.document.values.get(at) or self.document.place(at)
        self.faults.append(unreadable(message, span, self.source, help))

    def read(self, more_packs: tuple[Path, ...]) -> tuple[Rulebook, Clinic]:
        """The rules in force, and what the file says. Raises RuleFault with everything that is wrong."""
        file = self._file()
        clinic = Clinic(
            self.path,
            self.root,
            file.clinic,
            dict(file.contacts),
            self.inside(("calendar key file",), file.calendar_key_file),
            file.zone,
            tuple(p for i, name in enumerate(file.packs) if (p := self._pack(i, name)) is not None),
            tuple(p for i, name in enumerate(file.languages) if (p := self._texts(i, name)) is not None),
        )
        self._contacts(file)
        self._zone(file.zone)
        self._ignore(file.ignore)
        catalogue = self._catalogue(file)
        rules = (*built_in_rules(), *packs_of((*clinic.packs, *more_packs), catalogue))
        plain = assembled(rules, catalogue=catalogue)
        changes = {rule.name: change for key, c in file.rules.items() for rule, change in self.change(key, c, plain)}
        who = {level: getattr(file.waivers, level.value) for level in Level}
        if self.faults:
            raise RuleFault(self.faults)
        may_waive = {level: frozenset(names) for level, names in who.items() if names is not None}
        return assembled(rules, changes, may_waive, catalogue), clinic

    def catalogue(self) -> Catalogue:
        """The conditions and measures that plans under this file may name. Raises RuleFault where they are wrong."""
        return self._catalogue(self._file())

    def ignored(self) -> tuple[str, ...]:
        """What walks leave out: patterns as in a .gitignore. Raises RuleFault where they are wrong."""
        file = self._file()
        self._ignore(file.ignore)
        if self.faults:
            raise RuleFault(self.faults)
        return file.ignore

    def _ignore(self, patterns: tuple[str, ...]) -> None:
        if not patterns:
            return
        from pathspec import GitIgnoreSpec

        for i, pattern in enumerate(patterns):
            try:
                GitIgnoreSpec.from_lines([pattern])
            except ValueError as e:
                self._fault(("ignore", i), f'"{pattern}" is no pattern: {e}', "As in: drafts/, *.old.plan")

    def _catalogue(self, file: _File) -> Catalogue:
        from planlang.checking.clinic_data import own_data

        conditions, measures = (self._data_file(key, getattr(file, key)) for key in ("conditions", "measures"))
        if not self.faults and (conditions or measures):
            catalogue, faults = own_data(conditions, measures)
            self.faults += faults
        else:
            catalogue = BUILT_IN
        if self.faults:
            raise RuleFault(self.faults)
        return catalogue

    def _data_file(self, key: str, name: str | None) -> Path | None:
        path = self.inside((key,), name)
        if path is not None and not path.is_file():
            self._fault((key,), f'there is no file "{name}" in the library')
            return None
        return path

    def _file(self) -> _File:
        from planlang.text.load import load_data
        from planlang.text.structure import structure

        source = load_data(self.path)
        if isinstance(source, Finding):
            raise RuleFault([source])
        self.source = source
        document = read_yaml(source)
        if isinstance(document, Finding):
            raise RuleFault([document])
        if document.value is None:
            return _File()
        if not isinstance(document.value, dict):
            raise RuleFault([unreadable("this file holds keys and values", None, source)])
        self.document = _with_spaces(document)
        file, faults = structure(_File, self.document, self.document.value)
        if file is None:
            raise RuleFault(_hyphened(fault) for fault in faults)
        return file

    def inside(self, at: At, name: str | None) -> Path | None:
        """A path of the file, which must stay inside the library."""
        if name is None:
            return None
        path = (self.root / name).resolve()
        if not path.is_relative_to(self.root.resolve()):
            self._fault(
                at,
                f'"{name}" is outside this library',
                "Paths are relative to clinic.yaml and stay beside or below it.",
            )
            return None
        return path

    def _pack(self, i: int, name: str) -> Path | None:
        """The folder of a pack."""
        path = self.inside(("packs", i), name)
        if path is not None and not path.is_dir():
            self._fault(("packs", i), f'there is no folder "{name}" in the library')
            return None
        return path

    def _texts(self, i: int, name: str) -> Path | None:
        """A file of texts; what it says is read where a person's page needs it."""
        path = self.inside(("languages", i), name)
        if path is not None and not path.is_file():
            self._fault(("languages", i), f'there is no file "{name}" in the library')
            return None
        return path

    def _contacts(self, file: _File) -> None:
        for key in file.contacts:
            if key not in CONTACTS:
                help = did_you_mean(key, CONTACTS) or f"Contacts are {', '.join(CONTACTS)}."
                self._fault(("contacts", key), f'no contact is called "{key}"', help)

    def _zone(self, name: str | None) -> None:
        if name is None:
            return
        from planlang.planning.zones import zone

        if zone(name) is None:
            self._fault(("zone",), f'no time zone is called "{name}"', "As in Australia/Hobart.")

    def change(self, key: str, written: _Changed, book: Rulebook) -> list[tuple[Rule, Change]]:
        """A rule with what is changed of it; nothing, with a fault, where the change can't be."""
        rule = book.rule(key)
        if rule is None:
            self._fault(("rules", key), f'there is no rule "{key}"', did_you_mean(key, book.by_name))
            return []
        at = ("rules", key)
        if rule.never_waived and (written.off is not None or written.level is not None):
            self._fault(at, f'"{rule.name}" can\'t be turned off or given another level')
            return []
        if (*at, "off") in self.document.keys and not (written.off or "").strip():
            self._fault(
                (*at, "off"), "a rule is turned off with a reason", 'As in: off: "our classes have fixed times"'
            )
        level = Level(written.level) if written.level else None
        if level is not None and rule.contested and ORDER[level] < ORDER[Level.ADVICE]:
            self._fault((*at, "level"), f'"{rule.name}" rests on contested ground and stays advice')
        settings = {}
        for name, value in written.settings.items():
            found = self.value((*at, "settings", name), rule, name, value)
            if found is not None:
                settings[found[0].name] = found[1]
        return [(rule, Change(written.off, level, settings))]

    def value(self, at: At, rule: Rule, name: str, written: str | int | Fraction) -> tuple[Setting, Fraction] | None:
        """A changed setting in base units, within its bounds."""
        from planlang.checking.expression.units import quantity_text, unit
        from planlang.checking.loader import read_quantity

        setting = rule.setting(name)
        if setting is None:
            known = [s.name.replace("-", " ") for s in rule.settings]
            help = did_you_mean(name, known) or (f"It has: {', '.join(known)}." if known else "It has none.")
            self._fault(at, f'"{rule.name}" has no setting "{name}"', help)
            return None
        read = read_quantity(written)
        bounds = f"from {quantity_text(setting.least, setting.unit)} to {quantity_text(setting.most, setting.unit)}"
        if isinstance(read, str):
            self._fault(at, read, f"It may be {bounds}.")
            return None
        value, word = read
        ours, theirs = unit(setting.unit), unit(word)
        if ours is None or theirs is None or ours.dimension != theirs.dimension:
            self._fault(
                at, f'"{written}" is in another unit than {setting.unit or "a plain number"}', f"It may be {bounds}."
            )
            return None
        if not setting.least <= value <= setting.most:
            self._fault(at, f'"{written}" is outside what can be set here', f"It may be {bounds}.")
            return None
        return setting, value


def _with_spaces(document: Document) -> Document:
    """The document with its one hyphened key spelled as the class has it."""

    def spelled(at: At) -> At:
        first = at[0] if at else None
        return (_HYPHENED[first], *at[1:]) if isinstance(first, str) and first in _HYPHENED else at

    value = {_HYPHENED.get(key, key): inner for key, inner in document.value.items()}
    keys = {spelled(at): span for at, span in document.keys.items()}
    values = {spelled(at): span for at, span in document.values.items()}
    return evolve(document, value=value, keys=keys, values=values)


def _hyphened(fault: Finding) -> Finding:
    """The fault with the one hyphened key spelled as the file has it."""
    spelled = fault.advice
    for there, here in _HYPHENED.items():
        spelled = spelled.replace(here, there)
    return evolve(fault, help=spelled)
