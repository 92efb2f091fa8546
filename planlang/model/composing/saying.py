"""Findings of the putting together: each has a place in the plan's own file, and names the template's beside it."""

from __future__ import annotations

from collections.abc import Callable

from attrs import evolve, field

from planlang.model.composing.files import NotOpened
from planlang.text.data import define
from planlang.text.finding import Finding, Related, contradiction, unreadable, unreckonable
from planlang.text.source import Source, Span

MOST = 300
"""Findings of one putting together; a text in which more is wrong is mended from the top."""
MOST_MEANT = 20
"""For how many words that are not known it is asked what was meant: each is compared with all that are."""


def called(source: Source) -> str:
    """A file's name without its folders."""
    return source.name.replace("\\", "/").rpartition("/")[2]


@define
class Findings:
    """What was found, each once; spans are those of the plan's own file."""

    own: Source
    found: dict[tuple[str, Span, str], Finding] = field(factory=dict)
    asked: int = 0

    def _add(self, finding: Finding) -> None:
        assert finding.span is not None
        key = finding.rule, finding.span, finding.message
        if len(self.found) < MOST or key in self.found:
            self.found.setdefault(key, finding)
        elif len(self.found) == MOST:
            more = unreadable("More is wrong here than is told.", finding.span, self.own, "Mend the first ones first.")
            self.found[more.rule, finding.span, more.message] = more

    def cannot_read(
        self, message: str, span: Span, help: str | Callable[[], str] = "", related: tuple[Related, ...] = ()
    ) -> None:
        """Something that can't be put together; nothing goes to the person."""
        self._add(evolve(unreadable(message, span, self.own, help), related=related))

    def contradicts(
        self, message: str, span: Span, help: str = "", related: tuple[Related, ...] = (), harmful: bool = True
    ) -> None:
        """Two things that can't both hold."""
        self._add(contradiction(message, span, self.own, help, related, harmful))

    def incomplete(self, message: str, span: Span, help: str = "", related: tuple[Related, ...] = ()) -> None:
        """Something that is not said."""
        self._add(evolve(unreckonable(message, span, self.own, help), related=related))

    def not_opened(self, file: NotOpened, span: Span) -> None:
        """A file that can't be had."""
        related: tuple[Related, ...] = ()
        if file.finding is not None and file.finding.span is not None:
            related = (Related("it is here", file.finding.span, file.finding.source),)
        why = f"{file.why[0].upper()}{file.why[1:]}."
        self.cannot_read(why, span, file.help, related)

    def meant(self) -> bool:
        """Whether it may still be asked what was meant."""
        self.asked += 1
        return self.asked <= MOST_MEANT
