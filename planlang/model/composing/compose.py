"""A plan put together from its own file, its template and its libraries; one by itself costs next to nothing."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from planlang.text.finding import Finding
from planlang.text.source import Source

if TYPE_CHECKING:
    from planlang.model.composing.files import Files

_SPACE = r"[^\S\n\r]"
_ASKS = re.compile(
    rf"^{_SPACE}*\ufeff?{_SPACE}*(?:from{_SPACE}+template|uses?{_SPACE}+library|fills?|changes?|ladder"
    rf"|leave{_SPACE}+out{_SPACE}+(?:exercise|activity|session|target))(?![\w\-])",
    re.MULTILINE,
)
_WORDS = ("template", "library", "fill", "change", "ladder", "leave")


def asks(text: str) -> bool:
    """Whether a text says that it is put together from several; quick, and seldom wrong."""
    if not any(word in text for word in _WORDS):
        return False
    return _ASKS.search(text.replace("\r", "\n") if "\r" in text else text) is not None


def compose(source: Source, files: Files | None = None) -> tuple[Source, tuple[Finding, ...]]:
    """A plan with what its template and libraries say, and what was found; a plan by itself is given back as it is.

    `files` opens what it names; None: nothing is opened. What comes back is read like any other source; the
    findings have places in it.
    """
    if type(source) is Source and not asks(source.text):
        return source, ()
    from planlang.model.composing.composed import Composed  # a start that puts nothing together needs none of it
    from planlang.model.composing.together import put_together

    made = source if isinstance(source, Composed) else put_together(source, files)
    return (source, ()) if made is None else (made, made.findings)
