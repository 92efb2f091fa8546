"""Blanks in a template's text: where each `<...>` stands, and how the text reads with something in its place."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from planlang.text.data import frozen
from planlang.text.source import Span

_PIECES = re.compile(r'"[^"\n]*"|#[^\n]*|<([^<>\n"]*)>')
_IN_TEXT = re.compile(r"<([^<>\n]*)>")
_NAME = re.compile(r"[^\W\d_][\w-]*")
_BLANK = re.compile(r"^[ \t]*blank[ \t]+(\S+)[ \t]+[0-9.]+[ \t]+to[ \t]+[0-9.]+[ \t]*([%\w/]+)?", re.MULTILINE)
_UNIT_AFTER = re.compile(
    r"[ \t]*(?:%(?:1RM|HRmax)?|mmHg|(?:reps?|weeks?|days?|steps?|min|mins|minutes?|h|hours?|s|secs?|seconds?|kg|lbs?|km"
    r"|miles?|m|met(?:re|er)s?|cm|mm|inch|inches|points?|degrees?|times|flares?|sessions?|visits?|RM)(?![\w-]))"
)
_ALONE_BEFORE = re.compile(r"(?:[-x/]|(?:week|rounds|step|chair)[ \t]*)\Z")
_TEMPLATE = re.compile(r"^[ \t\ufeff]*template\b", re.MULTILINE)
_NO_UNITS = frozenset(("by", "text"))


@frozen
class Spot:
    """One `<...>`: its place, what stands in it, whether it is part of a quoted text, whether its unit is left out.

    `bare`: a unit follows, or it is a part of `2x<reps>` or `<pain>/10`, so only the number takes its place.
    `followed`: a unit follows.
    """

    span: Span
    text: str
    quoted: bool = False
    bare: bool = False
    followed: bool = False


def has_blanks(text: str) -> bool:
    """True for a template's text."""
    return _TEMPLATE.search(text) is not None


def spots(text: str) -> tuple[Spot, ...]:
    """Every `<...>` of a text outside remarks, in order."""
    found: list[Spot] = []
    for piece in _PIECES.finditer(text):
        whole = piece.group()
        if whole.startswith("#"):
            continue
        if whole.startswith('"'):
            for inner in _IN_TEXT.finditer(whole):
                at = piece.start()
                found.append(Spot(Span(at + inner.start(), at + inner.end()), inner.group(1), quoted=True))
            continue
        line = text.rfind("\n", 0, piece.start()) + 1
        before = _ALONE_BEFORE.search(text[line : piece.start()])
        unit = _UNIT_AFTER.match(text, piece.end()) is not None
        after = unit or text[piece.end() : piece.end() + 1] in ("x", "/", "-", "R")
        found.append(Spot(Span(piece.start(), piece.end()), piece.group(1), bare=bool(before or after), followed=unit))
    return tuple(found)


def filled(text: str, at: Sequence[Spot], put: Callable[[Spot], str]) -> str:
    """A text with something in the place of each spot."""
    parts, end = [], 0
    for spot in at:
        parts += [text[end : spot.span.start], put(spot)]
        end = spot.span.end
    return "".join([*parts, text[end:]])


def units(text: str) -> dict[str, str]:
    """The unit that each blank is declared with, as it is written; none for a plain count."""
    return {name: unit for name, unit in _BLANK.findall(text) if unit and unit not in _NO_UNITS}


def held(text: str) -> tuple[str, dict[str, str]]:
    """A template's text with a number of its own in each blank's place, and what each number stands for.

    The text can then be read and laid out like any other. The numbers stand nowhere else in it.
    """
    known, stands_for = units(text), dict[str, str]()
    number = 900_000_000

    def put(spot: Spot) -> str:
        nonlocal number
        if spot.quoted:
            return text[spot.span.start : spot.span.end]
        number += 1
        while str(number) in text:
            number += 1
        unit = next((known[name] for name in _NAME.findall(spot.text) if name in known), None)
        shown = str(number) if spot.bare or not unit else f"{number} {unit}"
        stands_for[shown] = text[spot.span.start : spot.span.end]
        return shown

    return filled(text, spots(text), put), stands_for


def restored(text: str, stands_for: dict[str, str]) -> str:
    """The blanks put back into a text made by `held`, however it was laid out since."""
    for shown, spot in stands_for.items():
        text = text.replace(shown, spot)
    return text
