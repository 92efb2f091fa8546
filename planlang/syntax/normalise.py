"""What a word processor does to a text, undone; every character keeps its offset."""

from __future__ import annotations

import re

# A quoted text with any of the usual delimiters, a comment, or one character to change.
_PIECE = re.compile(
    r"""(?P<quoted>"[^"\n]*"|[“”„«»‟][^”“»"«\n]*[”“»"«])|(?P<comment>\#[^\n]*)|(?P<odd>[×✕–—−‐‑\t\xa0\u2000-\u200a\u202f\u3000\ufeff\x0c\r])""",
    re.VERBOSE,
)
_CHANGED = {"×": "x", "✕": "x", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-"}


def _replace(match: re.Match[str]) -> str:
    if match.lastgroup == "quoted":
        text = match.group()
        return f'"{text[1:-1]}"'
    if match.lastgroup == "comment":
        return match.group()
    return _CHANGED.get(match.group(), " ")


def normalise(text: str) -> str:
    """The text with straight quotes, plain spaces, `x`, hyphens and LF line ends, of the same length.

    Only what stands outside quoted text and comments is changed. A line feed is added where the last
    line has none, so the result may be one longer.
    """
    if "\r" in text:
        text = re.sub(r"\r(?!\n)", "\n", text)
        text = text.replace("\r\n", " \n")
    if not text.isascii() or "\t" in text or "\x0c" in text:
        text = _PIECE.sub(_replace, text)
    return text if text.endswith("\n") else text + "\n"
