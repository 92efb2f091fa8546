"""Traced numbers: the same as plain ones, and the same way taken wherever their record holds."""

from __future__ import annotations

import math
import operator
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.checking.ranges.cell import cell
from planlang.checking.ranges.cover import cover
from planlang.checking.ranges.grid import Box, Stretch, holds
from planlang.checking.ranges.trace import Axis, Trace
from planlang.checking.ranges.tracing import Traced, blank_value

STEPS = Axis("steps-now", Fraction(1000), Fraction(1), 5001)
HALVES = Axis("load-now", Fraction(1, 2), Fraction(1, 2), 30)
REPS = Axis("reps-now", Fraction(2), Fraction(1), 12)

SUMS = (operator.add, operator.sub, operator.mul, operator.truediv)
COMPARISONS = (operator.lt, operator.le, operator.gt, operator.ge, operator.eq, operator.ne)


def whole(*axes: Axis) -> Box:
    return tuple(Stretch(0, axis.count - 1) for axis in axes)


def traced(axis: Axis, k: int) -> tuple[Trace, Traced]:
    trace = Trace((axis,), (k,))
    return trace, blank_value(trace, 0)


numbers = st.fractions(min_value=-50, max_value=50, max_denominator=12)


@given(st.integers(0, 29), numbers, st.sampled_from(SUMS))
def test_arithmetic_equals_that_of_fractions(k: int, other: Fraction, op: Callable[[Any, Any], Any]) -> None:
    _, x = traced(HALVES, k)
    plain = HALVES.at(k)
    assert op(other, x) == op(other, plain)
    if other or op is not operator.truediv:
        assert op(x, other) == op(plain, other)
    assert op(x, x) == op(plain, plain)


@given(st.integers(0, 29), numbers, st.sampled_from(COMPARISONS))
def test_comparisons_equal_those_of_fractions(k: int, other: Fraction, op: Callable[[Any, Any], bool]) -> None:
    _, x = traced(HALVES, k)
    assert op(x - 7, other) is op(HALVES.at(k) - 7, other)
    assert op(other, x - 7) is op(other, HALVES.at(k) - 7)


UNARY: tuple[Callable[[Any], Any], ...] = (
    abs, operator.neg, operator.pos, math.floor, math.ceil, math.trunc, int, round, float, bool, str, hash,
    lambda x: round(x, 1), lambda x: x**2, lambda x: f"{float(x):.2f}", lambda x: x // 3, lambda x: x % 3,
    lambda x: divmod(x, Fraction(2, 3)), lambda x: 7 // (x + 20), lambda x: Fraction(x), lambda x: x.numerator,
    lambda x: x.denominator, lambda x: x.limit_denominator(3), lambda x: x.as_integer_ratio(), complex,
)  # fmt: skip


@pytest.mark.parametrize("op", UNARY)
@pytest.mark.parametrize("k", [0, 3, 5, 7, 21])
def test_every_operation_equals_that_of_fractions(op: Callable[[Any], Any], k: int) -> None:
    _, x = traced(HALVES, k)
    plain = HALVES.at(k)
    assert op(x - 5) == op(plain - 5)


def test_nothing_of_a_fraction_is_left_unmodelled() -> None:
    """Whatever Fraction can do is done by a traced number's own method, so that nothing is asked of it unseen."""
    made_by_class = {
        "from_decimal",
        "from_float",
        "__new__",
        "__module__",
        "__slots__",
        "__doc__",
        "__abstractmethods__",
    }
    made_by_class |= {"__class__", "__subclasshook__", "__init_subclass__"}
    below_others = {"_add", "_sub", "_mul", "_div", "_floordiv", "_mod", "_divmod", "_richcmp", "_operator_fallbacks"}
    fields = {"_numerator", "_denominator", "_abc_impl"}
    own = set(Traced.__dict__) | made_by_class | below_others | fields
    left = [name for name in dir(Fraction) if getattr(Fraction, name) is not getattr(object, name, None)]
    assert [name for name in left if name not in own] == []


def cell_of(axis: Axis, k: int, program: Callable[[Any], object], texts: list[Any] | None = None) -> Stretch:
    trace = Trace((axis,), (k,), texts=texts)
    program(blank_value(trace, 0))
    return cell(trace, (Stretch(k, axis.count - 1),))[0]


