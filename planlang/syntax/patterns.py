"""What a terminal's expression can begin with, and the words that it spells, read off the expression itself."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from itertools import product

BOUNDARY = r"(?![\w\/-])"
"""How the grammar ends a word, so that no word is read as the beginning of another."""
CHUNK = re.compile(r"[\w/-]+")
"""A run of the characters that BOUNDARY rules out: it holds a whole word, if one begins there."""

_PIECE = re.compile(r"\\.|\[\^?\]?(?:\\.|[^\]\\])*\]|[^\\\[\](){}|?*+.^$]")
_REPEATED = re.compile(r"[?*+{]")
_MAY_BE_ABSENT = re.compile(r"[?*{]")
_LETTER = re.compile(r"[\w-]|\\[/-]")


@cache
def spelled(pattern: str) -> frozenset[str] | None:
    """The words of an expression that spells whole words (`starts?`, `min|minutes?`) and ends with BOUNDARY; else None.

    Such a word stands at a place if and only if the CHUNK there is one of them.
    """
    if not pattern.endswith(BOUNDARY):
        return None
    return _texts(pattern.removesuffix(BOUNDARY))


def _texts(pattern: str) -> frozenset[str] | None:
    """Every text that letters, choices and optional parts spell; None for any other expression."""
    parts: list[frozenset[str]] = []
    rest = pattern
    while rest:
        if rest.startswith("(?:"):
            alternatives, rest = _split(rest[3:])
            found = [_texts(part) for part in alternatives]
            one = frozenset(text for texts in found if texts for text in texts)
            if None in found:
                return None
        else:
            letter = _LETTER.match(rest)
            if letter is None:
                return None
            one, rest = frozenset((letter.group()[-1],)), rest[letter.end() :]
        if rest.startswith("?"):
            one, rest = one | {""}, rest[1:]
        elif _REPEATED.match(rest):
            return None
        parts.append(one)
    return frozenset("".join(texts) for texts in product(*parts))


@cache
def first_character(pattern: str) -> Callable[[str], bool]:
    """A test: can an expression match what begins with a character? True where that can't be told."""
    words = spelled(pattern)
    pieces = [word[0] for word in words] if words else _beginnings(pattern)
    if pieces is None:
        return lambda char: True
    if all(len(piece) == 1 for piece in pieces):
        return frozenset(pieces).__contains__
    return lambda char: any(re.match(piece, char) for piece in pieces)


def _beginnings(pattern: str) -> list[str] | None:
    """The one-character expressions that a pattern begins with; None where there is no saying."""
    if pattern.startswith("(?:"):
        alternatives, after = _split(pattern[3:])
        if _MAY_BE_ABSENT.match(after):
            return None
        found = [_beginnings(part) for part in alternatives]
        return None if None in found else [piece for pieces in found if pieces for piece in pieces]
    piece = _PIECE.match(pattern)
    if piece is None or _MAY_BE_ABSENT.match(pattern, piece.end()) or len(_split(pattern)[0]) > 1:
        return None
    return [piece.group()]


def _split(pattern: str) -> tuple[list[str], str]:
    """A pattern's alternatives, up to its end or a bracket that closes what was opened before it, and the rest."""
    parts, depth, at, begun = [], 0, 0, 0
    while at < len(pattern):
        inner = _PIECE.match(pattern, at)
        if inner:
            at = inner.end()
            continue
        char = pattern[at]
        if depth == 0 and char in "|)":
            parts.append(pattern[begun:at])
            begun = at + 1
            if char == ")":
                return parts, pattern[begun:]
        depth += {"(": 1, ")": -1}.get(char, 0)
        at += 1
    return [*parts, pattern[begun:]], ""
