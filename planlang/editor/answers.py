"""Answers in the protocol's own words and places."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from lsprotocol import types as lsp
from pygls import uris

from planlang.editor.columns import Columns, Range
from planlang.editor.completing import offers
from planlang.editor.document import Document
from planlang.editor.fixing import Fix, fixes, tidied
from planlang.editor.going import definition
from planlang.editor.hovering import hover
from planlang.editor.outline import folds, symbols
from planlang.text.data import define
from planlang.text.finding import Finding, Level, Related
from planlang.text.source import Source, Span

SEVERITY = {
    Level.UNSAFE: lsp.DiagnosticSeverity.Error,
    Level.UNREALISTIC: lsp.DiagnosticSeverity.Warning,
    Level.INCOMPLETE: lsp.DiagnosticSeverity.Information,
    Level.ADVICE: lsp.DiagnosticSeverity.Hint,
}
OFFERED = {
    "word": lsp.CompletionItemKind.Keyword,
    "header": lsp.CompletionItemKind.Struct,
    "exercise": lsp.CompletionItemKind.Function,
    "session": lsp.CompletionItemKind.Event,
    "rule": lsp.CompletionItemKind.Reference,
    "measure": lsp.CompletionItemKind.Unit,
}
LISTED = {
    "exercise": lsp.SymbolKind.Function,
    "activity": lsp.SymbolKind.Function,
    "session": lsp.SymbolKind.Event,
    "goal": lsp.SymbolKind.Key,
    "target": lsp.SymbolKind.Key,
}


@define(eq=False)
class Answers:
    """Makes answers, in the encoding that was agreed."""

    columns: Columns = Columns()

    def encoding(self, agreed: object) -> None:
        """Takes the encoding that client and server agreed on."""
        self.columns = Columns(str(getattr(agreed, "value", agreed)))

    def diagnostics(self, document: Document) -> list[lsp.Diagnostic]:
        """Every finding of the whole check that isn't waived."""
        return [self._diagnostic(document, one) for one in document.checked.findings if one.waived is None]

    def _diagnostic(self, document: Document, finding: Finding) -> lsp.Diagnostic:
        parts = [finding.message, finding.advice]
        if finding.sources:
            parts.append("Rests on: " + "; ".join(finding.sources))
        related = [place for one in finding.related if (place := self._related(document, one)) is not None]
        return lsp.Diagnostic(
            range=self._place(document, finding.span, finding.source),
            message="\n".join(part for part in parts if part),
            severity=SEVERITY[finding.level],
            code=finding.rule,
            source=f"planlang, {finding.level.value}",
            related_information=related or None,
        )

    def _place(self, document: Document, span: Span | None, source: Source | None) -> lsp.Range:
        """Where this file says it; its first line where it has no place in it."""
        whole = document.checked.source
        if span is None or (source is not None and source is not whole and source.name != document.source.name):
            return lsp_range(((0, 0), (0, self.columns.units(document.source.line(1)))))
        return lsp_range(self.columns.range(document.source, (source or whole).place(span)))

    def _related(self, document: Document, one: Related) -> lsp.DiagnosticRelatedInformation | None:
        if one.span is None:
            return None
        source = one.source or document.checked.source
        if source.name == document.source.name:
            place = self._place(document, one.span, source)
            return lsp.DiagnosticRelatedInformation(lsp.Location(uri_of(document, document.source), place), one.message)
        there = lsp_range(self.columns.span(source, one.span))
        return lsp.DiagnosticRelatedInformation(lsp.Location(uri_of(document, source), there), one.message)

    def completion(self, document: Document, position: lsp.Position) -> lsp.CompletionList:
        """What may stand there."""
        items = [
            lsp.CompletionItem(
                label=one.label,
                kind=OFFERED.get(one.kind, lsp.CompletionItemKind.Value),
                detail=one.kind,
                documentation=one.about or None,
                sort_text=f"{number:05}",
                filter_text=one.label,
                text_edit=lsp.TextEdit(lsp_range(self.columns.span(document.source, one.span)), one.label),
            )
            for number, one in enumerate(offers(document, self._offset(document, position)))
        ]
        return lsp.CompletionList(is_incomplete=False, items=items)

    def hover(self, document: Document, position: lsp.Position) -> lsp.Hover | None:
        """What is said of the place."""
        found = hover(document, self._offset(document, position))
        if found is None or not found.text:
            return None
        text = lsp.MarkupContent(lsp.MarkupKind.Markdown, found.text)
        return lsp.Hover(text, lsp_range(self.columns.span(document.source, found.span)))

    def definition(self, document: Document, position: lsp.Position) -> lsp.Location | None:
        """Where a name is described."""
        found = definition(document, self._offset(document, position))
        if found is None:
            return None
        source, span = found
        return lsp.Location(uri_of(document, source), lsp_range(self.columns.span(source, span)))

    def formatting(self, document: Document) -> list[lsp.TextEdit]:
        """The tidy text, in the place of all of it."""
        text = tidied(document)
        whole = Span(0, len(document.source.text))
        return [] if text is None else [lsp.TextEdit(lsp_range(self._end(document.source, whole)), text)]

    def _end(self, source: Source, span: Span) -> Range:
        last = len(source.line_starts)
        return (0, 0), (last - 1, self.columns.units(source.line(last)))

    def folding(self, document: Document) -> list[lsp.FoldingRange]:
        """The blocks."""
        return [lsp.FoldingRange(start_line=first, end_line=last) for first, last in folds(document)]

    def symbols(self, document: Document) -> list[lsp.DocumentSymbol]:
        """The blocks by name."""
        return [
            lsp.DocumentSymbol(
                name=one.name,
                kind=LISTED.get(one.kind, lsp.SymbolKind.Namespace),
                range=lsp_range(self.columns.span(document.source, one.whole)),
                selection_range=lsp_range(self.columns.span(document.source, one.place)),
                detail=one.kind,
            )
            for one in symbols(document)
        ]

    def actions(
        self, document: Document, uri: str, params: lsp.CodeActionParams, proposed: list[Fix]
    ) -> list[lsp.CodeAction]:
        """The fixes for the lines that are asked about; proposals that touch no line of a finding come with any."""
        first, last = params.range.start.line + 1, params.range.end.line + 1
        rules = {str(one.code) for one in params.context.diagnostics}
        here = [one for one in fixes(document) if first <= one.line <= last]
        here += [one for one in proposed if one.rule in rules]
        return list(self._actions(document, uri, params, here))

    def _actions(
        self, document: Document, uri: str, params: lsp.CodeActionParams, found: list[Fix]
    ) -> Iterator[lsp.CodeAction]:
        for one in found:
            edits = [
                lsp.TextEdit(lsp_range(self.columns.span(document.source, span)), text) for span, text in one.edits
            ]
            yield lsp.CodeAction(
                title=one.title,
                kind=lsp.CodeActionKind.QuickFix,
                diagnostics=[d for d in params.context.diagnostics if d.code == one.rule] or None,
                edit=lsp.WorkspaceEdit(changes={uri: edits}),
            )

    def _offset(self, document: Document, position: lsp.Position) -> int:
        return self.columns.offset(document.source, (position.line, position.character))


def lsp_range(found: Range) -> lsp.Range:
    """A range in the protocol's words."""
    (line, column), (end_line, end_column) = found
    return lsp.Range(lsp.Position(line, column), lsp.Position(end_line, end_column))


def uri_of(document: Document, source: Source) -> str:
    """A file's URI; a file without a folder keeps its name."""
    return uris.from_fs_path(str(Path(source.name).absolute())) or source.name
