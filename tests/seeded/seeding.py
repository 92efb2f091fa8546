"""Faults as data: clean plans, the edits that put one fault into each, and the findings that come of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import yaml
from attrs import field, frozen

from planlang.checking.beside import InTexts
from planlang.checking.check import Checked, check
from planlang.checking.clinic import rulebook
from planlang.checking.engine import Flagged, run
from planlang.checking.facts.registry import Facts
from planlang.checking.rulebook import Rulebook, assembled, built_in_rules
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.text.finding import Finding, Level
from planlang.text.source import Source, Span

HERE = Path(__file__).parent
EXAMPLES = HERE.parents[1] / "examples"
FAILING = frozenset({Level.UNSAFE, Level.UNREALISTIC})
CONTACTS = {"emergency": "112", "same-day": "the duty clinic", "clinic": "the desk, weekdays 8 to 17"}
TEXT = re.compile(r'"[^"\n]*"|[ \t]+')


@frozen
class Seed:
    """One fault. Each edit is (old, new) in the squeezed text; `old` stands there once, or is "" to add at the end.

    `at`: words that stand on the line to be underlined, where that is not an edited one. `also`: companions of the
    failing levels, each with its reason. `beside`: further files by name. `today`: the day that dates are judged by.
    """

    fault: str
    plan: str
    edit: tuple[tuple[str, str], ...]
    brings: str
    at: str = ""
    also: Mapping[str, str] = field(factory=dict)
    beside: Mapping[str, str] = field(factory=dict)
    contacts: Mapping[str, str] = field(factory=lambda: CONTACTS)
    today: date | None = None


def squeezed(text: str) -> str:
    """The text without indents, empty lines and columns: one space between words; quotes as they are."""
    lines = (TEXT.sub(lambda m: m[0] if m[0][0] == '"' else " ", line).strip() for line in text.splitlines())
    return "".join(f"{line}\n" for line in lines if line)


@cache
def plans() -> dict[str, str]:
    """The clean plans by short name: of examples/people those whole in themselves, and those beside this file."""
    found = {path.stem.split("-", 1)[1]: path for path in sorted((EXAMPLES / "people").glob("*.plan"))}
    found |= {path.stem: path for path in sorted((HERE / "plans").glob("*.plan"))}
    texts = {name: path.read_text("utf-8") for name, path in found.items()}
    return {name: squeezed(text) for name, text in texts.items() if "from template" not in text}


def table(path: Path) -> list[dict[str, Any]]:
    """The rows of a YAML file."""
    rows = yaml.safe_load(path.read_text("utf-8"))
    assert isinstance(rows, list), path
    return rows


@cache
def rules() -> Rulebook:
    """The built-in rules, unchanged; measures and conditions of the example clinic are known too."""
    return assembled(built_in_rules(), catalogue=rulebook(EXAMPLES / "clinic.yaml")[0].catalogue)


@cache
def seeds() -> tuple[Seed, ...]:
    """Every row of the tables of faults."""
    rows = [row for path in sorted((HERE / "faults").glob("*.yaml")) for row in table(path)]
    return tuple(Seed(**{**row, "edit": tuple((old, new) for old, new in row["edit"])}) for row in rows)


def edited(text: str, edits: Iterable[tuple[str, str]]) -> tuple[str, set[int]]:
    """The text with the edits, and the lines (from 1) that they touched; of a line taken out, its neighbours."""
    touched: list[Span] = []
    for old, new in edits:
        assert text.count(old) == 1 or not old, f"{text.count(old)} times in the plan: {old!r}"
        start = text.index(old) if old else len(text)
        moved = len(new) - len(old)
        touched = [Span(s.start + moved, s.end + moved) if s.start > start else s for s in touched]
        touched.append(Span(start, start + len(new)))
        text = text[:start] + new + text[start + len(old) :]
    lines: set[int] = set()
    for span in touched:
        first = text.count("\n", 0, span.start) + 1
        last = text.count("\n", 0, max(span.start, span.end - 1)) + 1
        lines |= set(range(first, last + 1)) if span.end > span.start else {first - 1, first}
    return text, lines


def checked(
    name: str,
    text: str,
    book: Rulebook,
    others: Mapping[str, str] | None = None,
    contacts: Mapping[str, str] = CONTACTS,
    today: date | None = None,
) -> Checked:
    """A text with what is found in it; a clean plan that it continues stands beside it."""
    texts = {**beside(text), **(others or {})}
    return check(Source(f"{name}.plan", text), book, today=today, beside=InTexts(texts), contacts=contacts)


def flagged(seed: Seed, book: Rulebook) -> list[Flagged]:
    """What the rules alone find of a fault, each finding with the case of its rule; nothing where no plan is read."""
    plan, _ = read_plan(Source(f"{seed.plan}.plan", edited(plans()[seed.plan], seed.edit)[0]), book.catalogue)
    if plan is None:
        return []
    texts = {**beside(plans()[seed.plan]), **seed.beside}
    return run(book, Facts(plan, reckon(plan), seed.today, InTexts(texts), seed.contacts))[0]


def beside(text: str) -> dict[str, str]:
    """The clean plan that a text continues, as a file."""
    return {f"{other}.plan": plans()[other] for other in plans() if f'continues "{other}.plan"' in text}


def sown(seed: Seed, book: Rulebook) -> tuple[Checked, set[int]]:
    """What is found of a fault put into its plan, and the lines that it touched."""
    text, lines = edited(plans()[seed.plan], seed.edit)
    return checked(seed.plan, text, book, seed.beside, seed.contacts, seed.today), lines


def lines_of(finding: Finding, source: Source) -> set[int]:
    """The lines that a finding underlines or points at."""
    places = [finding.span, *(related.span for related in finding.related)]
    found: set[int] = set()
    for place in (source.place(span) for span in places if span is not None):
        found |= set(range(place.line, place.end_line + 1))
    return found


def failing(findings: Iterable[Finding]) -> list[Finding]:
    """Those of the levels that fail a check."""
    return [finding for finding in findings if finding.level in FAILING and finding.waived is None]
