"""Findings as one JSON object, for scripts."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from planlang.report.lists import dumped
from planlang.report.result import Options, Result, Shown, shown
from planlang.text.finding import Related, Waived

_FINDINGS = "\0findings"


def pieces(results: Collection[Result], options: Options) -> Iterator[str]:
    """The object of `lint --format json`; lines and columns from 1, in code points, ends exclusive."""
    answer = {
        "tool": "planlang",
        "version": options.version,
        "files": len(results),
        "rules": options.rules,
        "not_judged": list(options.not_judged),
        "off": dict(options.off),
        "findings": _FINDINGS,
    }
    yield from dumped(answer, (_FINDINGS, 2, (as_data(one) for one in shown(results))))


def as_data(one: Shown) -> dict[str, Any]:
    """One finding with exactly the fields that scripts are promised."""
    finding = one.finding
    return {
        "file": one.file,
        **_place(one),
        "rule": finding.rule,
        "level": finding.level.value,
        "message": finding.message,
        "help": finding.advice,
        "sources": list(finding.sources),
        "related": [_related(one, related) for related in finding.related],
        "waived": waived_data(finding.waived),
    }


def waived_data(waived: Waived | None) -> dict[str, str] | None:
    """A waiver's reason, who signed it, until when."""
    if waived is None:
        return None
    return {"reason": waived.reason, "by": waived.by, "until": waived.until.isoformat()}


def _place(one: Shown) -> dict[str, int | None]:
    place = one.place
    if place is None:
        return dict.fromkeys(("line", "column", "end_line", "end_column"))
    return {"line": place.line, "column": place.column, "end_line": place.end_line, "end_column": place.end_column}


def _related(one: Shown, related: Related) -> dict[str, Any]:
    source = related.source or one.source
    place = source.place(related.span) if source and related.span else None
    there = Shown(one.finding, one.result, source.name if source else one.file, place)
    return {"file": there.file, **_place(there), "message": related.message}
