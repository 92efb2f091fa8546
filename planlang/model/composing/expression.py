"""What stands between `<` and `>`: exact arithmetic over blanks, linear in what can be written."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import lru_cache
from math import floor

from planlang.model.quantity import UNITS
from planlang.text.data import frozen

MOST_LETTERS = 200
"""No expression is longer; a longer one is no expression."""


@frozen
class Number:
    """A number by itself."""

    value: Fraction


@frozen
class Blank:
    """The value of a blank, in its own unit."""

    name: str


@frozen
class Sum:
    """Everything added up."""

    terms: tuple[Expr, ...]


@frozen
class Product:
    """Everything multiplied."""

    factors: tuple[Expr, ...]


@frozen
class Rounded:
    """Cut down to a multiple of `to`."""

    of: Expr
    to: Fraction


Expr = Number | Blank | Sum | Product | Rounded


def value(expr: Expr, blanks: Mapping[str, Fraction]) -> Fraction:
    """What an expression comes to. Raises KeyError for a blank without a value."""
    match expr:
        case Number(number):
            return number
        case Blank(name):
            return blanks[name]
        case Sum(terms):
            return sum((value(term, blanks) for term in terms), Fraction(0))
        case Product(factors):
            made = Fraction(1)
            for factor in factors:
                made *= value(factor, blanks)
            return made
        case Rounded(of, to):
            return to * floor(value(of, blanks) / to)


def replaced(expr: Expr, put: Callable[[str], Expr]) -> Expr:
    """The expression with another in the place of each blank."""
    match expr:
        case Number():
            return expr
        case Blank(name):
            return put(name)
        case Sum(terms):
            return Sum(tuple(replaced(term, put) for term in terms))
        case Product(factors):
            return Product(tuple(replaced(factor, put) for factor in factors))
        case Rounded(of, to):
            return Rounded(replaced(of, put), to)


def names(expr: Expr) -> tuple[str, ...]:
    """The blanks of an expression, each once, in order."""
    found: dict[str, None] = {}

    def seen(name: str) -> Expr:
        found[name] = None
        return Blank(name)

    replaced(expr, seen)
    return tuple(found)


@frozen
class Term:
    """One part of a sum as it is written: `- 2`, `80 % of b`, `2 x b`, `1800 steps/day`. A number may have a unit."""

    factor: Fraction
    blank: str | None = None
    unit: str | None = None

    @property
    def unit_word(self) -> str | None:
        """The unit of a number as it is known; empty for none, None for one that isn't."""
        return unit_word(self.unit) if self.unit else ""


@frozen
class Written:
    """An expression as it is written, before units are known. `rounded_to`: the multiple it is cut down to."""

    terms: tuple[Term, ...]
    rounded_to: Fraction | None = None

    @property
    def blanks(self) -> tuple[str, ...]:
        """The blanks named in it, in order."""
        return tuple(dict.fromkeys(term.blank for term in self.terms if term.blank is not None))

    @property
    def plain(self) -> bool:
        """A blank's name and nothing else."""
        return self.rounded_to is None and len(self.terms) == 1 and self.terms[0] == Term(Fraction(1), self.blanks[0])


_NAME = r"[^\W\d_][\w-]*"
_NUMBER = r"\d{1,12}(?:\.\d{1,9})?"
_TERM = re.compile(
    rf"\s*(?:(?P<percent>{_NUMBER})\s*%\s*of\s+(?P<of>{_NAME})|(?P<times>{_NUMBER})\s*[x×]\s*(?P<taken>{_NAME})"
    rf"|(?P<number>{_NUMBER})(?:\s*(?P<unit>%|(?!rounded\b)[a-zA-Z][\w/]*))?|(?P<name>{_NAME}))"
)
_BETWEEN = re.compile(r"\s*(?:(?P<sign>[+\-−–])\s|rounded\s+to\s+(?P<grain>\d{1,12}(?:\.\d{1,9})?)\s*\Z|\Z)")
_ROUNDED = re.compile(r"\s*rounded\b")


@lru_cache(maxsize=4096)
def read(text: str) -> Written | str:
    """The expression in a text, or in words what is wrong with it."""
    if len(text) > MOST_LETTERS:
        return "it is too long to be meant"
    terms: list[Term] = []
    sign, at = Fraction(1), 0
    while True:
        found = _TERM.match(text, at)
        if found is None:
            return "a blank's name, a number, `80 % of` a blank or `2 x` a blank should stand " + _where(text, at)
        terms.append(_term(found, sign))
        at = found.end()
        then = _BETWEEN.match(text, at)
        if then is None:
            return _after(text, at)
        at = then.end()
        if then["sign"] is None:
            grain = Fraction(then["grain"]) if then["grain"] else None
            break
        sign = Fraction(1) if then["sign"] == "+" else Fraction(-1)
    if grain is not None and grain <= 0:
        return "nothing can be rounded to 0"
    written = Written(tuple(terms), grain)
    return written if written.blanks else "no blank is named in it"


def _term(found: re.Match[str], sign: Fraction) -> Term:
    if found["of"] is not None:
        return Term(sign * Fraction(found["percent"]) / 100, found["of"])
    if found["taken"] is not None:
        return Term(sign * Fraction(found["times"]), found["taken"])
    if found["name"] is not None:
        return Term(sign, found["name"])
    return Term(sign * Fraction(found["number"]), None, found["unit"])


def _where(text: str, at: int) -> str:
    rest = text[at:].strip()
    return f'where "{rest[:30]}" stands' if rest else "at its end" if text.strip() else "in it"


def _after(text: str, at: int) -> str:
    if _ROUNDED.match(text, at):
        return "`rounded to` wants a number behind it: rounded to 100"
    return f'it can\'t be read from "{text[at:].strip()[:30]}" on; `+` and `-` have a space on either side'


_SPELLED = {
    "sec": "s", "second": "s", "mins": "min", "minute": "min", "hour": "h", "rep": "reps", "repetition": "reps",
    "step": "steps", "metre": "m", "meter": "m", "inches": "inch", "step/day": "steps/day", "lbs": "lb",
}  # fmt: skip


def unit_word(written: str) -> str | None:
    """The unit that a word names, as UNITS has it, or None."""
    for word in (written, written.removesuffix("s")):
        found = _SPELLED.get(word, word)
        if found in UNITS:
            return found
    return None
