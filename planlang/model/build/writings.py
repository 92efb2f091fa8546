"""Every quoted text and every comment of a file, in order."""

from __future__ import annotations

import re
from collections.abc import Iterator

from planlang.model.build.context import place
from planlang.model.writing import Writing
from planlang.syntax.nodes import Script, Statement
from planlang.syntax.statements import ANYWHERE, FORMS, HEADERS
from planlang.text.source import Span

_PIECE = re.compile(r'"[^"\n]*"|#[^\n]*')


def writings(script: Script) -> tuple[Writing, ...]:
    """The texts of statements, of lines that can't be read, and the comments."""
    found = list(_of_lines(script))
    if "#" in script.text:
        found += _comments(script)
    return tuple(sorted(found, key=lambda writing: (writing.span.start, writing.span.end)))


def _of_lines(script: Script) -> Iterator[Writing]:
    block = ""
    for line in script.lines:
        if not isinstance(line, Statement):
            block = line.opens or block
            for piece in _PIECE.finditer(script.text, line.span.start, line.span.end):
                if piece.group().startswith('"'):
                    yield Writing(piece.group()[1:-1], "", block, Span(*piece.span()))
            continue
        if line.name in HEADERS:
            block = line.name
        where = "" if ANYWHERE in FORMS[line.name].blocks else block
        for token in line.tokens:
            if token.type == "STRING":
                yield Writing(str(token)[1:-1], line.name, where, place(token))


def _comments(script: Script) -> Iterator[Writing]:
    for piece in _PIECE.finditer(script.text):
        if piece.group().startswith("#"):
            yield Writing(piece.group()[1:].strip(), "comment", "", Span(*piece.span()))
