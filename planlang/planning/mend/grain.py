"""By how much a number of a plan is changed at a time: what people would write."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planlang.model.quantity import Quantity

AMOUNT = r"^\S+\s+(\d+(?:\.\d+)?)"  # the first number of a line, straight after its word
GRAINS = {
    "steps/day": Fraction(50),
    "min/week": Fraction(5),
    "s": Fraction(5),
    "m": Fraction(50),
    "km": Fraction(1, 10),
    "mile": Fraction(1, 10),
    "kg": Fraction(1, 2),
}  # every other unit by ones


def grain(quantity: Quantity) -> Fraction:
    """The step by which a quantity is tried; finer where the one written is."""
    usual = GRAINS.get(quantity.unit, Fraction(1))
    while quantity.value % usual and usual > Fraction(1, 100):
        usual /= 10 if usual.numerator == 1 else 5
    return usual


def smaller(quantity: Quantity) -> Iterator[Fraction]:
    """The values below a quantity, the largest first, above nothing."""
    by = grain(quantity)
    value = quantity.value - by
    while value > 0:
        yield value
        value -= by


def larger(quantity: Quantity) -> Iterator[Fraction]:
    """The values above a quantity, the smallest first, to twice as much."""
    by = grain(quantity)
    value = quantity.value + by
    while value <= 2 * quantity.value:
        yield value
        value += by
