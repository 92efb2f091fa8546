"""What stands between `<` and `>`, read and reckoned exactly."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planlang.model.composing.expression import (
    Blank,
    Number,
    Product,
    Rounded,
    Sum,
    Term,
    Written,
    names,
    read,
    replaced,
    unit_word,
    value,
)
from planlang.model.quantity import UNITS

READ = [
    ("b", [(1, "b", None)], None),
    ("  b  ", [(1, "b", None)], None),
    ("daily-steps-now", [(1, "daily-steps-now", None)], None),
    ("b + 1800 steps/day", [(1, "b", None), (1800, None, "steps/day")], None),
    ("b - 2", [(1, "b", None), (-2, None, None)], None),
    ("b – 2", [(1, "b", None), (-2, None, None)], None),
    ("2 x b", [(2, "b", None)], None),
    ("2×b", [(2, "b", None)], None),
    ("80 % of b", [(Fraction(4, 5), "b", None)], None),
    ("80% of b rounded to 100", [(Fraction(4, 5), "b", None)], 100),
    ("1.5 x b + 50 % of c", [(Fraction(3, 2), "b", None), (Fraction(1, 2), "c", None)], None),
    ("b + 5 rounded to 2.5", [(1, "b", None), (5, None, None)], Fraction(5, 2)),
    ("pas-nå", [(1, "pas-nå", None)], None),
    ("10 - b", [(10, None, None), (-1, "b", None)], None),
]


@pytest.mark.parametrize(("text", "terms", "grain"), READ)
def test_read(text, terms, grain):
    assert read(text) == Written(tuple(Term(Fraction(f), b, u) for f, b, u in terms), grain and Fraction(grain))


@pytest.mark.parametrize(
    "text", ["", " ", "7", "+ b", "b +", "b + + 2", "b -2 ", "b rounded", "b rounded to", "b c", "x" * 300]
)
def test_not_read(text):
    assert isinstance(read(text), str)


@given(st.text(max_size=40))
def test_any_text_is_read_or_told_why(text):
    assert isinstance(read(text), (str, Written))


@pytest.mark.parametrize("word", UNITS)
def test_units_are_known_by_their_own_word(word):
    assert not word or unit_word(word) == word


@pytest.mark.parametrize(("word", "unit"), [("weeks", "week"), ("minutes", "min"), ("rep", "reps"), ("furlong", None)])
def test_units_are_known_as_people_write_them(word, unit):
    assert unit_word(word) == unit


def test_value_is_exact():
    expr = Sum((Product((Number(Fraction(4, 5)), Blank("b"))), Number(Fraction(-2))))
    assert value(expr, {"b": Fraction(7, 3)}) == Fraction(-2, 15)
    assert value(Rounded(expr, Fraction(5)), {"b": Fraction(31)}) == 20


def test_blanks_are_named_in_order_and_replaced():
    expr = Sum((Blank("b"), Product((Blank("a"), Blank("b")))))
    assert names(expr) == ("b", "a")
    assert value(replaced(expr, lambda name: Number(Fraction(len(name)))), {}) == 2
