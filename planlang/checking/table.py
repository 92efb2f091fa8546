"""The built-in rules as a ready table of JSON, so that a start needs neither YAML nor the grammar of expressions."""

from __future__ import annotations

import json
from collections.abc import Iterable
from datetime import date
from fractions import Fraction
from hashlib import blake2b
from pathlib import Path
from typing import Any

from attrs import fields_dict

from planlang.checking.facts import every
from planlang.checking.rule import Applies, Case, Rule, Setting, Spoken
from planlang.model.records import Ground
from planlang.text.finding import Level
from planlang.text.resources import folder

TABLE = "rules.table"
FORMAT = 2
"""Raised whenever code or rules are kept in another way."""


def digest(root: Path) -> str:
    """What a table must have been made from: these files, these facts, this format."""
    made = blake2b(f"{FORMAT}".encode(), digest_size=16)
    for path in _files(root):
        made.update(path.relative_to(root.parent).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    for fact in every().facts.values():
        made.update(f"{fact.owner}'s {fact.name}: {fact.type} {fact.asked} {sorted(fact.asks)}\n".encode())
    return made.hexdigest()


def _files(root: Path) -> list[Path]:
    return [root.parent / "grammar" / "check.lark", *sorted(root.glob("*/*.yaml"))]


def ready(root: Path | None = None) -> tuple[Rule, ...] | None:
    """The rules of the table, or None where there is none or it was made from something else."""
    root = root or folder("rules")
    try:
        held = json.loads((root / TABLE).read_text("utf-8"))
        if held["digest"] != digest(root):
            return None
        return tuple(_rule(data) for data in held["rules"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


def write(root: Path | None = None) -> Path:
    """Makes the tables of rules and data files anew, each whole or not at all. Raises RuleFault for a wrong rule."""
    from planlang.checking.rulebook import load_packs, pack_folders
    from planlang.model.catalogue import write_tables

    root = root or folder("rules")
    write_tables(root)
    rules = load_packs(pack_folders(root))
    text = json.dumps({"digest": digest(root), "rules": [_data(rule) for rule in rules]}, separators=(",", ":"))
    target = root / TABLE
    beside = target.with_suffix(".new")
    beside.write_text(text, "utf-8")
    beside.replace(target)
    return target


def _data(value: Any) -> Any:
    """A rule's parts as JSON has them: fractions as text, classes as lists in the order of their fields."""
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, (frozenset, set)):
        return sorted(value)
    if isinstance(value, (list, tuple)):
        return [_data(item) for item in value]
    if hasattr(type(value), "__attrs_attrs__"):
        return [_data(getattr(value, name)) for name in fields_dict(type(value))]
    return value


def _tuples(value: Any) -> Any:
    return tuple(_tuples(item) for item in value) if isinstance(value, list) else value


def _rule(data: list[Any]) -> Rule:
    parts = dict(zip(fields_dict(Rule), data, strict=True))
    parts |= {
        "level": Level(parts["level"]),
        "cases": tuple(Case(*case) for case in parts["cases"]),
        "spoken": tuple(Spoken(s[0], s[1], _tuples(s[2]), *s[3:]) for s in parts["spoken"]),
        "sources": tuple(Ground(*ground) for ground in parts["sources"]),
        "applies": _applies(parts["applies"]),
        "settings": tuple(_setting(s) for s in parts["settings"]),
        "words": _tuples(parts["words"]),
        "asks": frozenset(parts["asks"]),
        **{name: tuple(parts[name]) for name in ("gives_way_to", "aliases", "flagged", "clean")},
    }
    return Rule(**parts)


def _applies(data: list[Any]) -> Applies:
    conditions, operations, from_age, below_age, files = data
    return Applies(tuple(conditions), tuple(operations), from_age, below_age, tuple(files))


def _setting(data: list[Any]) -> Setting:
    name, value, unit, least, most, means = data
    return Setting(name, Fraction(value), unit, Fraction(least), Fraction(most), means)


def overdue(rules: Iterable[Rule], today: date, months: int = 24) -> list[Rule]:
    """The rules whose sources were last read longer ago than that."""
    last = date(today.year - months // 12, today.month, min(today.day, 28))
    return [rule for rule in rules if date.fromisoformat(rule.reviewed) < last]


if __name__ == "__main__":
    print(write())
