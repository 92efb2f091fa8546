"""A shard: the findings of many files as lines of JSON, one line a file, and back again.

A line holds what every report needs and no more of a file's text than the lines that findings are about, so that the
findings of a whole library lie on disk while it is checked, and any engine can carry them.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

from planlang.text.data import frozen
from planlang.text.finding import Finding, Level, Related, Waived
from planlang.text.source import Place, Source, Span

Row = dict[str, Any]


@frozen
class Judged:
    """One file's findings as they came back. `person`: the file is about one person."""

    name: str
    person: bool
    findings: tuple[Finding, ...]


def line_of(
    name: str, person: bool, source: Source, findings: tuple[Finding, ...], called: Callable[[str], str] = str
) -> str:
    """One file as a line of a shard, with its end. `called`: what a file at a path is to be called."""
    texts: dict[str, dict[str, str]] = {}
    found = [_finding(one, source, texts) for one in findings]
    if called is not str:
        texts = {called(file): lines for file, lines in texts.items()}
        for place in (*found, *(related for one in found for related in one["related"])):
            place["file"] = called(place["file"])
    row: Row = {"file": called(name), "person": person, "findings": found}
    if texts:
        row["lines"] = texts
    return json.dumps(row, ensure_ascii=False, separators=(",", ":")) + "\n"


def read_shard(path: Path) -> Iterator[Judged]:
    """The files of a shard, in the order in which they were checked."""
    with path.open(encoding="utf-8", newline="\n") as lines:
        yield from read_lines(lines)


def read_lines(lines: Iterable[str]) -> Iterator[Judged]:
    """The same from its lines."""
    for line in lines:
        yield judged(json.loads(line))


def judged(row: Row) -> Judged:
    """One line of a shard, read."""
    sources = {name: _Excerpt.of(name, lines) for name, lines in row.get("lines", {}).items()}
    findings = tuple(_found(one, sources) for one in row["findings"])
    return Judged(row["file"], row["person"], findings)


def _finding(one: Finding, source: Source, texts: dict[str, dict[str, str]]) -> Row:
    waived = one.waived
    return {
        **_placed(one.source or source, one.span, texts),
        "rule": one.rule,
        "level": one.level.value,
        "message": one.message,
        "help": one.advice,
        "sources": list(one.sources),
        "related": [
            {**_placed(other.source or one.source or source, other.span, texts), "message": other.message}
            for other in one.related
        ],
        "waived": waived and {"reason": waived.reason, "by": waived.by, "until": waived.until.isoformat()},
        "blocks": one.blocks,
    }


def _placed(source: Source, span: Span | None, texts: dict[str, dict[str, str]]) -> Row:
    """The file and place of something, the lines at whose ends it stands kept."""
    if span is None:
        return {"file": source.name, "line": None, "column": None, "end_line": None, "end_column": None}
    place = source.place(span)
    lines = texts.setdefault(source.name, {})
    for number in (place.line, place.end_line):
        lines.setdefault(str(number), source.line(number))
    return {
        "file": source.name,
        "line": place.line,
        "column": place.column,
        "end_line": place.end_line,
        "end_column": place.end_column,
    }


@frozen
class _Excerpt:
    """A text with some lines of a file and empty ones between, so that places in it are those of the file."""

    source: Source
    starts: list[int]

    @staticmethod
    def of(name: str, lines: dict[str, str]) -> _Excerpt:
        numbered = {int(number): text for number, text in lines.items()}
        texts = [numbered.get(number, "") for number in range(1, max(numbered, default=0) + 1)]
        starts, at = [], 0
        for text in texts:
            starts.append(at)
            at += len(text) + 1
        return _Excerpt(Source(name, "\n".join(texts)), starts)

    def span(self, place: Place) -> Span:
        start = self.starts[place.line - 1] + place.column - 1
        return Span(start, self.starts[place.end_line - 1] + place.end_column - 1)


def _found(row: Row, sources: dict[str, _Excerpt]) -> Finding:
    waived = row["waived"]
    source, span = _where(row, sources)
    related = []
    for one in row["related"]:
        there, at = _where(one, sources)
        related.append(Related(one["message"], at, there))
    return Finding(
        row["rule"],
        Level(row["level"]),
        row["message"],
        span,
        source,
        row["help"],
        tuple(related),
        tuple(row["sources"]),
        waived and Waived(waived["reason"], waived["by"], date.fromisoformat(waived["until"])),
        row["blocks"],
    )


def _where(row: Row, sources: dict[str, _Excerpt]) -> tuple[Source, Span | None]:
    if row["line"] is None:
        return Source(row["file"], ""), None
    excerpt = sources[row["file"]]
    return excerpt.source, excerpt.span(Place(row["line"], row["column"], row["end_line"], row["end_column"]))
