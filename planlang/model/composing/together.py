"""A plan put together from its own file, its template and its libraries, step by step."""

from __future__ import annotations

from collections.abc import Iterable

from planlang.model.composing.body import Body, Out
from planlang.model.composing.composed import Composed, Piece
from planlang.model.composing.expand import Expansion, View
from planlang.model.composing.expression import Expr
from planlang.model.composing.files import Files, NotOpened
from planlang.model.composing.filling import Filled
from planlang.model.composing.fills import fillings
from planlang.model.composing.libraries import with_libraries
from planlang.model.composing.library import Library, library, template
from planlang.model.composing.merge import merged
from planlang.model.composing.saying import Findings, called
from planlang.model.composing.sheet import DIRECTIVES, Line, Sheet, sheet
from planlang.text.data import define
from planlang.text.finding import Related
from planlang.text.source import Source, Span

MOST_DEEP = 4
"""A plan has a template, which may have one, and so on: no more than so many."""


def put_together(source: Source, files: Files | None) -> Composed | None:
    """A plan with what its template and libraries say; None where it is by itself after all."""
    own = sheet(source)
    if own.kind != "plan" or own.head is None or not _is_composed(own):
        return None
    return Composing(files, Expansion(Findings(source))).plan(own, {})


def _is_composed(own: Sheet) -> bool:
    return bool(own.lines(*DIRECTIVES, "ladder")) or any(section.change for section in own.sections)


@define
class Composing:
    """One plan being put together."""

    files: Files | None
    making: Expansion

    def plan(self, own: Sheet, filled: dict[str, Filled]) -> Composed:
        """The whole of it, as one text."""
        body = self.body(own, View(), filled, (own.source,))
        with_libraries(body, self.making)
        return composed(own.source, body, self.making)

    def body(self, own: Sheet, view: View, filled: dict[str, Filled], chain: tuple[Source, ...]) -> Body:
        """A file with all that it is made from."""
        libraries = self._libraries(own, view)
        body = self.making.body(own, view, filled, libraries)
        lines = own.lines("from_template")
        base = self._template(own, lines, view, filled, chain) if lines else None
        unread = own.unread("from", "use")
        if base is None:
            self._without_template(own, view, missing=bool(lines or unread))
        if unread or (lines and base is None):
            self.making.missing.add("?")
        if base is None:
            return body if view.own else _alone(body)
        return merged(base, body, self.making.findings)

    def _template(
        self, own: Sheet, lines: list[Line], view: View, filled: dict[str, Filled], chain: tuple[Source, ...]
    ) -> Body | None:
        """What the template that a file names says, with its blanks filled."""
        findings = self.making.findings
        line = lines[0]
        assert line.statement is not None
        place = view.via or line.words
        for other in lines[1:]:
            findings.contradicts(
                "A plan is made from one template, and here is a second.",
                view.via or other.words,
                "Keep one of the two lines; a template may itself be made from another.",
                (Related("the other is here", line.words, own.source),),
            )
        here = () if view.own else (Related("the template says it here", line.words, own.source),)
        found = self._open(line.statement.text(), own.source)
        if isinstance(found, NotOpened):
            findings.not_opened(found, place)
            return None
        if found in chain:
            round_about = " to ".join(f'"{called(one)}"' for one in (*chain[chain.index(found) :], found))
            findings.cannot_read(f"Templates lead in a circle: {round_about}.", place, "Take one of them out.", here)
            return None
        if len(chain) > MOST_DEEP - self.making.instance:  # a template is itself the first of them
            findings.cannot_read(
                f"Templates made from templates go {MOST_DEEP} deep at most, and this is deeper.",
                place,
                "Put two of them together.",
                here,
            )
            return None
        base = template(found)
        if base is None:
            findings.cannot_read(
                f'"{called(found)}" is no template.', place, 'A template begins with a line: template "Knee base"', here
            )
            return None
        return self.body(base, View(place), fillings(own, base, view, filled, place, self.making), (*chain, found))

    def _open(self, name: str, beside: Source) -> Source | NotOpened:
        if self.files is None:
            return NotOpened(f'"{name}" is not looked for here', "Save the plan as a file beside what it names.")
        return self.files.open(name, beside)

    def _libraries(self, own: Sheet, view: View) -> tuple[Library, ...]:
        made: list[Library] = []
        for line in own.lines("use_library"):
            assert line.statement is not None
            found = self._open(line.statement.text(), own.source)
            place = view.via or line.words
            if isinstance(found, NotOpened):
                self.making.findings.not_opened(found, place)
                self.making.missing.add("?")
                continue
            one = library(found)
            if one is None:
                self.making.findings.cannot_read(
                    f'"{called(found)}" is no library.',
                    place,
                    'A library begins with a line: library "Clinic exercises"',
                )
                self.making.missing.add("?")
            elif one not in made:
                made.append(one)
        return tuple(made)

    def _without_template(self, own: Sheet, view: View, missing: bool) -> None:
        """Says of what would fill, change or leave out something of a template that there is none."""
        if missing or not view.own:
            return
        kind = "template" if self.making.instance else "plan"
        lines = own.lines("fill", "leave_block")
        lines += [section.header for section in own.sections if section.change and section.header]
        for line in lines:
            self.making.findings.cannot_read(
                f"`{own.said(line)}`: this {kind} names no template.",
                line.words,
                f'Name it under `{kind}`: from template "knee-base.plan"',
            )


def _alone(body: Body) -> Body:
    """A template's body without what changes or leaves out nothing."""
    for block in (body.head, *body.blocks):
        block.lines = [line for line in block.lines if line.name != "leave_block"]
    return Body(body.before, body.head, [b for b in body.blocks if not b.change], body.libraries)


def composed(own: Source, body: Body, making: Expansion) -> Composed:
    """The one text."""
    outs = [*body.before, *((body.head.header,) if body.head.header else ()), *body.head.lines]
    for block in body.blocks:
        outs += [block.header, *block.lines] if block.header else block.lines
    outs += body.tail
    pieces = tuple(piece for out in outs for piece in _with_header(out, making))
    text = "".join(piece.text for piece in pieces)
    known = tuple(dict.fromkeys(name for one in body.libraries for name in one.exercises))
    found = tuple(making.findings.found.values())
    return Composed(own.name, text, own, pieces, _symbols(pieces), frozenset(making.missing), known, found)


def _with_header(out: Out, making: Expansion) -> tuple[Piece, ...]:
    """A line's pieces; the header of a template read as a plan says `plan`, and when that begins."""
    if out.name != "template" or not making.instance or not out.own:
        return out.pieces
    first, *rest = out.pieces
    text = first.text
    start = len(text) - len(text.lstrip(" \t\ufeff"))
    word = Span(first.span.start + start, first.span.start + start + len("template"))
    behind = Span(word.end, first.span.end)
    made = (
        Piece("plan", first.source, word, word, same=False),
        Piece(text[start + len("template") :], first.source, behind, behind),
        *rest,
    )
    if making.starts is None:
        return made
    return (*made, Piece(f"  starts {making.starts.isoformat()}\n", first.source, word, word, same=False))


def _symbols(pieces: Iterable[Piece]) -> dict[int, Expr]:
    made: dict[int, Expr] = {}
    at = 0
    for piece in pieces:
        if piece.expr is not None:
            made[at] = piece.expr
        at += len(piece.text)
    return made
