"""What every builder needs: the source, the findings so far, and values out of words."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, time
from fractions import Fraction
from functools import lru_cache

from attrs import field

from planlang.model.known import BUILT_IN, Catalogue
from planlang.model.quantity import Quantity, Range, less, whole
from planlang.syntax.nodes import Node, span_of
from planlang.syntax.words import Token
from planlang.text.data import define
from planlang.text.finding import Finding, Level, Related, contradiction, unreadable, unreckonable
from planlang.text.source import Source, Span

FIRST_YEAR, LAST_YEAR = 1900, 2200
LARGEST = 1_000_000
"""No number in a plan is larger; a larger one is a slip of the finger."""
MOST_DIGITS = 16
"""No number is written with more signs."""
MOST_SETS = 1000
"""No dose has more sets."""

UNIT_OF = {
    "SEC": "s",
    "MIN": "min",
    "HOUR": "h",
    "DAY": "day",
    "WEEK": "week",
    "KG": "kg",
    "LB": "lb",
    "METRE": "m",
    "CM": "cm",
    "MM": "mm",
    "INCH": "inch",
    "KM": "km",
    "MILE": "mile",
    "REPS": "reps",
    "STEPS_A_DAY": "steps/day",
    "MIN_A_WEEK": "min/week",
    "MIN_A_DAY": "min/day",
    "STEP": "steps",
    "POINT": "point",
    "PERCENT": "%",
    "MMHG": "mmHg",
    "SPEED": "m/s",
    "DEGREE": "degree",
    "MONTH": "month",
}

COUNTED = ("STEPS_A_DAY", "STEP", "REPS")


exact = lru_cache(maxsize=4096)(Fraction)
"""A number's text as the exact number; plans say the same few over and over."""


@lru_cache(maxsize=4096)
def _range(low: str, high: str) -> tuple[Range, str]:
    """The range between two numbers' texts, and what is wrong with it: `long`, `large`, `downwards` or nothing."""
    if max(len(low), len(high)) > MOST_DIGITS:
        return Range.of(0), "long"
    return _between(exact(low), exact(high), low, high)


def _between(a: Fraction, b: Fraction, low: str, high: str) -> tuple[Range, str]:
    if max(len(low), len(high)) > MOST_DIGITS:
        return Range.of(0), "long"
    if b > LARGEST:
        return Range.of(LARGEST), "large"
    return (Range(b, a), "downwards") if a > b else (Range(a, b), "")


def place(token: Token) -> Span:
    """Where a word stands."""
    return Span(token.start_pos, token.end_pos)


Numbers = Callable[[int, str], Fraction]
"""The number that a text of digits is, by the offset of the first of them in the source."""


