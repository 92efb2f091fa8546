"""Where a name comes from: an exercise's block here or in a library, a session, a template's line, a file."""

from __future__ import annotations

from pathlib import Path

from planlang.editor.document import Document
from planlang.editor.names import EXERCISES
from planlang.model.composing.library import library
from planlang.syntax.nodes import Statement
from planlang.syntax.words import Token
from planlang.text.source import Source, Span

Target = tuple[Source, Span]


def definition(document: Document, offset: int) -> Target | None:
    """The file and place where the name at an offset is described; None where it is no name, or described nowhere."""
    line = document.line_at(offset)
    if not isinstance(line, Statement):
        return None
    word = next((t for t in line.tokens if t.start_pos <= offset <= t.end_pos and t.type in ("NAME", "STRING")), None)
    if word is None:
        return None
    if word.type == "STRING":
        return _quoted(document, line, str(word)[1:-1])
    if line.name == "fill":
        return _blank(document, str(word))
    if line.name in EXERCISES and not _header(document, line, word):
        return _exercise(document, str(word))
    if line.name in ("change", "leave_block", "exercise", "activity"):
        return _elsewhere(document, str(word))
    return None


def _header(document: Document, line: Statement, word: Token) -> bool:
    """Whether a name stands in a line that describes it, or changes what a template says of it."""
    return line.name in ("exercise", "activity", "change", "leave_block")


def _quoted(document: Document, line: Statement, name: str) -> Target | None:
    if line.name in ("use_library", "from_template", "continues"):
        found = document.opened(name)
        return (found, Span(0, 0)) if found else None
    if line.name in ("session", "target", "goal", "plan") or "session" not in line.name + " in_turn away change diary":
        return None
    return _block(document, "session", name)


def _block(document: Document, kind: str, name: str) -> Target | None:
    """A block of this file, else of the template."""
    for one in (document, *_others(document)):
        for section in one.sections:
            header = section.header
            if header.name == kind and str(header.tokens[-1]).strip('"') == name:
                return one.source, header.span
    return None


def _others(document: Document) -> list[Document]:
    return [Document(source, Path(source.name), document.run) for source in document.named]


def _exercise(document: Document, name: str) -> Target | None:
    return _block(document, "exercise", name) or _block(document, "activity", name)


def _elsewhere(document: Document, name: str) -> Target | None:
    """The block of a template or library that one of this file changes or takes up."""
    for source in document.named:
        found = library(source)
        if found and name in found.exercises:
            header = found.exercises[name].header
            return (source, header.words) if header else None
    for one in _others(document):
        for section in one.sections:
            if section.kind in ("exercise", "activity") and str(section.header.tokens[-1]) == name:
                return one.source, section.header.span
    return None


def _blank(document: Document, name: str) -> Target | None:
    for one in _others(document):
        for line in one.script.lines:
            if isinstance(line, Statement) and line.name == "blank" and str(line.tokens[1]) == name:
                return one.source, line.span
    return None
