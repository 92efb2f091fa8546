"""A plan laid out in the one way of writing it. Its meaning, its comments and what can't be read stay as they are."""

from __future__ import annotations

from bisect import bisect_right
from enum import Enum, auto
from itertools import accumulate

from planlang.syntax.blanks import has_blanks, held, restored
from planlang.syntax.nodes import Script, Statement, Unread
from planlang.syntax.read import read
from planlang.syntax.spell import WIDTH, meaning, written
from planlang.syntax.statements import ANYWHERE, FORMS, HEADERS
from planlang.syntax.words import Token
from planlang.text.data import define, frozen
from planlang.text.finding import Finding, Level
from planlang.text.source import Source

INDENT = "  "
MEASURES_WIDTH = 14
"""Columns of a measure's name, where none under the same `today` is longer."""
_BOM = "\ufeff"


@frozen
class Tidied:
    """The tidy text, whether it differs, and a finding where a text was left as it was."""

    text: str
    changed: bool
    findings: tuple[Finding, ...] = ()


class _Kind(Enum):
    HEADER = auto()
    LOOSE = auto()
    INNER = auto()
    ENTRY = auto()
    UNREAD = auto()
    COMMENT = auto()
    BLANK = auto()


@define
class _Row:
    """One line: its words, the comment behind them and the column that the comment stood in."""

    kind: _Kind
    text: str = ""
    comment: str = ""
    column: int = 0


def tidy(source: Source) -> Tidied:
    """The text of a source, tidy.

    It is parsed again and returned only if it says the same; if it did not, which would be a fault of
    this program, the text comes back unchanged with a finding.
    """
    if has_blanks(source.text):
        return _template(source)
    return _tidied(source)


def _template(source: Source) -> Tidied:
    """A template, with a number in each blank's place while it is laid out."""
    text, stands_for = held(source.text)
    laid = _tidied(Source(source.name, text))
    made = restored(laid.text, stands_for)
    found = (_left(source),) if laid.findings else ()
    return Tidied(made, made != source.text, found)


def _tidied(source: Source) -> Tidied:
    script = read(source)
    rows = _rows(script)
    text = "".join(f"{line}\n" for line in _laid_out(rows))
    if text == source.text:
        return Tidied(text, False)
    if _says(rows, script) != _says_again(Source(source.name, text)):
        return Tidied(source.text, False, (_left(source),))
    return Tidied(text, True)


def _left(source: Source) -> Finding:
    return Finding(
        "not-tidied",
        Level.ADVICE,
        "This plan was left as it is: laid out, it would not have said the same.",
        None,
        source,
        "Please report this plan, with anything about the person taken out.",
    )


def _rows(script: Script) -> list[_Row]:
    """Every line of a script, blank ones too."""
    lines = script.text.split("\n")[:-1]
    starts = list(accumulate((len(line) + 1 for line in lines), initial=0))
    by_line = {bisect_right(starts, line.span.start) - 1: line for line in script.lines}
    widths = _widths(script)
    rows = []
    width = WIDTH
    for number, (line, start) in enumerate(zip(lines, starts, strict=False)):
        item = by_line.get(number)
        raw = script.source.text[start : start + len(line)]
        if isinstance(item, Statement):
            if item.name in HEADERS:
                width = widths.get(item.span.start, WIDTH)
            end = (item.tokens[-1].end_pos or 0) - start
            comment = raw[end:].strip()
            rows.append(_Row(_kind(item), _written(item, width), comment, line.find("#", end)))
        elif isinstance(item, Unread):
            rows.append(_Row(_Kind.UNREAD, raw.removeprefix(_BOM).removesuffix("\r")))
        elif line.strip(" "):
            rows.append(_Row(_Kind.COMMENT, raw.strip().removeprefix(_BOM).strip()))
        else:
            rows.append(_Row(_Kind.BLANK))
    return rows


def _kind(line: Statement) -> _Kind:
    if line.name in HEADERS:
        return _Kind.HEADER
    if FORMS[line.name].blocks == ("diary",):
        return _Kind.ENTRY
    return _Kind.LOOSE if ANYWHERE in FORMS[line.name].blocks else _Kind.INNER


def _written(line: Statement, width: int) -> str:
    return INDENT + written(line, width) if _kind(line) is _Kind.INNER else written(line)


def _widths(script: Script) -> dict[int, int]:
    """For each `today`, by its offset, the columns for first words: as many as its longest measure's name needs."""
    widths: dict[int, int] = {}
    today: int | None = None
    for line in script.lines:
        if isinstance(line, Statement) and line.name in HEADERS:
            today = line.span.start if line.name == "today" else None
            if today is not None:
                widths[today] = MEASURES_WIDTH
        elif today is not None and isinstance(line, Statement) and line.name == "baseline":
            widths[today] = max(widths[today], len(line.tokens[0]))
    return widths


def _laid_out(rows: list[_Row]) -> list[str]:
    """The lines of the tidy text."""
    made: list[str] = []
    before: _Row | None = None
    depth = ""
    for i, row in enumerate(rows):
        if row.kind is _Kind.BLANK:
            before = row
            continue
        blank = before is not None and before.kind is _Kind.BLANK
        owner = _owner(rows, i)
        if made and (blank or (owner is not None and _apart(before, owner))):
            made.append("")
        if row.kind is _Kind.COMMENT:
            depth = "" if blank and owner is None else _depth(owner, depth)
            made.append(depth + row.text)
        else:
            depth = INDENT if row.kind is _Kind.INNER else depth if row.kind is _Kind.UNREAD else ""
            made.append(_with_comment(row))
        before = row
    return made


def _owner(rows: list[_Row], i: int) -> _Row | None:
    """The line that a row belongs to: itself, or for a comment the line straight below it and its like."""
    for row in rows[i:]:
        if row.kind is _Kind.BLANK:
            return None
        if row.kind is not _Kind.COMMENT:
            return row
    return None


def _depth(owner: _Row | None, depth: str) -> str:
    """How far a comment is indented: as its line is, else as the line above it."""
    if owner is None or owner.kind is _Kind.UNREAD:
        return depth
    return INDENT if owner.kind is _Kind.INNER else ""


def _apart(before: _Row | None, row: _Row) -> bool:
    """True where an empty line belongs above a row; `before` is the line above it."""
    if before is None or before.kind is _Kind.COMMENT:
        return False
    if row.kind is _Kind.HEADER:
        return True
    return row.kind is _Kind.LOOSE and before.kind in (_Kind.HEADER, _Kind.INNER)


def _with_comment(row: _Row) -> str:
    """A line with its comment behind it, in the column where it stood if the line leaves room."""
    if not row.comment:
        return row.text
    return f"{row.text.ljust(max(len(row.text) + 2, row.column))}{row.comment}"


def _says(rows: list[_Row], script: Script) -> list[object]:
    """All that must stay the same: statements apart from spelling, lines that can't be read, comments."""
    said: list[object] = [
        (line.name, [said for token in line.tokens for said in _meant(token)])
        for line in script.lines
        if isinstance(line, Statement)
    ]
    said += [row.text for row in rows if row.kind in (_Kind.UNREAD, _Kind.COMMENT)]
    return said + [row.comment for row in rows if row.comment]


def _meant(token: Token) -> list[tuple[str, str]]:
    """A token without its spelling; `missed` is read, and written as `not done`."""
    if token.type == "_MISSED":
        return [("_NOT", ""), ("_DONE", "")]
    return [(token.type, meaning(token))]


def _says_again(source: Source) -> list[object]:
    script = read(source)
    return _says(_rows(script), script)
