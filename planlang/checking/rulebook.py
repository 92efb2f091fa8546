"""The rules in force: the built-in packs and a clinic's own, with what the clinic changes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path

from attrs import field

from planlang.checking.facts import every
from planlang.checking.facts.registry import Registry
from planlang.checking.fault import RuleFault
from planlang.checking.rule import Rule, Setting
from planlang.model.known import BUILT_IN, Catalogue
from planlang.text.data import define, frozen
from planlang.text.finding import Finding, Level, unreadable
from planlang.text.meant import did_you_mean
from planlang.text.resources import folder
from planlang.text.source import Source


@frozen
class Change:
    """What a clinic changes of one rule: off with a reason, another level, settings in base units."""

    off: str | None = None
    level: Level | None = None
    settings: Mapping[str, Fraction] = field(factory=dict)


@define(frozen=True, slots=False, eq=False)
class Rulebook:
    """Rules by name, and the changes that hold.

    `may_waive`: who may waive what is of a level; anyone where the level is not in it. `catalogue`: the conditions
    and measures that plans may name.
    """

    rules: tuple[Rule, ...]
    registry: Registry
    changes: Mapping[str, Change] = field(factory=dict)
    may_waive: Mapping[Level, frozenset[str]] = field(factory=dict)
    catalogue: Catalogue = BUILT_IN
    by_name: Mapping[str, Rule] = field(init=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "by_name", {n: r for r in self.rules for n in (*r.aliases, r.name)})

    def rule(self, name: str) -> Rule | None:
        """The rule of that name or former name."""
        return self.by_name.get(name)

    def level(self, rule: Rule) -> Level:
        """The level in force."""
        change = self.changes.get(rule.name)
        return change.level if change and change.level else rule.level

    def off(self) -> dict[str, str]:
        """The rules that are switched off, each with its reason."""
        return {name: change.off for name, change in self.changes.items() if change.off}

    def in_force(self) -> tuple[Rule, ...]:
        """The rules that run."""
        off = self.off()
        return tuple(rule for rule in self.rules if rule.name not in off)

    def value(self, rule: Rule, setting: Setting) -> Fraction:
        """A setting's value in base units, as in force."""
        change = self.changes.get(rule.name)
        return change.settings.get(setting.name, setting.value) if change else setting.value


def pack_folders(root: Path) -> list[Path]:
    """The packs of a folder: its own folders that hold rule files."""
    return sorted(p for p in root.iterdir() if p.is_dir() and rule_files(p))


def rule_files(folder: Path) -> list[Path]:
    """The rule files of a pack, in a steady order."""
    return sorted(p for p in folder.iterdir() if p.suffix in (".yaml", ".yml") and not p.is_dir())


def load_packs(folders: Iterable[Path], catalogue: Catalogue = BUILT_IN) -> tuple[Rule, ...]:
    """The rules of these packs, from their YAML. Raises RuleFault with every fault found."""
    from planlang.checking.loader import load_pack

    rules: list[Rule] = []
    faults = []
    for pack in folders:
        found, wrong = load_pack(pack, every(), catalogue)
        rules += found
        faults += wrong
    if faults:
        raise RuleFault(faults)
    return tuple(rules)


@cache
def built_in_rules() -> tuple[Rule, ...]:
    """The rules that come with planlang, from the ready table where it is of these very files."""
    from planlang.checking.table import ready

    return ready() or load_packs(pack_folders(folder("rules")))


@cache
def built_in() -> Rulebook:
    """The built-in rules, unchanged."""
    return assembled(built_in_rules())


def assembled(
    rules: Iterable[Rule],
    changes: Mapping[str, Change] | None = None,
    may_waive: Mapping[Level, frozenset[str]] | None = None,
    catalogue: Catalogue = BUILT_IN,
) -> Rulebook:
    """A rulebook whose names agree with each other. Raises RuleFault where they don't."""
    listed = tuple(rules)
    faults = check_names(listed)
    if faults:
        raise RuleFault(faults)
    return Rulebook(listed, every(), changes or {}, may_waive or {}, catalogue)


def check_names(rules: Iterable[Rule]) -> list[Finding]:
    """Faults of the rules together: one name twice, `gives way to` a rule that there is not."""
    faults: list[Finding] = []
    seen: dict[str, Rule] = {}
    for rule in rules:
        for name in (rule.name, *rule.aliases):
            if name in seen:
                first = seen[name]
                help = "Give yours a name of its own; what a rule says is changed in clinic.yaml, under rules."
                message = f'"{name}" is also a name of the rule "{first.name}" of the pack "{first.pack}"'
                faults.append(_fault(rule, message, help))
            seen[name] = rule
    for rule in {id(r): r for r in seen.values()}.values():
        for other in rule.gives_way_to:
            if other not in seen:
                help = did_you_mean(other, seen)
                faults.append(_fault(rule, f'it gives way to "{other}", which there is not', help))
    return faults


def _fault(rule: Rule, message: str, help: str = "") -> Finding:
    return unreadable(message, None, Source(f"{rule.pack}/{rule.name}.yaml", ""), help)
