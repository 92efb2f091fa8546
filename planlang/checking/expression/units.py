"""Units as rules write them: those of plans, with plurals, and a few that only rules need."""

from __future__ import annotations

from fractions import Fraction

from planlang.model.quantity import UNITS, Unit, number_text

SHARE = "share"
NUMBER = "number"

_OWN = (
    Unit("year", "months", Fraction(12)),
    Unit("kg/m2", "body mass index", Fraction(1)),
    Unit("sessions/week", "sessions a week", Fraction(1)),
    Unit("days/week", "days a week", Fraction(1)),
    Unit("kg/week", "mass a week", Fraction(1)),
    Unit("steps", "steps", Fraction(1)),
)
_PLURALS = {
    "days": "day",
    "weeks": "week",
    "months": "month",
    "years": "year",
    "points": "point",
    "miles": "mile",
    "minutes": "min",
    "hours": "h",
    "seconds": "s",
}
_COUNTED = frozenset(_PLURALS.values()) - {"min", "h", "s"}

KNOWN: dict[str, Unit] = {**UNITS, **{u.word: u for u in _OWN}}
DEFAULT_UNIT = {SHARE: "%", NUMBER: ""}


def unit(word: str) -> Unit | None:
    """The unit of that word, singular or plural, or None."""
    return KNOWN.get(_PLURALS.get(word, word))


def plural(word: str) -> str:
    """A unit's word beside a number other than 1: `weeks`, `kg`."""
    return f"{word}s" if word in _COUNTED else word


def words() -> list[str]:
    """Every word that names a unit."""
    return [w for w in (*KNOWN, *_PLURALS) if w]


def quantity_text(base: Fraction, word: str) -> str:
    """A number in its dimension's base unit as people read it in the unit `word`; at most two decimals."""
    value = base / KNOWN[word].factor
    number = number_text(tidy_number(value))
    if not word:
        return number
    return f"{number} {word if value == 1 else plural(word)}"


def tidy_number(value: Fraction) -> Fraction:
    """The number rounded half up to two places below 10, else to one."""
    places = 100 if abs(value) < 10 else 10
    scaled = abs(value) * places
    rounded = Fraction((scaled + Fraction(1, 2)).__floor__(), places)
    return -rounded if value < 0 else rounded
