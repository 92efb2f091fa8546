"""Proof by the whole lint: what was found is gone, and nothing new is found."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable

from attrs import field

from planlang.model.plan import Plan
from planlang.planning.mend.edits import Edits, applied, before, draft
from planlang.text.data import define
from planlang.text.finding import Finding
from planlang.text.source import Source

Prove = Callable[[str], Iterable[Finding]]
Key = tuple[str, int]
MOST = 200
DRAFTS_OWN = "state-draft"
_HEADER = re.compile(r"\s*(plan|screening|today|goal|target|rest|pain|exercise|activity|session)\b")


class NoMoreProofs(Exception):
    """The lints that one search may take are used up."""


@define
class Lints:
    """The findings of changed texts, each text linted once. `prove` gives a text's findings; `count`: lints so far.

    A finding is known again by its rule, and by the line or the block that it stood in before.
    """

    plan: Plan
    findings: tuple[Finding, ...]
    prove: Prove
    most: int = MOST
    count: int = 0
    _found: dict[str, list[tuple[Finding, Edits]]] = field(factory=dict)
    _old: Counter[Key] = field(init=False)

    def __attrs_post_init__(self) -> None:
        self._old = Counter(self._key(finding, ()) for finding in self.findings)

    def gone(self, edits: Edits, finding: Finding) -> bool:
        """True where the change leaves no finding of this rule on its line."""
        line = self._line(finding, ())
        return all(found.rule != finding.rule or self._line(found, made) != line for found, made in self._after(edits))

    def brings_nothing_new(self, edits: Edits) -> bool:
        """True where no block has more findings of a rule than before, the draft's own aside."""
        after = Counter(self._key(found, made) for found, made in self._after(edits) if found.rule != DRAFTS_OWN)
        return all(count <= self._old[key] for key, count in after.items())

    def accepts(self, edits: Edits) -> bool:
        """True where no finding stands on a line that the change touches: the rules have nothing against it."""
        lines = {self.plan.source.line_of(edit.span.start) for edit in edits}
        return all(
            found.rule == DRAFTS_OWN or found.span is None or self._line(found, made) not in lines
            for found, made in self._after(edits)
        )

    def _after(self, edits: Edits) -> list[tuple[Finding, Edits]]:
        everything = (*edits, *draft(self.plan))
        text = applied(self.plan.source.text, everything)
        if text not in self._found:
            if self.count >= self.most:
                raise NoMoreProofs
            self.count += 1
            self._found[text] = [(finding, everything) for finding in self.prove(text)]
        return self._found[text]

    def _line(self, finding: Finding, edits: Edits) -> int:
        """The line of the text as it was that a finding stands on; 0 for the whole."""
        return self.plan.source.line_of(before(edits, finding.span.start)) if finding.span else 0

    def _key(self, finding: Finding, edits: Edits) -> Key:
        if finding.span is None:
            return finding.rule, 0
        return finding.rule, block_line(self.plan.source, before(edits, finding.span.start))


def block_line(source: Source, offset: int) -> int:
    """The number of the header line of the block that an offset stands in; 1 before the first."""
    for number in range(source.line_of(offset), 0, -1):
        if _HEADER.match(source.line(number)):
            return number
    return 1
