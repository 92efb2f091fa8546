"""A rule's own examples, run: each flagged plan must be flagged by it on the marked lines, each clean one must not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from planlang.checking.beside import InTexts
from planlang.checking.check import check
from planlang.checking.diary_check import check_diary
from planlang.checking.engine import Flagged, run
from planlang.checking.facts.registry import Facts, Registry
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook
from planlang.model.known import Catalogue
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.text.data import frozen
from planlang.text.finding import Finding
from planlang.text.source import Source
from planlang.text.strict_yaml import read_yaml

MARK = "# flagged"
CLINIC = "clinic.yaml"
_TODAY = re.compile(r"^# today: (\d{4}-\d{2}-\d{2})$", re.MULTILINE)
_BESIDE = re.compile(r"^# beside: (\S+)\n", re.MULTILINE)


@frozen
class Failure:
    """An example that did not do what it is there for."""

    rule: str
    kind: str
    number: int
    message: str

    def __str__(self) -> str:
        return f"{self.rule}, {self.kind} example {self.number}: {self.message}"


def run_examples(rule: Rule, book: Rulebook) -> Iterator[Failure]:
    """Every example of a rule that fails. The rule runs as it was written, whatever a clinic changes."""
    for kind, texts in (("flagged", rule.flagged), ("clean", rule.clean)):
        for number, text in enumerate(texts, 1):
            message = _judge(rule, kind, Source(f"{rule.name}, {kind} {number}", text), book)
            if message:
                yield Failure(rule.name, kind, number, message)


def findings_of(rule: Rule, text: str, registry: Registry, catalogue: Catalogue) -> list[Flagged]:
    """What a rule by itself finds in one of its examples."""
    source, beside = _apart(Source(rule.name, text))
    plan, _ = read_plan(source, catalogue)
    if _kind(source.text) == "diary":
        return _of_diary(rule, source, beside, registry, catalogue)
    if plan is None:
        return []
    facts = Facts(plan, reckon(plan), None, beside, _contacts(beside))
    return run(Rulebook((rule,), registry, catalogue=catalogue), facts, _kind(source.text))[0]


def _of_diary(rule: Rule, source: Source, beside: InTexts, registry: Registry, catalogue: Catalogue) -> list[Flagged]:
    book = Rulebook((rule,), registry, catalogue=catalogue)
    past = check_diary(source, book, _today(source), beside, _contacts(beside), beside.files).past
    if past is None:
        return []
    return run(book, Facts(past.plan, past.weeks, past.as_of, beside, _contacts(beside), past=past), "diary")[0]


def _today(source: Source) -> date | None:
    """The day of an example's `# today: 2027-05-01`; else None."""
    found = _TODAY.search(source.text)
    return date.fromisoformat(found[1]) if found else None


def _judge(rule: Rule, kind: str, source: Source, book: Rulebook) -> str | None:
    source, beside = _apart(source)
    checked = check(
        source,
        book,
        _today(source),
        kind=_kind(source.text),
        beside=beside,
        contacts=_contacts(beside),
        files=beside.files,
    )
    bad = [f for f in checked.findings if f.rule in ("unreadable", "contradiction")]
    if bad:
        return f"line {_line(bad[0], source)} of it can't be read: {bad[0].message}"
    mine = [f for f in checked.findings if f.rule == rule.name]
    if kind == "clean":
        return f"it is flagged on line {_line(mine[0], source)}: {mine[0].message}" if mine else None
    if not mine:
        return "it is not flagged"
    marked = sorted(n for n in range(1, len(source.line_starts) + 1) if MARK in source.line(n))
    lines = sorted({_line(f, source) for f in mine})
    if marked and lines != marked:
        return f"it is flagged on line {_listed(lines)}, and the mark stands on line {_listed(marked)}"
    return None


def _apart(source: Source) -> tuple[Source, InTexts]:
    """The example's own text, and the texts after a line `# beside: autumn.plan` as files beside it."""
    own, *others = _BESIDE.split(source.text)
    return Source(source.name, own), InTexts(dict(zip(others[::2], others[1::2], strict=True)))


def _contacts(beside: InTexts) -> dict[str, str] | None:
    """The contacts of a `clinic.yaml` among the texts beside an example; None where there is none."""
    if CLINIC not in beside.texts:
        return None
    document = read_yaml(Source(CLINIC, beside.texts[CLINIC]))
    value = None if isinstance(document, Finding) else document.value
    return dict(value.get("contacts", {})) if isinstance(value, dict) else {}


def _listed(lines: list[int]) -> str:
    return ", ".join(map(str, lines))


def _line(finding: Finding, source: Source) -> int:
    return source.place(finding.span).line if finding.span else 0


def _kind(text: str) -> str:
    first = next((line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")), "")
    word = first.split(None, 1)[0] if first else "plan"
    return word if word in ("template", "library", "diary") else "plan"
