"""A rule's YAML file to a Rule: strict, every fault with its line and the nearest right thing."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Literal

from attrs import field

from planlang.checking.compile import Compiler
from planlang.checking.expression.types import Type
from planlang.checking.expression.units import unit, words
from planlang.checking.facts.registry import Registry
from planlang.checking.rule import Applies, Case, Rule, Setting, Spoken, Strength
from planlang.checking.rulebook import rule_files
from planlang.model.known import BUILT_IN, Catalogue
from planlang.model.records import Ground
from planlang.text.data import frozen
from planlang.text.finding import Finding, Level, unreadable
from planlang.text.load import load_data
from planlang.text.meant import did_you_mean
from planlang.text.source import Source
from planlang.text.strict_yaml import Document, read_yaml
from planlang.text.strict_yaml import Path as At
from planlang.text.structure import structure

LARGEST = 128 * 1024
NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*\Z")
_QUANTITY = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*(.*)\Z")
_MOST_DIGITS = 12


@frozen
class _Setting:
    value: str | int | Fraction
    means: str
    at_least: str | int | Fraction | None = None
    at_most: str | int | Fraction | None = None


@frozen
class _Related:
    place: str
    message: str


@frozen
class _Case:
    looks_at: str
    flags_when: str
    message: str
    help: str
    reckons: dict[str, str] = field(factory=dict)
    underline: tuple[str, ...] = ()
    related: tuple[_Related, ...] = ()
    never_waived: bool = False


@frozen
class _File:
    title: str
    level: Literal["unsafe", "unrealistic", "incomplete", "advice"]
    strength: Strength
    why: str
    limits: str
    sources: tuple[Ground, ...]
    since: str
    reviewed: str
    flagged: tuple[str, ...]
    clean: tuple[str, ...]
    looks_at: str = ""
    flags_when: str = ""
    message: str = ""
    help: str = ""
    reckons: dict[str, str] = field(factory=dict)
    underline: tuple[str, ...] = ()
    related: tuple[_Related, ...] = ()
    cases: tuple[_Case, ...] = ()
    never_waived: bool = False
    contested: bool = False
    applies: Applies = Applies()
    settings: dict[str, _Setting] = field(factory=dict)
    words: dict[str, dict[str, tuple[str, ...]]] = field(factory=dict)
    gives_way_to: tuple[str, ...] = ()
    aliases: tuple[str, ...] = ()


def load_rule(
    source: Source, name: str, pack: str, registry: Registry, catalogue: Catalogue = BUILT_IN
) -> tuple[Rule | None, tuple[Finding, ...]]:
    """The rule in a source, or None with everything that is wrong with it.

    `catalogue`: the conditions and measures that it may name.
    """
    if not NAME.match(name):
        return None, (
            _whole(
                source, f"\"{name}\" can't be a rule's name", "Lower-case words with hyphens, as in no-room-for-rest."
            ),
        )
    if len(source.text) > LARGEST:
        return None, (_whole(source, "this file is too large for one rule"),)
    document = read_yaml(source)
    if isinstance(document, Finding):
        return None, (document,)
    if not isinstance(document.value, dict):
        return None, (
            _whole(source, "a rule file holds keys and values", "See rules/README.md for the parts of a rule."),
        )
    file, faults = structure(_File, document, document.value)
    return (None, faults) if file is None else _Maker(document, name, pack, registry, catalogue).rule(file)


def _whole(source: Source, message: str, help: str = "") -> Finding:
    return unreadable(message, None, source, help)


class _Maker:
    def __init__(self, document: Document, name: str, pack: str, registry: Registry, catalogue: Catalogue) -> None:
        self.document, self.name, self.pack, self.registry = document, name, pack, registry
        self.catalogue = catalogue
        self.faults: list[Finding] = []

    def fault(self, path: At, message: str, help: str = "") -> None:
        span = self.document.values.get(path) or self.document.place(path)
        self.faults.append(unreadable(message, span, self.document.source, help))

    def rule(self, file: _File) -> tuple[Rule | None, tuple[Finding, ...]]:
        settings = tuple(s for key, value in file.settings.items() if (s := self.setting(key, value)) is not None)
        types = {s.name: Type("number", u.dimension, u.word) for s in settings if (u := unit(s.unit)) is not None}
        phrases = frozenset(key.replace(" ", "-") for key in file.words)
        compiler = Compiler(self.document, self.registry, self.catalogue, types, phrases, self.faults)
        cases, spoken = self.cases(file, compiler)
        self.whole(file)
        for i, setting in enumerate(settings):
            if setting.name not in compiler.used and not self.faults:
                self.fault(("settings", list(file.settings)[i]), f'the setting "{setting.name}" is used nowhere')
        if self.faults:
            return None, tuple(self.faults)
        return (
            Rule(
                self.name,
                self.pack,
                file.title.strip(),
                Level(file.level),
                file.strength,
                cases,
                spoken,
                file.why.strip(),
                file.limits.strip(),
                file.sources,
                file.since,
                file.reviewed,
                file.contested,
                file.applies,
                settings,
                tuple((k.replace(" ", "-"), tuple(by.items())) for k, by in file.words.items()),
                file.gives_way_to,
                file.aliases,
                file.never_waived,
                file.flagged,
                file.clean,
                frozenset(compiler.asks),
            ),
            (),
        )

    def whole(self, file: _File) -> None:
        """What can be wrong with a rule as a whole."""
        for part in ("sources", "flagged", "clean"):
            if not getattr(file, part):
                self.fault((part,), f'a rule needs something under "{part}"')
        if file.contested and file.level != "advice":
            self.fault(("level",), f"what is contested is advice, and this says {file.level}")
        for key in ("since", "reviewed"):
            self.dated(key, getattr(file, key))
        known_files = ("plan", "template", "library", "diary")
        for i, kind in enumerate(file.applies.files):
            if kind not in known_files:
                self.fault(
                    ("applies", "files", i), f'there are no files called "{kind}"', did_you_mean(kind, known_files)
                )
        self.conditions(file.applies)
        for i, alias in enumerate(file.aliases):
            if not NAME.match(alias) or alias == self.name:
                self.fault(("aliases", i), f'"{alias}" can\'t be a former name of this rule')

    def conditions(self, applies: Applies) -> None:
        for key, names in (("conditions", applies.conditions), ("operations", applies.operations)):
            for i, name in enumerate(names):
                if self.catalogue.condition(name) is None:
                    help = did_you_mean(name, self.catalogue.conditions)
                    self.fault(("applies", key, i), f'no condition is called "{name}"', help)

    def dated(self, key: str, text: str) -> None:
        try:
            date.fromisoformat(text)
        except ValueError:
            self.fault((key,), f'"{text}" is no date', "Write it as 2027-03-01.")

    def cases(self, file: _File, compiler: Compiler) -> tuple[tuple[Case, ...], tuple[Spoken, ...]]:
        own = [(part, getattr(file, part.replace(" ", "_"))) for part in ("looks at", "flags when", "message", "help")]
        if file.cases:
            for part, text in own:
                if text:
                    self.fault((part,), f'"{part}" stands in each of the cases where a rule has cases')
            written: list[tuple[At, _File | _Case]] = [(("cases", i), case) for i, case in enumerate(file.cases)]
        else:
            for part, text in own:
                if not text:
                    self.fault((part,), f'"{part}" is missing here')
            written = [((), file)] if not self.faults else []
        cases: list[Case] = []
        spoken: list[Spoken] = []
        for path, case in written:
            made = compiler.case(
                path,
                case.looks_at,
                case.flags_when,
                case.reckons,
                message=case.message,
                help=case.help,
                underline=case.underline,
                related=[(r.place, r.message) for r in case.related],
                never_waived=case.never_waived or file.never_waived,
            )
            if made is not None:
                cases.append(made)
            reckons = tuple((k, " ".join(v.split())) for k, v in case.reckons.items())
            texts = (case.looks_at, case.flags_when, case.message, case.help)
            looks_at, flags_when, message, help = (" ".join(text.split()) for text in texts)
            spoken.append(Spoken(looks_at, flags_when, reckons, message, help))
        return tuple(cases), tuple(spoken)

    def setting(self, key: str, written: _Setting) -> Setting | None:
        name = key.replace(" ", "-")
        if not NAME.match(name):
            self.fault(("settings", key), f"\"{key}\" can't be a setting's name", "Lower-case words, as in most rise.")
            return None
        parts = {"value": written.value, "at least": written.at_least, "at most": written.at_most}
        read = {
            part: self.quantity(("settings", key, part), value) for part, value in parts.items() if value is not None
        }
        if None in read.values():
            return None
        value, word = read["value"] or (Fraction(0), "")
        for part, bound in read.items():
            if bound is not None and _dimension(bound[1]) != _dimension(word):
                self.fault(("settings", key, part), f'this is not in the unit of the value, "{written.value}"')
                return None
        least, most = (read.get("at least") or (value, word))[0], (read.get("at most") or (value, word))[0]
        if not least <= value <= most:
            self.fault(("settings", key, "value"), "the value is outside its own bounds")
            return None
        return Setting(name, value, word, least, most, written.means.strip())

    def quantity(self, path: At, written: str | int | Fraction) -> tuple[Fraction, str] | None:
        """A threshold in base units, with its unit's word; None with a fault where it isn't one."""
        read = read_quantity(written)
        if isinstance(read, str):
            self.fault(path, read, did_you_mean(str(written).split()[-1], words()) if str(written).split() else "")
            return None
        return read


def read_quantity(written: str | int | Fraction) -> tuple[Fraction, str] | str:
    """`500 steps/day` in base units with its unit's word, or what is wrong with it."""
    match = _QUANTITY.match(str(written)) if not isinstance(written, Fraction) else None
    if isinstance(written, Fraction):
        return written, ""
    if match is None:
        return f'"{written}" is no number with a unit'
    if len(match[1]) > _MOST_DIGITS:
        return f"a number of {len(match[1])} digits is too long to be meant"
    found = unit(match[2].strip())
    if found is None:
        return f'no unit is called "{match[2].strip()}"'
    return Fraction(match[1]) * found.factor, found.word


def _dimension(word: str) -> str:
    found = unit(word)
    return found.dimension if found else ""


def load_pack(folder: Path, registry: Registry, catalogue: Catalogue = BUILT_IN) -> tuple[list[Rule], list[Finding]]:
    """The rules of one pack's folder, and everything that is wrong with them."""
    rules: list[Rule] = []
    faults: list[Finding] = []
    for path in rule_files(folder):
        source = load_data(path)
        if isinstance(source, Finding):
            faults.append(source)
            continue
        rule, found = load_rule(source, path.stem, folder.name, registry, catalogue)
        faults += found
        if rule is not None:
            rules.append(rule)
    return rules, faults
