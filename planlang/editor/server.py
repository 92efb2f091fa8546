"""The server itself: what the protocol asks, answered from the document.

Checks and proposals, which may take long, are worked out by one thread, quick answers by another, so that nobody who
types waits for a check. A check begins when typing pauses; one whose text has changed is not begun, and what it
found is not shown.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TypeVar
from urllib.parse import unquote, urlsplit

from lsprotocol import types as lsp
from pygls import uris
from pygls.lsp.server import LanguageServer

from planlang import __version__
from planlang.checking.file import Run
from planlang.editor.answers import Answers
from planlang.editor.document import Document
from planlang.editor.fixing import Fix, Stale, mends
from planlang.text.source import Source

PAUSE = 0.15
"""Seconds without a keystroke after which a text is checked."""
T = TypeVar("T")
LARGEST = 1 << 20  # code points; nobody types more


class Server(LanguageServer):
    """The server, its open texts, and its one thread of work."""

    def __init__(self) -> None:
        super().__init__("planlang", __version__, text_document_sync_kind=lsp.TextDocumentSyncKind.Full)
        self.documents: dict[str, Document] = {}
        self.versions: dict[str, int] = {}
        self.waiting: dict[str, asyncio.Task[None]] = {}
        self.mended: dict[str, tuple[Document, list[Fix]]] = {}
        self.slow, self.quick = ThreadPoolExecutor(1), ThreadPoolExecutor(1)
        self.answers = Answers()

    async def asked(self, uri: str, answer: Callable[[Document], T], otherwise: T, slow: bool = False) -> T:
        """An answer about a document; what goes wrong in making it is told to the log and ends nothing."""
        document = self.documents.get(uri)
        if document is None:
            return otherwise
        try:
            return await asyncio.get_running_loop().run_in_executor(self.slow if slow else self.quick, answer, document)
        except Stale:
            return otherwise
        except Exception as e:  # an editor without its server is worse than one answer less
            said = f"planlang could not answer ({type(e).__name__}: {e}). Please report it."
            self.window_log_message(lsp.LogMessageParams(lsp.MessageType.Error, said))
            return otherwise

    def changed(self, uri: str, text: str, version: int | None, pause: float) -> None:
        """A text is new or has changed: what was begun for the old one is dropped."""
        self.documents[uri] = opened(uri, text)
        self.versions[uri] = version or 0
        self.mended.pop(uri, None)
        self.again(uri, pause)

    def again(self, uri: str, pause: float) -> None:
        """Checks a text once so many seconds have passed without a change."""
        before = self.waiting.pop(uri, None)
        if before is not None:
            before.cancel()
        self.waiting[uri] = asyncio.get_running_loop().create_task(self._check(uri, pause))

    async def _check(self, uri: str, pause: float) -> None:
        await asyncio.sleep(pause)
        document, version = self.documents.get(uri), self.versions.get(uri)
        if document is None:
            return

        def checked(document: Document) -> list[lsp.Diagnostic] | None:
            if self.documents.get(uri) is not document:
                raise Stale
            return self.answers.diagnostics(document)

        found = await self.asked(uri, checked, None, slow=True)
        if found is not None and self.documents.get(uri) is document:
            self.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri, found, version))

    def refresh(self) -> None:
        """Something that texts rest on has changed on disk: all are looked at anew."""
        for uri, document in self.documents.items():
            self.documents[uri] = Document(document.source, document.path)
            self.mended.pop(uri, None)
            self.again(uri, PAUSE)


def opened(uri: str, text: str) -> Document:
    """A text as it stands in the editor. One that no file could hold is checked as what can be read of it."""
    path = path_of(uri)
    name = str(path) if path else unquote(urlsplit(uri).path.rsplit("/", 1)[-1]) or "new.plan"
    kept = text[:LARGEST].removeprefix("\ufeff")
    return Document(Source(name, kept), path, Run())


def path_of(uri: str) -> Path | None:
    """Where a file of this URI lies; None for what lies in no folder."""
    if urlsplit(uri).scheme != "file":
        return None
    found = uris.to_fs_path(uri)
    return Path(found) if found else None


def built() -> Server:
    """A server that answers everything."""
    server = Server()
    answers = server.answers

    @server.feature(lsp.INITIALIZED)
    def initialized(ls: Server, params: lsp.InitializedParams) -> None:
        answers.encoding(server.workspace.position_encoding)

    @server.feature(lsp.TEXT_DOCUMENT_DID_OPEN)
    async def did_open(ls: Server, params: lsp.DidOpenTextDocumentParams) -> None:
        one = params.text_document
        server.changed(one.uri, one.text, one.version, 0)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CHANGE)
    async def did_change(ls: Server, params: lsp.DidChangeTextDocumentParams) -> None:
        text = params.content_changes[-1].text if params.content_changes else None
        if text is not None:
            server.changed(params.text_document.uri, text, params.text_document.version, PAUSE)

    @server.feature(lsp.TEXT_DOCUMENT_DID_SAVE)
    async def did_save(ls: Server, params: lsp.DidSaveTextDocumentParams) -> None:
        server.refresh()

    @server.feature(lsp.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    async def did_change_files(ls: Server, params: lsp.DidChangeWatchedFilesParams) -> None:
        server.refresh()

    @server.feature(lsp.TEXT_DOCUMENT_DID_CLOSE)
    async def did_close(ls: Server, params: lsp.DidCloseTextDocumentParams) -> None:
        uri = params.text_document.uri
        for kept in (server.documents, server.versions, server.mended):
            kept.pop(uri, None)
        server.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri, []))

    @server.feature(
        lsp.TEXT_DOCUMENT_COMPLETION, lsp.CompletionOptions(trigger_characters=[" ", '"', "<"], resolve_provider=False)
    )
    async def completion(ls: Server, params: lsp.CompletionParams) -> lsp.CompletionList:
        empty = lsp.CompletionList(is_incomplete=False, items=[])
        return await server.asked(
            params.text_document.uri, lambda document: answers.completion(document, params.position), empty
        )

    @server.feature(lsp.TEXT_DOCUMENT_HOVER)
    async def hover(ls: Server, params: lsp.HoverParams) -> lsp.Hover | None:
        return await server.asked(params.text_document.uri, lambda d: answers.hover(d, params.position), None)

    @server.feature(lsp.TEXT_DOCUMENT_DEFINITION)
    async def definition(ls: Server, params: lsp.DefinitionParams) -> lsp.Location | None:
        return await server.asked(params.text_document.uri, lambda d: answers.definition(d, params.position), None)

    @server.feature(lsp.TEXT_DOCUMENT_FORMATTING)
    async def formatting(ls: Server, params: lsp.DocumentFormattingParams) -> list[lsp.TextEdit]:
        return await server.asked(params.text_document.uri, answers.formatting, [])

    @server.feature(lsp.TEXT_DOCUMENT_FOLDING_RANGE)
    async def folding(ls: Server, params: lsp.FoldingRangeParams) -> list[lsp.FoldingRange]:
        return await server.asked(params.text_document.uri, answers.folding, [])

    @server.feature(lsp.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    async def symbols(ls: Server, params: lsp.DocumentSymbolParams) -> list[lsp.DocumentSymbol]:
        return await server.asked(params.text_document.uri, answers.symbols, [])

    @server.feature(
        lsp.TEXT_DOCUMENT_CODE_ACTION, lsp.CodeActionOptions(code_action_kinds=[lsp.CodeActionKind.QuickFix])
    )
    async def actions(ls: Server, params: lsp.CodeActionParams) -> list[lsp.CodeAction]:
        uri = params.text_document.uri
        proposed: list[Fix] = []
        # Proposals take many checks: they are worked out when somebody asks for them, not with each move.
        automatic = params.context.trigger_kind is lsp.CodeActionTriggerKind.Automatic
        if uri in server.mended:
            proposed = server.mended[uri][1]
        elif not automatic and params.context.diagnostics:

            def mended(document: Document) -> list[Fix]:
                return mends(document, lambda: server.documents.get(uri) is document)

            document = server.documents.get(uri)
            proposed = await server.asked(uri, mended, [], slow=True)
            if document is not None and server.documents.get(uri) is document:
                server.mended[uri] = document, proposed
        return await server.asked(uri, lambda d: answers.actions(d, uri, params, proposed), [])

    @server.feature(lsp.SHUTDOWN)
    def shutdown(ls: Server, params: None) -> None:
        server.documents.clear()  # what is being worked out for them is given up
        for task in server.waiting.values():
            task.cancel()
        for pool in (server.slow, server.quick):
            pool.shutdown(wait=False, cancel_futures=True)

    return server
