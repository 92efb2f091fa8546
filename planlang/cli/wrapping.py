"""Sentences broken into lines of a terminal."""

from __future__ import annotations

import re
from textwrap import wrap

from planlang.report.quoting import visible

_TOGETHER = re.compile(r"(?<=\d) (?=%)|(?<=\d:) (?=\d)")


def wrapped(sentence: str, width: int, indent: str = "", first: str | None = None) -> list[str]:
    """Lines of at most `width` columns; a number stays with what follows it. `first`: before the first of them."""
    kept = _TOGETHER.sub("\N{NO-BREAK SPACE}", visible(sentence))
    start = indent if first is None else first
    lines = wrap(kept, width, initial_indent=start, subsequent_indent=indent, break_on_hyphens=False)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]
