"""Quick fixes: the word that was most likely meant, and what makes a plan hold."""

from __future__ import annotations

import re
from collections.abc import Callable

from planlang.checking.file import check_text
from planlang.editor.document import Document
from planlang.model.composing.compose import compose
from planlang.model.composing.composed import Composed
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.leeway.frame import can_be_reckoned
from planlang.planning.mend.edits import Edits
from planlang.planning.mend.own_file import in_own_file
from planlang.planning.mend.search import proposals
from planlang.syntax.tidy import tidy
from planlang.text.data import frozen
from planlang.text.finding import Finding
from planlang.text.source import Source, Span

_MEANT = re.compile(r'^Did you mean "([^"]+)"\?')


class Stale(Exception):
    """The text has changed while something was worked out for it."""


@frozen
class Fix:
    """A change of the file's own text. `rule`: what it mends; `line`, from 1: where it is offered."""

    title: str
    edits: tuple[tuple[Span, str], ...]
    rule: str
    line: int


def meant(document: Document, finding: Finding) -> Fix | None:
    """The word that was most likely meant, put in the place of the one that can't be read."""
    match = _MEANT.match(finding.advice)
    if match is None or finding.span is None or finding.source is not document.source:
        return None
    text = document.source.text[finding.span.start : finding.span.end]
    if not text.strip() or "\n" in text or text.startswith('"'):
        return None
    span = _first_words(text, match.group(1), finding.span)
    line = document.source.line_of(span.start)
    return Fix(f'Write "{match.group(1)}"', ((span, match.group(1)),), finding.rule, line)


def _first_words(text: str, put: str, span: Span) -> Span:
    """As many words of what can't be read as stand for what was meant: the rest of the line is kept."""
    count = len(put.split())
    end = 0
    for found in list(re.finditer(r"\S+", text))[:count]:
        end = found.end()
    return Span(span.start, span.start + end)


def fixes(document: Document) -> list[Fix]:
    """What can be offered at once: every word that was most likely meant, in what the check has found."""
    made = (meant(document, finding) for finding in document.found)
    return [one for one in made if one is not None]


def mends(document: Document, current: Callable[[], bool]) -> list[Fix]:
    """The proposals of `mend` that ask no more of the person, each as a draft. Raises Stale once it isn't current.

    Each is proved by the whole check of the changed plan, so this takes as long as many checks do.
    """
    checked = document.checked
    whole = checked.source if isinstance(checked.source, Composed) else None

    def prove(text: str) -> tuple[Finding, ...]:
        if not current():
            raise Stale
        return check_text(Source(document.source.name, text), document.run, document.path).findings

    def reads(source: Source) -> Plan | None:
        files = document.run.folders.library(document.run.root(document.path)) if document.path else None
        return read_plan(compose(source, files)[0], document.catalogue)[0]

    if whole is not None:
        checked = check_text(whole.flat, document.run, document.path)
    plan = checked.plan
    if document.kind != "plan" or plan is None or not can_be_reckoned(plan):
        return []
    found = proposals(plan, checked.findings, prove)
    if whole is not None:
        found, _ = in_own_file(found, whole, reads)
        plan = read_plan(whole.own, plan.catalogue)[0] or plan
    made = []
    for one in found:
        edits: Edits = one.all_edits(plan)
        line = document.source.line_of(min(edit.span.start for edit in one.edits))
        title = f"{one.kind}: {one.after} (a draft until somebody signs it)"
        rule = one.rule or "target-out-of-reach"
        made.append(Fix(title, tuple((edit.span, edit.text) for edit in edits), rule, line))
    return made


def tidied(document: Document) -> str | None:
    """The tidy text, or None where it is tidy already."""
    made = tidy(document.source)
    return made.text if made.text != document.source.text else None
