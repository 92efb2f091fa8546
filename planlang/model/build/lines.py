"""The lines of one block by name; a line that may stand once and stands twice is a contradiction."""

from __future__ import annotations

from attrs import field

from planlang.model.build.context import Context
from planlang.syntax.blocks import Block
from planlang.syntax.nodes import Statement
from planlang.text.data import define
from planlang.text.source import Span

_MANY = (
    "baseline then has base tested limits operation weight_bearing joints pause_while kit days instead instead_session "
    "visit still_do tell_us_if return_lower changed with_whom works tags away weights leave "
    "blank fill from_template use_library leave_block"  # put together, and looked at, before a plan is read
)
MANY = frozenset(_MANY.split())
"""Statements that may stand more than once in a block."""

_HARMLESS = (
    "zone language revision because confidence how careful hold_on kind place cue if_not_done by_staff state last_done "
    "continues spare_empty score after"
)
HARMLESS = frozenset(_HARMLESS.split())
"""Statements in which saying two things is a slip, not a danger."""

EITHER = (
    ("starts", "starts_after"),
    ("still_do", "still_nothing"),
    ("rise", "progress", "progress_deed", "stay"),
    ("rise", "then"),
    ("start_after", "start_reach"),
    ("reach", "keep", "do_once"),
    ("at_most", "at_most_above"),
)
"""Statements of which a block may hold only one kind."""


@define
class Lines:
    """A block's statements. `places` gives the first place of each name."""

    block: Block
    context: Context
    places: dict[str, Span] = field(factory=dict)
    _by_name: dict[str, list[Statement]] = field(factory=dict)

    def __attrs_post_init__(self) -> None:
        for line in self.block.lines:
            self._by_name.setdefault(line.name, []).append(line)
            self.places.setdefault(line.name, line.span)
        for name, found in self._by_name.items():
            if len(found) > 1 and name not in MANY:
                self._twice(name, found)
        for names in EITHER:
            self._either(names)

    def _twice(self, name: str, found: list[Statement]) -> None:
        word = str(found[0].tokens[0])
        for other in found[1:]:
            same = other == found[0]
            self.context.contradicts(
                f"`{word}` is said twice here{'' if same else ', with different words'}.",
                other.span,
                "Keep one of the two lines.",
                first=found[0].span,
                harmful=not same and name not in HARMLESS,
            )

    def _either(self, names: tuple[str, ...]) -> None:
        there = [n for n in names if n in self._by_name]
        if len(there) > 1:
            first, second = (self._by_name[n][0] for n in there[:2])
            if second.span < first.span:
                first, second = second, first
            self.context.contradicts(
                f"`{_words(first)}` and `{_words(second)}` can't both hold here.",
                second.span,
                "Keep one of the two lines.",
                first=first.span,
            )

    def one(self, name: str) -> Statement | None:
        """The first line of this name."""
        found = self._by_name.get(name)
        return found[0] if found else None

    def many(self, *names: str) -> list[Statement]:
        """All lines of these names, in the order of the text."""
        return [line for line in self.block.lines if line.name in names]

    def text(self, name: str) -> str | None:
        """The quoted text of a line that is one word and a text."""
        line = self.one(name)
        return line.text() if line else None


def _words(line: Statement) -> str:
    return " ".join(str(t) for t in line.tokens[:2])
