"""Goal attainment against published numbers."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planlang.planning.review.attainment import LEVELS, level_of, t_score

# Turner-Stokes and Williams 2010, Clin Rehabil 24:528 (243 people, 977 goals, 1 to 6 each): medians and quartiles as
# published; which numbers of goals give them is our own reckoning with equal weights.
COHORT = [
    ([-2] * 4, 21.0),
    ([-2] * 3, 22.6),
    ([-2] * 5, 19.8),
    ([-1] * 5, 34.9),
    ([-1] * 4, 35.5),
    ([-1, -1, -1, -2], 31.9),
    ([0] * 4, 50.0),
]


@pytest.mark.parametrize(("levels", "published"), COHORT)
def test_the_cohorts_quartiles_come_out(levels: list[int], published: float) -> None:
    assert t_score(levels) == pytest.approx(published, abs=0.051)


# One goal alone: ten points a level (Kiresuk and Sherman 1968, the scale's own definition).
@pytest.mark.parametrize(("level", "score"), [(-2, 30), (-1, 40), (0, 50), (1, 60), (2, 70)])
def test_one_goal_is_ten_points_a_level(level: int, score: int) -> None:
    assert t_score([level]) == pytest.approx(score)


# Two goals: 37.6, 43.8, 56.2, 62.4 stand in many papers (from memory).
@pytest.mark.parametrize(("levels", "score"), [([-1, -1], 37.6), ([-1, 0], 43.8), ([1, 0], 56.2), ([1, 1], 62.4)])
def test_two_goals_as_papers_have_them(levels: list[int], score: float) -> None:
    assert t_score(levels) == pytest.approx(score, abs=0.05)


def test_weights_count() -> None:
    assert t_score([1, 0], [Fraction(2), Fraction(1)]) == pytest.approx(58.03, abs=0.005)  # own reckoning by hand
    assert t_score([0, 1, -1], [Fraction(3), Fraction(2), Fraction(1)]) == pytest.approx(52.20, abs=0.005)


def test_no_goal_has_no_score() -> None:
    assert t_score([]) is None


@pytest.mark.parametrize(("levels", "weights"), [([3], None), ([1], [Fraction(0)]), ([1], [])])
def test_what_is_no_scale_is_refused(levels: list[int], weights: list[Fraction] | None) -> None:
    with pytest.raises(ValueError, match=r"goal needs|a level is"):
        t_score(levels, weights)


@given(st.lists(st.integers(-2, 2), min_size=1, max_size=8))
def test_better_is_never_lower_and_the_opposite_mirrors(levels: list[int]) -> None:
    score = t_score(levels)
    mirrored = t_score([-level for level in levels])
    assert score is not None
    assert mirrored is not None
    assert score + mirrored == pytest.approx(100)
    for i, level in enumerate(levels):
        if level < 2:
            higher = t_score([*levels[:i], level + 1, *levels[i + 1 :]])
            assert higher is not None
            assert higher > score


STANDS = [("much-less", 8), ("less", 9), ("expected", 11), ("more", 13), ("much-more", 15)]
SECONDS = [("much-less", 16), ("less", 14), ("expected", 12), ("more", 11), ("much-more", 10)]


@pytest.mark.parametrize(
    ("score", "value", "level"),
    [
        (STANDS, 7, -2),
        (STANDS, 8, -2),
        (STANDS, 10, -1),
        (STANDS, 11, 0),
        (STANDS, 12, 0),
        (STANDS, 15, 2),
        (STANDS, 40, 2),
        (SECONDS, 20, -2),
        (SECONDS, 13, -1),
        (SECONDS, 12, 0),
        (SECONDS, 9, 2),
    ],
)
def test_a_value_reaches_the_level_whose_mark_it_has_passed(
    score: list[tuple[str, int]], value: int, level: int
) -> None:
    assert level_of([(name, Fraction(at)) for name, at in score], Fraction(value)) == level


def test_a_scale_that_turns_is_none() -> None:
    assert level_of([("less", Fraction(9)), ("expected", Fraction(11)), ("more", Fraction(10))], Fraction(10)) is None
    assert level_of([("expected", Fraction(11))], Fraction(11)) is None


def test_the_levels_are_five() -> None:
    assert list(LEVELS.values()) == [-2, -1, 0, 1, 2]
