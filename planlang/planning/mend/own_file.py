"""Proposals for a plan that is put together from several files: only its own file is changed.

What a template or library says is other people's too, so a change of it is said in the plan itself, under `change`;
and only where the plan that comes of it is the very one that was proved.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from attrs import evolve, field

from planlang.model.build.lines import MANY
from planlang.model.composing.composed import Composed
from planlang.model.composing.ladder_part import LADDER
from planlang.model.composing.sheet import Line, Section, Sheet, sheet
from planlang.model.plan import Plan
from planlang.planning.mend.edits import Edit, Edits, applied, newline
from planlang.planning.mend.proposal import Proposal
from planlang.syntax.statements import ANYWHERE, FORMS
from planlang.text.data import define
from planlang.text.source import Source, Span

Reads = Callable[[Source], Plan | None]
"""The plan of a text, put together with what it names."""
NAMED = ("exercise", "activity", "session", "target")
ALONE = ("goal", "rest", "pain", "plan")
_WHOLE_LADDER = LADDER - {"rise"} | {"ladder"}


def in_own_file(found: Iterable[Proposal], source: Composed, reads: Reads) -> tuple[tuple[Proposal, ...], int]:
    """The proposals as changes of the plan's own file, at their places there; how many can't be.

    What is given has its places in the composed text.
    """
    own = _OwnFile(source, reads)
    made = [(one, own.edits(one.edits)) for one in found]
    kept = tuple(_told(one, *edits) for one, edits in made if edits is not None)
    return kept, len(made) - len(kept)


def _told(one: Proposal, edits: Edits, headers: tuple[str, ...]) -> Proposal:
    """The proposal with the headers under which its lines stand in the plan's own file."""
    after = "; ".join((*headers, one.after)) if headers else one.after
    return evolve(one, edits=edits, after=after)


@define
class _OwnFile:
    """The plan's own file, and the composed text in lines."""

    source: Composed
    reads: Reads
    flat: Sheet = field(init=False)
    own: Sheet = field(init=False)

    def __attrs_post_init__(self) -> None:
        self.flat, self.own = sheet(self.source.flat), sheet(self.source.own)

    def edits(self, edits: Edits) -> tuple[Edits, tuple[str, ...]] | None:
        """Changes of the composed text as changes of the own file, and the headers they need; None if they can't be."""
        made: list[Edit] = []
        elsewhere: dict[str, list[str]] = {}
        for edit in edits:
            span = self.source.own_span(edit.span)
            if span is not None:
                made.append(Edit(span, edit.text))
                continue
            said = self._said(edit)
            if said is None:
                return None
            elsewhere.setdefault(said[0], []).append(said[1])
        made += [self._block(header, lines) for header, lines in elsewhere.items()]
        if elsewhere and not self._same(edits, tuple(made)):
            return None
        return tuple(made), tuple(elsewhere)

    def _same(self, edits: Edits, own: Edits) -> bool:
        """Whether the changed file says the very plan that the changed composed text says."""
        file = self.source.own
        wanted = self.reads(Source(file.name, applied(self.source.flat.text, edits)))
        return wanted is not None and self.reads(Source(file.name, applied(file.text, own))) == wanted

    def _said(self, edit: Edit) -> tuple[str, str] | None:
        """The header of the block in which a change is said, and its line; None where it can't be said so."""
        found = self._line(edit.span)
        if found is None:
            return None
        section, line = found
        header = self._header(section)
        text = self.source.flat.text
        if "\n" in edit.text:
            words = " ".join(edit.text.split())
        else:
            at = Span(edit.span.start - line.words.start, edit.span.end - line.words.start)
            words = applied(text[line.words.start : line.words.end], (Edit(at, edit.text),))
        if header is None or not _replaces(words):
            return None
        return header, words

    def _line(self, span: Span) -> tuple[Section, Line] | None:
        for section in self.flat.sections:
            for line in (*((section.header,) if section.header else ()), *section.lines):
                if line.span.start <= span.start and span.end <= line.span.end and line.name:
                    return section, line
        return None

    def _header(self, section: Section) -> str | None:
        """`change target "Hill"`, or for an exercise that only a library says, `exercise squat`."""
        if section.header is None or section.kind not in (*NAMED, *ALONE):
            return None
        words = "plan" if section.kind == "plan" else self.flat.said(section.header)
        if section.kind == "goal":
            words = "goal"
        file, _ = self.source.origin(section.header.words)
        library = section.kind in ("exercise", "activity") and sheet(file).kind == "library"
        own = self.source.own_span(section.header.words) is not None and section.kind != "plan"
        return words if library or own else f"change {words}"

    def _block(self, header: str, lines: list[str]) -> Edit:
        """The lines in the block of that header, at its place if it is there, else at the end."""
        file = self.source.own
        end = newline(file)
        for section in self.own.sections:
            if section.header is not None and self.own.said(section.header) == header:
                at = section.header.words.end
                rest = file.text.find(end, at)
                at = rest if rest >= 0 else len(file.text)
                return Edit(Span(at, at), "".join(f"{end}  {line}" for line in lines))
        at = len(file.text)
        before = end if file.text.endswith(("\n", "\r")) else end * 2
        return Edit(Span(at, at), f"{before}{header}{end}" + "".join(f"  {line}{end}" for line in lines))


def _replaces(words: str) -> bool:
    """Whether a line by itself takes the place of one that begins alike."""
    said = [line.name for line in sheet(Source("", words)).sections[0].lines]
    return len(said) == 1 and said[0] in FORMS and said[0] not in MANY | _WHOLE_LADDER and _in_a_block(said[0])


def _in_a_block(name: str) -> bool:
    return ANYWHERE not in FORMS[name].blocks or name.startswith("review")