def test_a_comparison_holds_up_to_where_it_turns() -> None:
    assert cell_of(STEPS, 0, lambda x: x + 500 <= x * Fraction(5, 4)) == Stretch(0, 999)  # equal at 2000


def test_the_end_belongs_to_the_side_that_the_comparison_says() -> None:
    assert cell_of(STEPS, 0, lambda x: x < 3000).last == 1999
    assert cell_of(STEPS, 0, lambda x: x <= 3000).last == 2000


def test_cutting_down_to_a_multiple_holds_within_the_multiple() -> None:
    found = cell_of(STEPS, 50, lambda x: 100 * math.floor(x * Fraction(11, 10) / 100))
    assert (found.first, found.last) == (50, 90)  # 1155 to 1199.0 of 1050 to 1090


def test_whether_it_is_nothing_is_written_down() -> None:
    from_nothing = Axis("minutes", Fraction(0), Fraction(1), 6)
    assert cell_of(from_nothing, 0, bool) == Stretch(0, 0)
    assert cell_of(from_nothing, 1, lambda x: x or 5) == Stretch(1, 5)
    assert cell_of(Axis("minutes", Fraction(-2), Fraction(1), 6), 0, bool) == Stretch(0, 1)


def test_a_numerator_is_a_plain_number_and_writes_it_down() -> None:
    trace, x = traced(STEPS, 7)
    assert type(x.numerator) is int
    assert cell(trace, (Stretch(7, 5000),)) == (Stretch(7, 7),)


def test_a_hash_writes_the_number_down() -> None:
    assert cell_of(STEPS, 7, lambda x: {x: 1}) == Stretch(7, 7)


def test_a_text_that_is_read_again_writes_down_the_digits_behind_the_point_only() -> None:
    from planlang.model.quantity import number_text

    assert cell_of(STEPS, 0, number_text) == Stretch(0, 0)  # any other text may be compared
    assert cell_of(STEPS, 0, number_text, []) == Stretch(0, 5000)
    minutes = Axis("minutes", Fraction(5), Fraction(1), 120)
    assert cell_of(minutes, 0, number_text, []) == Stretch(0, 119)
    shares = Axis("share", Fraction(0), Fraction(1, 10), 30)
    assert cell_of(shares, 0, number_text, []) == Stretch(0, 20, 10, frozenset((0,)))


def test_halves_and_wholes_are_told_apart_by_their_cycle() -> None:
    from planlang.model.quantity import number_text

    found = cell_of(HALVES, 0, number_text, [])
    assert (found.modulus, found.residues, found.last) == (2, frozenset((0,)), 28)


def test_a_number_of_another_run_is_no_more_than_its_value() -> None:
    _, old = traced(STEPS, 3)
    old.trace.open = False
    trace, new = traced(STEPS, 10)
    assert old < new
    assert cell(trace, (Stretch(10, 5000),)) == (Stretch(10, 5000),)


def test_a_division_by_nothing_is_one() -> None:
    _, x = traced(STEPS, 0)
    with pytest.raises(ZeroDivisionError):
        1 / (x - 1000)


Program = Callable[[list[Fraction]], tuple[object, ...]]


@st.composite
def programs(draw: st.DrawFn, blanks: int) -> Program:
    """Straight-line programs of arithmetic, comparisons and cutting down, whose outcome is what they asked."""
    from planlang.model.quantity import number_text

    lines = draw(
        st.lists(
            st.tuples(
                st.sampled_from(("add", "sub", "mul", "div", "floor", "compare", "sort", "text", "int", "hash")),
                st.integers(0, 6),
                st.integers(0, 6),
                st.sampled_from(
                    (Fraction(1), Fraction(3), Fraction(-2), Fraction(1, 4), Fraction(11, 10), Fraction(25))
                ),
                st.sampled_from(COMPARISONS),
            ),
            min_size=1,
            max_size=7,
        )
    )

    def program(given: list[Fraction]) -> tuple[object, ...]:
        values, outcome = list(given), list[object]()
        for what, i, j, number, compare in lines:
            a, b = values[i % len(values)], values[j % len(values)]
            if what == "add":
                values.append(a + b * number)
            elif what == "sub":
                values.append(number - a)
            elif what == "mul" and len(values) < 6:
                values.append(a * b)
            elif what == "div" and b:
                values.append(a / b)
                outcome.append("divided")
            elif what == "floor":
                values.append(number * math.floor(a / number))
                outcome.append(values[-1] if not isinstance(values[-1], Traced) else "traced")
            elif what == "compare":
                outcome.append(compare(a, b + number))
            elif what == "sort":
                outcome.append([values.index(v) for v in sorted(values)])
            elif what == "text":
                outcome.append(len(number_text(a).partition(".")[2]))
            elif what == "int":
                outcome.append(int(a))
            elif what == "hash" and i == 0:
                outcome.append(hash(a))
        return tuple(outcome)

    del blanks
    return program


