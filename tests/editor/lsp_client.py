"""A real client that talks to the server over standard input and output, with a limit on every wait."""

import asyncio
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from lsprotocol import types as lsp
from pygls.lsp.client import LanguageClient

LIMIT = 60.0  # seconds for any one test: a server that hangs is a failure, never a hang of the tests


class Editor:
    """An editor with one server."""

    def __init__(self, client: LanguageClient, initialized: lsp.InitializeResult) -> None:
        self.client = client
        self.initialized = initialized
        self.told: dict[str, lsp.PublishDiagnosticsParams] = {}
        self.logged: list[str] = []
        self.news = asyncio.Event()

    def open(self, path: Path, text: str) -> str:
        uri = path.as_uri()
        item = lsp.TextDocumentItem(uri, "plan", 1, text)
        self.client.text_document_did_open(lsp.DidOpenTextDocumentParams(item))
        return uri

    def change(self, uri: str, text: str, version: int) -> None:
        whole = lsp.TextDocumentContentChangeWholeDocument(text)
        document = lsp.VersionedTextDocumentIdentifier(version=version, uri=uri)
        self.client.text_document_did_change(lsp.DidChangeTextDocumentParams(document, [whole]))

    async def findings(self, uri: str, version: int = 1) -> list[lsp.Diagnostic]:
        while uri not in self.told or self.told[uri].version != version:
            self.news.clear()
            await self.news.wait()
        return list(self.told[uri].diagnostics)

    async def complete(self, uri: str, line: int, column: int) -> list[lsp.CompletionItem]:
        found = await self.client.text_document_completion_async(lsp.CompletionParams(*at(uri, line, column)))
        assert isinstance(found, lsp.CompletionList)
        return list(found.items)

    async def hover(self, uri: str, line: int, column: int) -> str:
        found = await self.client.text_document_hover_async(lsp.HoverParams(*at(uri, line, column)))
        return found.contents.value if found else ""  # type: ignore[union-attr]

    async def definition(self, uri: str, line: int, column: int) -> lsp.Location | None:
        return await self.client.text_document_definition_async(  # type: ignore[return-value]
            lsp.DefinitionParams(*at(uri, line, column))
        )

    async def fixes(self, uri: str, diagnostic: lsp.Diagnostic) -> list[lsp.CodeAction]:
        context = lsp.CodeActionContext([diagnostic], trigger_kind=lsp.CodeActionTriggerKind.Invoked)
        params = lsp.CodeActionParams(lsp.TextDocumentIdentifier(uri), diagnostic.range, context)
        return list(await self.client.text_document_code_action_async(params) or [])  # type: ignore[arg-type]


def at(uri: str, line: int, column: int) -> tuple[lsp.TextDocumentIdentifier, lsp.Position]:
    return lsp.TextDocumentIdentifier(uri), lsp.Position(line, column)


def with_editor(test: Callable[[Editor], Any], encodings: list[str] | None = None) -> None:
    """Runs a coroutine of a test with a server of its own, which is gone when it ends, however it ends."""
    asyncio.run(asyncio.wait_for(_run(test, encodings), LIMIT))


async def _run(test: Callable[[Editor], Any], encodings: list[str] | None) -> None:
    client = LanguageClient("tests", "1")
    await client.start_io(sys.executable, "-m", "planlang.cli.main", "editor")
    try:
        general = lsp.GeneralClientCapabilities(position_encodings=encodings) if encodings else None  # type: ignore[arg-type]
        params = lsp.InitializeParams(lsp.ClientCapabilities(general=general), process_id=None, root_uri=None)
        editor = Editor(client, await client.initialize_async(params))

        @client.feature(lsp.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
        def told(params: lsp.PublishDiagnosticsParams) -> None:
            editor.told[params.uri] = params
            editor.news.set()

        @client.feature(lsp.WINDOW_LOG_MESSAGE)
        def logged(params: lsp.LogMessageParams) -> None:
            editor.logged.append(params.message)

        client.initialized(lsp.InitializedParams())
        await test(editor)
        assert editor.logged == []
        await client.shutdown_async(None)
        client.exit(None)
    finally:
        server = client._server
        if server is not None and server.returncode is None:
            try:
                await asyncio.wait_for(server.wait(), 5)
            except TimeoutError:
                server.kill()
        await client.stop()
