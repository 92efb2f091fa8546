"""One known mistake as data."""

from __future__ import annotations

import re
from collections.abc import Callable
from re import Match

from attrs import field

from planlang.text.data import frozen
from planlang.text.source import Span

Words = str | Callable[[Match[str]], str]

OPEN, INSIDE, CLOSE = "\ue000", "\ue001", "\ue002"
"""What stands for a quoted text and its quotes while mistakes are looked for."""
QUOTED = f"{OPEN}{INSIDE}*{CLOSE}"


def _compiled(looks: str) -> re.Pattern[str]:
    return re.compile(looks, re.IGNORECASE)


@frozen
class Row:
    """A mistake: its name, what it looks like, what is wrong, what to write instead.

    `{0}` in the words is what was found, `{1}` and `{name}` a group of it. A row is about the place where
    reading stopped; one with `start` is about the line's beginning. `expects`: a token that could have stood
    there. `blocks`: those it is about (empty: all; "" is no block yet). `always`: also where the line's first
    word is none of the language's. `unless_near`: not where a word of the language is like the one found.
    `at_stop`: it begins where reading stopped, not before.
    """

    name: str
    looks: re.Pattern[str] = field(converter=_compiled)
    message: Words
    help: Words = ""
    start: bool = False
    expects: str = ""
    blocks: tuple[str, ...] = ()
    always: bool = False
    unless_near: bool = False
    at_stop: bool = False


@frozen
class Mistake:
    """A recognised mistake, in words."""

    name: str
    message: str
    help: str
    span: Span


def fill(words: Words, match: Match[str]) -> str:
    """The words with what was found in them."""
    if callable(words):
        return words(match)
    found = unmasked(match.group().strip())
    shown = f'"{found if len(found) <= 40 else found[:37] + "..."}"'
    groups = {name: value or "" for name, value in match.groupdict().items()}
    return words.format(shown, *(value or "" for value in match.groups()), **groups)


def unmasked(found: str) -> str:
    """What was found, with `...` for quoted text."""
    return re.sub(QUOTED, '"..."', found)


def part(match: Match[str], *names: str) -> str:
    """The first of these groups that was found, or empty text."""
    return next((match[name] for name in names if match[name]), "")