@define
class Context:
    """The source that is built from, and what was found in it.

    `numbers`: what gives numbers that are more than their digits; None: nothing does.
    """

    source: Source
    findings: list[Finding] = field(factory=list)
    catalogue: Catalogue = BUILT_IN
    numbers: Numbers | None = None

    def exact(self, text: str, at: int) -> Fraction:
        """The number that a text at an offset is."""
        return exact(text) if self.numbers is None else self.numbers(at, text)

    def measure(self, written: str) -> str:
        """A measure's own name for one of its other names; one of a numbered kind, and an unknown one, as written."""
        known = self.catalogue.measure(written)
        return known.name if known and not known.numbered else written

    def cannot_read(self, message: str, span: Span, help: str = "") -> None:
        """A value that has the right shape and makes no sense."""
        self.findings.append(unreadable(message, span, self.source, help))

    def contradicts(
        self, message: str, span: Span, help: str = "", first: Span | None = None, harmful: bool = True
    ) -> None:
        """Two things that can't both hold; `first` is the other place."""
        related = (Related("the other is here", first, self.source),) if first else ()
        self.findings.append(contradiction(message, span, self.source, help, related, harmful))

    def cannot_reckon(self, message: str, span: Span | None, help: str = "") -> None:
        """Something read that can't be reckoned as written."""
        self.findings.append(unreckonable(message, span, self.source, help))

    def unknown(self, message: str, span: Span, help: str = "") -> None:
        """A word that no data knows: said, and rules for known ones don't judge it."""
        self.findings.append(Finding("unknown-word", Level.ADVICE, message, span, self.source, help))

    def number(self, token: Token) -> Fraction:
        """A plain number; one too large to be meant is a finding, and cut."""
        text = str(token)
        if len(text) > MOST_DIGITS:
            self.cannot_read(
                f"{text[:12]}... is too long a number to be meant here.", place(token), "Check the number."
            )
            return Fraction(0)
        value = self.exact(text, token.start_pos or 0)
        if less(LARGEST, value):
            self.cannot_read(f"{token} is too large to be meant here.", place(token), "Check the number.")
            return Fraction(LARGEST)
        return value

    def count(self, token: Token, least: int = 0) -> int:
        """A whole number, `least` or more; else a finding."""
        value = self.number(token)
        if value.denominator != 1 or less(value, least):
            self.cannot_read(f"{token} should be a whole number, {least} or more.", place(token))
            return max(least, int(value))
        return int(value)

    def amount(self, token: Token) -> int:
        """A whole number that is only reckoned with, never counted by; one that is more than its digits stays so."""
        value = self.number(token)
        return whole(value) if value.denominator == 1 else self.count(token)

    def range(self, token: Token) -> Range:
        """A NUMBER or a RANGE."""
        return self._ordered(str(token), 0, token)

    def _ordered(self, text: str, at: int, token: Token) -> Range:
        """`3` or `2-3`, which begins so many letters into a word."""
        low, _, high = text.partition("-")
        high = high or low
        if self.numbers is None:
            made, fault = _range(low, high)
        else:
            start = (token.start_pos or 0) + at
            made, fault = _between(self.exact(low, start), self.exact(high, start + text.rindex(high)), low, high)
        if fault == "long":
            self.cannot_read("This number is too long to be meant.", place(token), "Check the number.")
        elif fault == "large":
            self.cannot_read(f"{token} is too large to be meant here.", place(token), "Check the number.")
        elif fault == "downwards":
            self.contradicts(f"The range {token} runs downwards.", place(token), f"Write {high}-{low}.")
        return made

    def sets(self, token: Token) -> tuple[Range, Range]:
        """`2-3x2-5` as (sets, amount)."""
        sets, _, amount = str(token).partition("x")
        return self.some_sets(self.pair(sets, token), token), self.pair(amount, token, len(sets) + 1)

    def some_sets(self, sets: Range, token: Token) -> Range:
        """The number of sets; more than can be meant is a finding, and cut."""
        if not less(MOST_SETS, sets.high):
            return sets
        self.cannot_read(f"{token} holds more sets than can be meant.", place(token), "Check the number of sets.")
        return Range(min(sets.low, Fraction(MOST_SETS)), Fraction(MOST_SETS))

    def pair(self, text: str, token: Token, at: int = 0) -> Range:
        """`3` or `2-3`, part of a word from `at` on, of which each is 1 or more."""
        made = self._ordered(text, at, token)
        if less(made.low, 1):
            self.cannot_read(f"{token} holds a zero; a dose has one or more of each.", place(token))
            return Range.of(1)
        return made

    def rating(self, token: Token, scales: tuple[int, ...] = (10,)) -> tuple[Range, int]:
        """`6/10` or `3-5/10` as (rating, scale); a scale other than these, or a rating above it, is a finding."""
        text, _, scale_text = str(token).partition("/")
        rating = self._ordered(text, 0, token)
        scale = int(scale_text) if len(scale_text) < 5 else 9999
        if scale not in scales:
            meant = " or ".join(f"out of {s}" for s in scales)
            self.cannot_read(f"{token}: a rating here is {meant}.", place(token), f"Write it {meant}.")
            scale = scales[0]
        if rating.high > scale:
            self.cannot_read(f"{token} is more than its scale holds.", place(token), f"Write it out of {scale}.")
            rating = Range.of(scale)
        return rating, scale

    def date(self, token: Token) -> date | None:
        """A date of the calendar; one that does not exist is a finding."""
        try:
            day = date.fromisoformat(str(token))
        except ValueError:
            self.cannot_read(f"There is no {token} in the calendar.", place(token), "Write year-month-day: 2027-03-01.")
            return None
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            self.cannot_read(f"The year in {token} can't be meant.", place(token), "Check the year.")
            return None
        return day

    def time(self, token: Token) -> time | None:
        """A time of day, 24 hours."""
        hour, _, minute = str(token).partition(":")
        if int(hour) > 23 or int(minute) > 59:
            self.cannot_read(f"There is no {token} on a 24-hour clock.", place(token), "Write 07:30 or 18:00.")
            return None
        return time(int(hour), int(minute))

    def whole(self, number: Token, unit: Token) -> None:
        """A finding where a number of what is counted whole (steps, reps) has a point in it: 10.684 steps/day."""
        if unit.type in COUNTED and "." in number:
            self.cannot_read(
                f"{number} {unit}: these are counted whole.",
                place(number),
                f"Write {str(number).replace('.', '')}, if the point stands for thousands, or a whole number.",
            )

    def quantity(self, number: Token, unit: Token | None) -> Quantity:
        """A number with the unit beside it, if any."""
        if unit is not None:
            self.whole(number, unit)
        return Quantity(self.number(number), UNIT_OF[unit.type] if unit is not None else "")

    def value(self, node: Node) -> tuple[Quantity, int | None]:
        """A measure's value as (quantity, scale of a rating or None)."""
        first = node.children[0]
        assert isinstance(first, Token)
        if first.type == "RATING":
            rating, scale = self.rating(first, (10, 20, 100))
            return Quantity(rating.low), scale
        unit = node.children[1] if len(node.children) > 1 else None
        return self.quantity(first, unit if isinstance(unit, Token) else None), None


def texts(tokens: list[Token]) -> tuple[str, ...]:
    """Quoted texts without their quotes."""
    return tuple(str(t)[1:-1] for t in tokens)


__all__ = ["UNIT_OF", "Context", "place", "span_of", "texts"]
