"""Quick fixes: the word that was most likely meant, and what makes a plan hold."""

from __future__ import annotations

import re
from collections.abc import Callable
from difflib import SequenceMatcher

from planlang.checking.file import check_text
from planlang.editor.document import Document
from planlang.model import catalogue
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
_WORDS = re.compile(r'[^\s,;"]+')
LIKE = 0.6
"""How like two words are that one is a slip of: 1 for the same."""
LONGEST = 500


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
    place = _own(document, finding)
    if match is None or place is None:
        return None
    put = match.group(1)
    span = _most_like(document.source.text[place.start : place.end], put, place.start)
    if span is None:
        return None
    return Fix(f'Write "{put}"', ((span, put),), finding.rule, document.source.line_of(span.start))


def _own(document: Document, finding: Finding) -> Span | None:
    """Where this very file says what a finding is about; None where another one does."""
    if finding.span is None or finding.source is None:
        return None
    if isinstance(finding.source, Composed):
        return finding.source.own_span(finding.span)
    same = finding.source.name == document.source.name and finding.source.text == document.source.text
    return finding.span if same else None


def _most_like(text: str, put: str, start: int) -> Span | None:
    """The words of a text that are most like those to be put there, as many as they are; None where none are like them.

    A finding may stand under a whole line, of which one word is meant.
    """
    words = list(_WORDS.finditer(text[:LONGEST]))
    count = len(put.split())
    runs = [(words[i].start(), words[i + count - 1].end()) for i in range(len(words) - count + 1)]
    rated = [
        (SequenceMatcher(None, text[a:b].lower(), put.lower()).ratio(), -a, b) for a, b in runs if text[a:b] != put
    ]
    best = max(rated, default=(0.0, 0, 0))
    return Span(start - best[1], start + best[2]) if best[0] >= LIKE else None


def fixes(document: Document) -> list[Fix]:
    """What can be offered at once: every word that was most likely meant, in what the check has found."""
    found = (meant(document, finding) for finding in document.found)
    made = [one for one in found if one is not None]
    wrong = {document.source.text[span.start : span.end] for one in made for span, _ in one.edits}
    # Where one slip is in two places, each may be taken for what was meant by the other.
    known = document.catalogue
    words = {*known.measures, *known.conditions, *catalogue.kinds(), *catalogue.muscles()}
    return [one for one in made if not any(put in wrong - words for _, put in one.edits)]


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
