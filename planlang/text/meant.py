"""What somebody most likely meant by a word that isn't known."""

from __future__ import annotations

from collections.abc import Iterable

LIKE_ENOUGH = 0.6


def meant(word: str, known: Iterable[str], at_least: float = LIKE_ENOUGH) -> str | None:
    """The known word most like `word`, or None where none is like enough (1 is equal)."""
    from difflib import get_close_matches  # only on the way to a finding

    by_lower = {k.lower(): k for k in known}
    close = get_close_matches(word.lower(), by_lower, n=3, cutoff=at_least)
    if not close:
        return None
    letters = sorted(word.lower())  # two letters swapped is the likeliest slip
    return by_lower[next((k for k in close if sorted(k) == letters), close[0])]


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """`Did you mean "...?"`, or empty text where nothing is near."""
    near = meant(word, known)
    return f'Did you mean "{near}"?' if near else ""


def listed(words: Iterable[str], last: str = "or") -> str:
    """`a, b or c`."""
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"
