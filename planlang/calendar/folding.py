"""Content lines as RFC 5545, 3.1 wants them: CRLF, at most 75 octets, cut only between characters.

The library folds too, but may cut between a backslash and what it escapes, and between a letter and
its accent; some readers then show a stray character.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

LIMIT = 75  # octets, without the line ending
ASCII_PIECE = re.compile(r"\\?.", re.DOTALL)
JOINER = "\N{ZERO WIDTH JOINER}"


def fold(line: str) -> bytes:
    """One content line, folded, with its line ending, in UTF-8. The line holds no line ending itself."""
    plain = line.isascii()
    if plain and len(line) <= LIMIT:
        return line.encode("ascii") + b"\r\n"
    rows: list[bytes] = []
    row = b""
    for piece in ASCII_PIECE.findall(line) if plain else _pieces(line):
        data = piece.encode("utf-8")
        if len(row) + len(data) > LIMIT:
            rows.append(row)
            row = b" "
        row += data
    return b"\r\n".join([*rows, row]) + b"\r\n"


def unfold(data: bytes) -> list[str]:
    """The content lines of a file, unfolded. Raises UnicodeDecodeError where it is no UTF-8."""
    text = data.decode("utf-8").replace("\r\n ", "").replace("\r\n\t", "")
    return text.split("\r\n")[:-1] if text.endswith("\r\n") else text.split("\r\n")


def _pieces(line: str) -> Iterator[str]:
    """What must stay together: an escape, a character with its marks. Very long ones fall apart into characters."""
    start = 0
    while start < len(line):
        end = start + (2 if line[start] == "\\" else 1)
        while end < len(line) and (_clings(line[end]) or line[end - 1] == JOINER):
            end += 1
        piece = line[start:end]
        yield from [piece] if len(piece.encode("utf-8")) < LIMIT else piece
        start = end


def _clings(char: str) -> bool:
    return unicodedata.category(char) in ("Mn", "Me", "Mc") or char == JOINER or "\U0001f3fb" <= char <= "\U0001f3ff"
