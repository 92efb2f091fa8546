"""`planlang editor`: the language server."""

from __future__ import annotations

import click


@click.command("editor")
def command() -> int:
    """Answer an editor on standard input and output (Language Server Protocol).

    An editor starts this by itself: planlang/editor/README.md says how three common ones are set up.
    """
    try:
        from planlang.editor.server import built
    except ImportError as e:
        if (e.name or "").split(".")[0] not in ("pygls", "lsprotocol"):
            raise
        raise click.UsageError("the editor's help needs pygls: pip install 'planlang[editor]'") from None
    built().start_io()
    return 0
