"""Stretches and boxes of fillings: taken apart and put together without losing or doubling one."""

from __future__ import annotations

from itertools import pairwise, product

from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.checking.ranges.grid import Box, Stretch, cycle, holds, rest_of, stretch, volume, without
from planlang.checking.ranges.search import points
from planlang.checking.ranges.signs import at, runs, sign
from planlang.checking.ranges.together import free, merged
from planlang.checking.ranges.trace import Axis


@st.composite
def stretches(draw: st.DrawFn, last: int = 14) -> Stretch:
    modulus = draw(st.integers(1, 4))
    residues = draw(st.frozensets(st.integers(0, modulus - 1), min_size=1))
    first = draw(st.integers(0, last))
    made = stretch(first, draw(st.integers(first, last)), modulus, residues)
    return made or Stretch(first, first)


def members(each: Stretch) -> set[int]:
    return {k for k in range(40) if k in each}


def listed(box: Box) -> set[tuple[int, ...]]:
    return set(product(*(members(each) for each in box)))


@given(stretches())
def test_a_stretch_counts_its_members_and_ends_with_them(each: Stretch) -> None:
    assert each.count == len(members(each))
    assert (each.first, each.last) == (min(members(each)), max(members(each)))


@given(stretches(), st.integers(1, 5), st.data())
def test_a_cycle_of_a_cycle_holds_what_both_hold(each: Stretch, modulus: int, data: st.DataObject) -> None:
    residues = data.draw(st.frozensets(st.integers(0, modulus - 1)))
    made = cycle(each, modulus, residues)
    assert (members(made) if made else set()) == {k for k in members(each) if k % modulus in residues}


@given(st.lists(stretches(), min_size=2, max_size=2), st.data())
def test_a_stretch_without_a_part_holds_all_the_others_once(both: list[Stretch], data: st.DataObject) -> None:
    whole = both[0]
    first = data.draw(st.sampled_from(sorted(members(whole))))
    part = stretch(first, data.draw(st.integers(first, whole.last)), whole.modulus, whole.residues)
    assert part is not None
    left = without(whole, part)
    assert sorted(k for piece in left for k in members(piece)) == sorted(members(whole) - members(part))


@settings(deadline=None)
@given(st.lists(st.tuples(stretches(7), stretches(7)), min_size=1, max_size=5))
def test_boxes_put_together_hold_the_same_fillings(boxes: list[Box]) -> None:
    apart: list[Box] = []
    for box in boxes:
        pieces = [box]
        for other in apart:
            pieces = [
                p for piece in pieces for p in (_minus(piece, other) if listed(piece) & listed(other) else [piece])
            ]
        apart += pieces
    made = merged(apart)
    assert set().union(*(listed(box) for box in made)) == set().union(*(listed(box) for box in boxes))
    assert sum(volume(box) for box in made) == len(set().union(*(listed(box) for box in boxes)))
    assert len(made) <= len(apart)


def _minus(box: Box, other: Box) -> list[Box]:
    """A box without the fillings of another, one filling a box: slow and plain."""
    return [tuple(Stretch(k, k) for k in point) for point in sorted(listed(box) - listed(other))]


@given(st.lists(st.integers(-9, 9), min_size=1, max_size=4), st.integers(0, 60))
def test_runs_of_one_sign_are_those_of_the_polynomial(coefficients: list[int], last: int) -> None:
    found = runs(tuple(coefficients), last)
    assert [k for first, end, _ in found for k in range(first, end + 1)] == list(range(last + 1))
    assert all(sign(at(coefficients, k)) == own for first, end, own in found for k in range(first, end + 1))
    assert all(a[2] != b[2] for a, b in pairwise(found))


def test_the_widest_range_that_is_free_is_the_lowest_of_equal_ones() -> None:
    boxes = [(Stretch(3, 4),), (Stretch(8, 9),)]
    assert free(boxes, 0, 13) == (0, 2)
    assert free([(Stretch(0, 12),)], 0, 13) is None
    assert free([(Stretch(0, 4),)], 0, 13) == (5, 12)


def test_what_is_left_of_a_box_does_not_overlap() -> None:
    box = (Stretch(0, 9), Stretch(0, 9))
    part = (Stretch(0, 3), Stretch(0, 9, 2, frozenset((0,))))
    left = list(rest_of(box, part))
    assert sum(volume(each) for each in left) == volume(box) - volume(part)
    assert not any(holds(each, (2, 4)) for each in left)


def test_the_search_is_the_same_every_time_and_begins_at_the_ends() -> None:
    from fractions import Fraction

    axes = (Axis("a", Fraction(0), Fraction(1), 100), Axis("b", Fraction(0), Fraction(1), 7))
    found = list(points(axes, 60))
    assert found == list(points(axes, 60))
    assert found[:5] == [(0, 0), (0, 6), (99, 0), (99, 6), (50, 3)]
    assert len(set(found)) == len(found)
    assert all(a < 100 and b < 7 for a, b in found)