@settings(max_examples=150, deadline=None)
@given(programs(1), st.sampled_from((HALVES, REPS)))
def test_one_way_is_taken_everywhere_in_a_cell(program: Program, axis: Axis) -> None:
    found = cover((axis,), lambda trace: program([blank_value(trace, 0)]), 100, 0)
    assert found.proved
    for k in range(axis.count):
        own = [each for each in found.cells if holds(each.box, (k,))]
        assert len(own) == 1
        assert own[0].outcome == program([axis.at(k)])


@settings(max_examples=60, deadline=None)
@given(programs(2))
def test_one_way_is_taken_everywhere_in_a_box_of_two_blanks(program: Program) -> None:
    axes = (Axis("a", Fraction(1, 2), Fraction(1, 2), 9), Axis("b", Fraction(3), Fraction(1), 8))
    found = cover(axes, lambda trace: program([blank_value(trace, 0), blank_value(trace, 1)]), 200, 0)
    assert found.proved
    for a in range(9):
        for b in range(8):
            own = [each for each in found.cells if holds(each.box, (a, b))]
            assert len(own) == 1
            assert own[0].outcome == program([axes[0].at(a), axes[1].at(b)])


def test_past_the_bound_the_rest_is_searched_and_says_so() -> None:
    found = cover((STEPS,), lambda trace: hash(blank_value(trace, 0)), 50, 20)
    assert not found.proved
    assert found.runs == 70
    assert found.tried == 20
    assert all(each.outcome == hash(STEPS.at(each.box[0].first)) for each in found.cells)


@pytest.mark.parametrize("op", COMPARISONS)
@pytest.mark.parametrize("against", [Fraction(-3, 2), 0, 1, Fraction(3, 2), 2, Fraction(8, 3), 4, 9])
def test_what_is_rounded_up_compares_like_the_whole_number(op: Callable[[Any, Any], bool], against: Any) -> None:
    for k in range(30):
        trace, x = traced(HALVES, k)
        plain = math.ceil(HALVES.at(k) / 2)
        assert op(math.ceil(x / 2), against) is op(plain, against)
        assert op(against, math.ceil(x / 2)) is op(against, plain)
        within = cell(trace, (Stretch(k, HALVES.count - 1),))[0]
        assert all(op(math.ceil(HALVES.at(j) / 2), against) is op(plain, against) for j in range(k, within.last + 1))


def test_what_is_rounded_up_is_a_plain_number_to_everything_else() -> None:
    _, x = traced(HALVES, 4)
    up = math.ceil(x)
    assert (up + 1, 1 + up, up * 2, 2 * up, up - 1, 7 // up, up % 2, up**2, -up, abs(up)) == (
        4,
        4,
        6,
        6,
        2,
        2,
        1,
        9,
        -3,
        3,
    )
    assert (int(up), list(range(up)), f"{up:03d}", float(up), up * 1 is up) == (3, [0, 1, 2], "003", 3.0, True)
    assert {up: "a"} == {3: "a"}


def test_what_is_rounded_up_is_not_settled_by_a_bound_far_off() -> None:
    assert cell_of(STEPS, 0, lambda x: math.ceil(x / 7) > 10_000) == Stretch(0, 5000)
    assert cell_of(STEPS, 0, lambda x: operator.index(math.ceil(x / 7))).last == 1  # 1000 and 1001: both 143
