"""An exercise library checked: read as a plan in which everything is done, of which only the library's lines count."""

from __future__ import annotations

from datetime import date

from attrs import evolve

from planlang.checking.engine import run
from planlang.checking.facts.registry import Facts
from planlang.checking.rulebook import Rulebook
from planlang.model.composing.composed import Composed, Piece
from planlang.model.composing.sheet import Line, Section, Sheet, sheet
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.syntax.statements import ANYWHERE, FILES, FORMS, HEADERS
from planlang.text.finding import Finding, Related, contradiction, unreadable
from planlang.text.source import Source, Span

FIRST_DAY = date(2024, 1, 1)
"""A Monday; a library has no dates, so any will do."""
WEEKS = 52
_WORD = "library"
_HOLDS = ("exercise", "activity")
"""The blocks of a library."""


def library_findings(source: Source, book: Rulebook) -> tuple[Plan | None, tuple[Finding, ...], tuple[str, ...]]:
    """What a library's lines come to as a plan, what is wrong with them, and the names of the rules that ran.

    Words that aren't known, ladders that can't be reckoned, exercises that are there twice, and the rules that
    are for libraries.
    """
    read = sheet(source)
    whole = _as_plan(read)
    plan, findings = read_plan(whole, book.catalogue)
    if plan is None:
        return None, findings, ()
    weeks = reckon(plan)
    flagged, _ = run(book, Facts(plan, weeks), _WORD)
    found = [*findings, *weeks.findings, *(one.finding for one in flagged)]
    kept = [_own(finding, whole) for finding in found if _about(finding, whole)]
    names = tuple(rule.name for rule in book.in_force() if _WORD in rule.applies.files)
    return plan, (*kept, *_two_titles(read), *_of_a_plan(read)), names


def _as_plan(read: Sheet) -> Composed:
    """The library's text with the header of a plan, and a session for all of its exercises."""
    pieces: list[Piece] = []
    for section in read.sections:
        if _block_of_a_plan(section):
            continue
        if section is read.head and section.header is not None:
            pieces += _header(section, read)
        elif section.header is not None:
            pieces.append(_same(section.header.span, read))
        kept = (line for line in section.lines if section is not read.head or not _line_of_a_plan(line))
        pieces += [_same(line.span, read) for line in kept]
    end = Span(len(read.source.text), len(read.source.text))
    names = dict.fromkeys(s.key[1] for s in read.sections if s.kind == "exercise" and len(s.key) > 1)
    if names:
        text = f'\nsession "all"\n  days every day\n  do {", ".join(names)}\n'
        pieces.append(Piece(text, read.source, end, end, same=False))
    return Composed(read.source.name, "".join(piece.text for piece in pieces), read.source, tuple(pieces))


def _header(section: Section, read: Sheet) -> tuple[Piece, ...]:
    assert section.header is not None
    line, words = section.header.span, section.header.words
    word = Span(words.start, words.start + len(_WORD))
    text = f"\n  starts {FIRST_DAY.isoformat()}\n  lasts {WEEKS} weeks\n"
    return (
        _same(Span(line.start, word.start), read),
        Piece("plan", read.source, word, word, same=False),
        _same(Span(word.end, line.end), read),
        Piece(text, read.source, word, word, same=False),
    )


def _same(span: Span, read: Sheet) -> Piece:
    return Piece(read.source.text[span.start : span.end], read.source, span, span)


def _about(finding: Finding, whole: Composed) -> bool:
    """Whether a finding is about something that the library says, and not about what makes a plan of it."""
    return finding.span is not None and whole.is_own(finding.span)


def _own(finding: Finding, whole: Composed) -> Finding:
    """The finding with its places in the library's file."""
    assert finding.span is not None
    related = tuple(
        Related(one.message, whole.shown(one.span), whole.own) if one.span is not None and one.source is whole else one
        for one in finding.related
    )
    return evolve(finding, span=whole.shown(finding.span), source=whole.own, related=related)


def _block_of_a_plan(section: Section) -> bool:
    return section.header is not None and section.kind in HEADERS and section.kind not in (*FILES, *_HOLDS)


def _line_of_a_plan(line: Line) -> bool:
    form = FORMS.get(line.name)
    return form is not None and not {_WORD, ANYWHERE} & set(form.blocks)


def _of_a_plan(read: Sheet) -> tuple[Finding, ...]:
    """What a plan or a template says and a library does not: nobody who takes an exercise from it would see it."""
    lines = [section.header for section in read.sections if _block_of_a_plan(section) and section.header is not None]
    if read.head is not None:
        lines += [line for line in read.head.lines if _line_of_a_plan(line)]
    return tuple(
        unreadable(
            f"`{read.said(line)}` belongs in a plan or a template; a library holds exercises and activities.",
            line.words,
            read.source,
            "Move it to the plan or the template that it is meant for.",
        )
        for line in lines
    )


def _two_titles(read: Sheet) -> tuple[Finding, ...]:
    """A second header that says what kind of file it is."""
    heads = [s for s in read.sections if s.kind in ("plan", "template", "library", "diary") and not s.change]
    return tuple(
        contradiction("A file holds one library.", other.header.words, read.source, "Put the second into its own file.")
        for other in heads[1:]
        if other.header is not None and other.kind != "plan"
    )
