"""Findings for people: the line with its words underlined, what, why, what to do."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from itertools import groupby
from textwrap import wrap

from planlang.report.quoting import quoted, visible
from planlang.report.result import Options, Result, Shown, closing, relative, shown
from planlang.text.finding import Level

COLOURS = {Level.UNSAFE: "31;1", Level.UNREALISTIC: "35;1", Level.INCOMPLETE: "33;1", Level.ADVICE: "36;1"}
WIDEST = 100
NARROWEST = 40


def pieces(results: Collection[Result], options: Options) -> Iterator[str]:
    """Findings grouped by file, then what ran; the closing lines claim no more than that."""
    for line in _body(results, options):
        yield f"{line}\n"
    for line in _closing(results, options, _width(options)):
        yield f"{line}\n"


def render(results: Collection[Result], options: Options) -> str:
    """The same in one text."""
    return "".join(pieces(results, options))


def findings_text(results: Iterable[Result], options: Options) -> str:
    """Findings grouped by file, without a word on what ran: for commands that run no rule."""
    return "\n".join(_body(results, options))


def _width(options: Options) -> int:
    return min(max(options.width or WIDEST, NARROWEST), WIDEST)


def _body(results: Iterable[Result], options: Options) -> Iterator[str]:
    width = _width(options)
    for file, found in groupby(shown(results), key=lambda one: one.file):
        yield from (*_painted(options, "1", visible(_called(file, options))), "")
        several = list(found)
        said: set[tuple[str, tuple[str, ...]]] = set()
        for one in several:
            if not one.finding.waived:
                reason = (one.finding.rule, one.finding.sources)
                yield from (*_finding(one, options, width, reason not in said), "")
                said.add(reason)
        waived = [one for one in several if one.finding.waived]
        if waived:
            yield from ("  Waived here", *(line for one in waived for line in _waived(one, width)), "")


def _called(file: str, options: Options) -> str:
    """The file's name, shorter where it lies below where one stands."""
    short = relative(file, options.root)
    return file if short.startswith("../") else short


def _finding(one: Shown, options: Options, width: int, reasoned: bool) -> Iterator[str]:
    """One finding; why, only where the same file's findings haven't said it yet (`reasoned`)."""
    finding, place, source = one.finding, one.place, one.source
    where = f", line {place.line}" if place else ""
    yield f"  {''.join(_painted(options, COLOURS[finding.level], finding.level.value))}: {finding.rule}{where}"
    if place and source:
        line, under = quoted(source, place, width - 6)
        yield f"      {line}"
        yield "      " + "".join(_painted(options, COLOURS[finding.level], under))
    yield from _part("", finding.message, width)
    for related in finding.related:
        other = related.source or source
        at = other.place(related.span) if other and related.span else None
        where = f"line {at.line}, " if at else ""
        if at and other and source and other.name != source.name:
            where = f"{visible(_called(other.name, options))}, {where}"
        yield from _part("See:", f"{where}{related.message}", width)
        if at and other:
            line, under = quoted(other, at, width - 10)
            yield f"          {line}"
            yield f"          {under}"
    why = options.infos[finding.rule].why if finding.rule in options.infos else ""
    rests = f"({'; '.join(finding.sources)})" if finding.sources else ""
    if reasoned and (why or rests):
        yield from _part("Why:", f"{why} {rests}".strip(), width)
    if finding.advice:
        yield from _part("Do:", finding.advice, width)


def _waived(one: Shown, width: int) -> list[str]:
    waived = one.finding.waived
    assert waived is not None
    where = f" (line {one.place.line})" if one.place else ""
    said = f'{one.finding.rule}{where}: "{waived.reason}", by {waived.by} until {waived.until.isoformat()}'
    return list(_part("-", said, width, hang=2))


def _part(head: str, text: str, width: int, hang: int = 5) -> Iterator[str]:
    first = f"    {head.ljust(hang) if head else ''}"
    later = " " * (4 + (hang if head else 0))
    for paragraph in visible_lines(text):
        yield from wrap(paragraph, width, initial_indent=first, subsequent_indent=later, break_on_hyphens=False) or [""]
        first = later


def visible_lines(text: str) -> list[str]:
    """The lines of a message, each harmless to a terminal."""
    return [visible(line) for line in text.splitlines()]


def _painted(options: Options, code: str, text: str) -> list[str]:
    return [f"\x1b[{code}m{text}\x1b[0m" if options.colour else text]


def _closing(results: Collection[Result], options: Options, width: int) -> Iterator[str]:
    yield from wrap(closing(results, options), width, break_on_hyphens=False)
