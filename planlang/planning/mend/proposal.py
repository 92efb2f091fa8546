"""A proposal: one change, what it is for, and how the lines read before and after."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.model.plan import Plan
from planlang.planning.mend.edits import Edit, Edits, applied, draft
from planlang.text.data import frozen
from planlang.text.source import Source, Span


@frozen
class Proposal:
    """One change. kind: what it changes; harder: it asks more of the person; target or rule: what it mends.

    edits: the change itself; `state draft` comes with it in `all_edits`. before, after: the changed lines.
    """

    kind: str
    harder: bool
    edits: Edits
    before: str
    after: str
    target: str | None = None
    rule: str | None = None

    def all_edits(self, plan: Plan) -> Edits:
        """The change and the draft's own line, in the order of the text."""
        return tuple(sorted((*self.edits, *draft(plan)), key=lambda e: (e.span.start, e.span.end)))


def proposal(
    source: Source, kind: str, edits: Edits, harder: bool = False, target: str | None = None, rule: str | None = None
) -> Proposal:
    """A proposal with its lines before and after, comments left out."""
    before, after = zip(*_lines(source, edits), strict=True)
    return Proposal(kind, harder, edits, _together(before), _together(after), target, rule)


def _together(lines: tuple[str, ...]) -> str:
    return "; ".join(line for line in lines if line)


def _lines(source: Source, edits: Edits) -> Iterator[tuple[str, str]]:
    """Each line that is changed, as it reads before and after; a new line has no before."""
    by_line: dict[int, list[Edit]] = {}
    for edit in edits:
        by_line.setdefault(source.line_of(edit.span.start), []).append(edit)
    for number, here in sorted(by_line.items()):
        first = source.line_starts[number - 1]
        line = source.line(number)
        new = [e for e in here if "\n" in e.text]
        changed = [Edit(Span(e.span.start - first, e.span.end - first), e.text) for e in here if e not in new]
        if changed:
            yield _said(line), _said(applied(line, changed))
        for edit in new:
            yield "", "; ".join(_said(words) for words in edit.text.splitlines() if words.strip())


def _said(line: str) -> str:
    """A line's statement: one space between words, no comment."""
    kept, quoted = "", False
    for char in line:
        if char == '"':
            quoted = not quoted
        if char == "#" and not quoted:
            break
        kept += char
    parts = kept.split('"')
    return '"'.join(part if i % 2 else _spaced(part) for i, part in enumerate(parts)).strip()


def _spaced(part: str) -> str:
    """Runs of space as one; a space at either end is kept."""
    words = " ".join(part.split())
    return f"{' ' if part[:1].isspace() else ''}{words}{' ' if words and part[-1:].isspace() else ''}"
