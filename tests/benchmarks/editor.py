"""`python -m tests.benchmarks.editor`: what a keystroke costs, as ratios in one run."""

from __future__ import annotations

import asyncio
import json
import sys
import tempfile
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from statistics import median
from time import perf_counter

from lsprotocol import types as lsp
from lsprotocol.converters import get_converter
from pygls.lsp.client import LanguageClient

from planlang.checking.file import Run, check_file
from planlang.editor.answers import Answers
from planlang.editor.completing import offers
from planlang.editor.server import PAUSE, opened
from tests.benchmarks.plans import longer
from tests.benchmarks.timing import HEADING, Pair, compare

LINES = 500


def long_plan() -> str:
    """The demo's plan with so many blocks that it has 500 lines."""
    times = next(n for n in count(1) if len(longer(n).splitlines()) >= LINES)
    return longer(times)


def keystroke(text: str, path: Path) -> Pair:
    """From the changed text to the message that goes to the editor, against one lint of the file."""
    answers, converter, typed = Answers(), get_converter(), count()

    def changed() -> str:
        document = opened(path.as_uri(), f"{text}# {next(typed)}\n")
        sent = lsp.PublishDiagnosticsParams(path.as_uri(), answers.diagnostics(document))
        return json.dumps(converter.unstructure(sent))

    return compare("findings after a keystroke, 500 lines / lint", changed, lambda: check_file(path, Run()), 3.0)


def completing(text: str, path: Path) -> Pair:
    """What may follow, in a text that has just changed and is not checked yet, against one lint of the file."""
    typed = count()

    def asked() -> object:
        changed = f"{text}# {next(typed)}\nexercise stair\n  progress every 2 "
        return offers(opened(path.as_uri(), changed), len(changed))

    return compare("completion after a keystroke, 500 lines / lint", asked, lambda: check_file(path, Run()), 3.0)


async def _by_the_clock(text: str, path: Path, rounds: int = 9) -> float:
    """Seconds from a keystroke to its findings in a client, the pause that the server waits for left out."""
    client = LanguageClient("benchmarks", "1")
    came: asyncio.Queue[int | None] = asyncio.Queue()
    await client.start_io(sys.executable, "-m", "planlang.cli.main", "editor")

    @client.feature(lsp.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
    def told(params: lsp.PublishDiagnosticsParams) -> None:
        came.put_nowait(params.version)

    await client.initialize_async(lsp.InitializeParams(lsp.ClientCapabilities()))
    client.initialized(lsp.InitializedParams())
    uri = path.as_uri()
    client.text_document_did_open(lsp.DidOpenTextDocumentParams(lsp.TextDocumentItem(uri, "plan", 1, text)))
    await came.get()
    times = []
    for version in range(2, rounds + 2):
        document = lsp.VersionedTextDocumentIdentifier(version=version, uri=uri)
        whole = lsp.TextDocumentContentChangeWholeDocument(f"{text}# {version}\n")
        start = perf_counter()
        client.text_document_did_change(lsp.DidChangeTextDocumentParams(document, [whole]))
        while await came.get() != version:
            pass
        times.append(perf_counter() - start - PAUSE)
    await client.shutdown_async(None)
    client.exit(None)
    await client.stop()
    return median(times)


def rows(text: str, path: Path) -> Iterator[Pair]:
    """The rows of the table, each measured when it is asked for."""
    yield keystroke(text, path)
    yield completing(text, path)


def main() -> None:
    """Prints the table, then the time by the clock through a real client."""
    with tempfile.TemporaryDirectory(prefix="editor-") as folder:
        path = Path(folder) / "one.plan"
        text = long_plan()
        path.write_text(text, "utf-8")
        print(HEADING)
        for pair in rows(text, path):
            print(pair.row, flush=True)
        clock = asyncio.run(asyncio.wait_for(_by_the_clock(text, path), 120))
        print(f"\nby the clock, in a client: {clock * 1000:.0f} ms after the pause of {PAUSE * 1000:.0f} ms")


if __name__ == "__main__":
    main()
