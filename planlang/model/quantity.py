"""Numbers with units: exact, compared exactly, printed as written."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Protocol

from planlang.text.data import frozen


@frozen
class Unit:
    """A unit: its word, its dimension, and how many of the dimension's base units it is."""

    word: str
    dimension: str
    factor: Fraction


def _unit(word: str, dimension: str, factor: str | int = 1) -> tuple[str, Unit]:
    return word, Unit(word, dimension, Fraction(factor))


UNITS: dict[str, Unit] = dict(
    (
        _unit("s", "time"),
        _unit("min", "time", 60),
        _unit("h", "time", 3600),
        _unit("day", "span"),
        _unit("week", "span", 7),
        _unit("kg", "mass"),
        _unit("lb", "mass", "0.45359237"),  # international pound, 1959: exact
        _unit("m", "length"),
        _unit("cm", "length", "0.01"),
        _unit("mm", "length", "0.001"),
        _unit("inch", "length", "0.0254"),  # international inch, 1959: exact
        _unit("km", "length", 1000),
        _unit("mile", "length", "1609.344"),
        _unit("reps", "count"),
        _unit("steps/day", "steps a day"),
        _unit("min/week", "time a week", 60),
        _unit("min/day", "time a day", 60),
        _unit("steps", "steps"),
        _unit("point", "points"),
        _unit("%", "share", "0.01"),
        _unit("mmHg", "pressure"),
        _unit("m/s", "speed"),
        _unit("degree", "angle"),
        _unit("month", "months"),
        _unit("", "number"),
    )
)


class Known(Fraction):
    """A number that knows where it comes from, and has a say in how it is written."""

    __slots__ = ()

    def as_people_write(self, plain: Callable[[Fraction], str]) -> str:
        """Its text, which `plain` makes of a plain number."""
        return plain(Fraction(self))

    def unsaid(self) -> None:
        """Takes notice that its text is used nowhere."""

    def is_said_by(self, text: str) -> bool:
        """Whether its own text is the whole of it."""
        return Fraction(text) == self


class Listening(Protocol):
    """What writes down everything that is asked of numbers, while it is open."""

    open: bool


LISTENING: list[Listening] = []


def only_shown(make: Callable[[], str]) -> str:
    """A text for people that nothing is decided by: what is asked of numbers to make it is written down nowhere.

    `make` must keep nothing that others may find.
    """
    were = [one for one in LISTENING if one.open]
    for one in were:
        one.open = False
    try:
        return make()
    finally:
        for one in were:
            one.open = True


PLAIN = (int, Fraction)
"""Numbers that are no more than themselves; asked of by type, since fractions are asked for by a slow way."""


def said_exactly(value: Fraction) -> bool:
    """Whether a number's text is the whole of it."""
    text = number_text(value)
    return value.is_said_by(text) if isinstance(value, Known) else Fraction(text) == value


def less(a: Fraction | int, b: Fraction | int) -> bool:
    """Whether `a` is less than `b`; much quicker than by the fractions themselves."""
    if type(a) not in PLAIN or type(b) not in PLAIN:
        return a < b
    return a.numerator * b.denominator < b.numerator * a.denominator


def as_fraction(value: Fraction | int) -> Fraction:
    """The number as a fraction; one that is one stays what it is."""
    return value if type(value) is Fraction or isinstance(value, Fraction) else Fraction(value)


def whole(value: Fraction) -> int:
    """The whole number at or below one that isn't negative; a whole one that knows where it comes from stays so."""
    return int(value) if type(value) in PLAIN or value.denominator != 1 else value  # type: ignore[return-value]


def number_text(value: Fraction) -> str:
    """A number as people write it: whole, or with a decimal point; at most six places."""
    if type(value) not in PLAIN and isinstance(value, Known):
        return value.as_people_write(number_text)
    if value.denominator == 1:
        return str(value.numerator)
    text = f"{float(value):.6f}".rstrip("0").rstrip(".")
    return text


_BASE = frozenset(word for word, unit in UNITS.items() if unit.factor == 1)


def in_base(value: Fraction, word: str) -> Fraction:
    """A number of a unit in its dimension's base unit; most are so already."""
    return value if word in _BASE else value * UNITS[word].factor


@frozen
class Quantity:
    """An exact number with a unit's word from UNITS."""

    value: Fraction
    unit: str = ""

    @property
    def dimension(self) -> str:
        """What the unit measures: `time`, `mass`, `steps a day` ..."""
        return UNITS[self.unit].dimension

    @property
    def base(self) -> Fraction:
        """The number in the dimension's base unit (s, kg, m, day, steps/day ...)."""
        return in_base(self.value, self.unit)

    def __str__(self) -> str:
        number = number_text(self.value)
        if not self.unit:
            return number
        word = self.unit
        if word in ("day", "week", "point", "mile", "month", "degree") and (
            type(self.value) not in PLAIN or self.value != 1
        ):
            word += "s"
        return f"{number} {word}"


@frozen
class Range:
    """From low to high, both included; equal where one number was written."""

    low: Fraction
    high: Fraction

    @classmethod
    def of(cls, low: int | Fraction, high: int | Fraction | None = None) -> Range:
        """A range from plain numbers."""
        return cls(Fraction(low), Fraction(low if high is None else high))

    def __str__(self) -> str:
        if self.low == self.high:
            return number_text(self.low)
        return f"{number_text(self.low)}-{number_text(self.high)}"
