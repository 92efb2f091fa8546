"""Findings on what comes from a template or library: the plan's line, and beside it the line that it comes from."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from attrs import evolve

from planlang.text.finding import Finding, Related
from planlang.text.source import Source, Span

if TYPE_CHECKING:
    from planlang.model.composing.composed import Composed


def placed(findings: Iterable[Finding], source: Source) -> tuple[Finding, ...]:
    """The findings, each with the place that its text truly comes from; those of a plan by itself as they are."""
    if type(source) is Source:
        return tuple(findings)
    from planlang.model.composing.composed import Composed

    if not isinstance(source, Composed):
        return tuple(findings)
    return tuple(_placed(finding, source) for finding in findings)


def _placed(finding: Finding, source: Composed) -> Finding:
    if finding.source is not source:
        return finding
    related = tuple(_moved(one, source) for one in finding.related)
    if finding.span is not None:
        file, span = source.origin(finding.span)
        where = Related("where it is written", span, file)
        if file is not source.own and all(one.source is not file or one.span != span for one in related):
            related = (where, *related)
    return finding if related == finding.related else evolve(finding, related=related)


def _moved(one: Related, source: Composed) -> Related:
    if one.span is None or (one.source is not None and one.source is not source):
        return one
    file, span = source.origin(one.span)
    return one if file is source.own else Related(one.message, span, file)


def in_order(source: Source, span: Span) -> Span:
    """The span by which findings are put in order: that of the plan's own file."""
    if type(source) is Source:
        return span
    from planlang.model.composing.composed import Composed

    return source.shown(span) if isinstance(source, Composed) else span


def of_libraries(source: Source) -> tuple[str, ...]:
    """The exercises of the libraries that a plan may take from."""
    if type(source) is Source:
        return ()
    from planlang.model.composing.composed import Composed

    return source.known if isinstance(source, Composed) else ()
