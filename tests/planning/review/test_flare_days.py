"""Flares by a diary's own pain lines, against the published definition.

Parry, Ogollah and Peat 2019, Osteoarthritis Cartilage 27: a flare begins with pain at least 2 points above one's own
usual on at least 2 days in a row, and is over when it was back at usual for at least 5 days in a row.
"""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest

from planlang.planning.review.flare_days import counted_flares, flares_in
from planlang.planning.review.wording import counted_text
from tests.planning.review.reviews import past, review

FIRST = date(2027, 3, 1)


def days(values: str) -> dict[date, Fraction]:
    """One character a day: the pain out of 10, `.` where nothing is told."""
    return {FIRST + timedelta(days=n): Fraction(int(c)) for n, c in enumerate(values) if c != "."}


def found(values: str, usual: int = 3) -> list[tuple[int, int | None]]:
    """Flares as (first day, last day), days counted from 1."""
    return [
        ((first - FIRST).days + 1, None if last is None else (last - FIRST).days + 1)
        for first, last in flares_in(days(values), Fraction(usual))
    ]


@pytest.mark.parametrize(
    ("values", "flares"),
    [
        ("3333333", []),
        ("3353333", []),  # two points above usual, one day only
        ("3443333", []),  # one point above usual for two days
        ("3355333", [(3, None)]),  # two days make one; three days at usual do not end it
        ("335533333", [(3, 4)]),  # five days at usual do
        ("33553333433333", [(3, 9)]),  # a day above usual begins the five anew
        ("3355333335533333", [(3, 4), (10, 11)]),
        ("35.5333", []),  # nothing told of the day between: not known to be in a row
        ("3355333.33", [(3, None)]),  # nor are the five days here
        ("3366222223", [(3, 4)]),  # below usual is back at it too
        ("33878", [(3, None)]),
    ],
)
def test_beginning_and_end(values: str, flares: list[tuple[int, int | None]]) -> None:
    assert found(values) == flares


def test_usual_is_that_of_the_plan() -> None:
    """The plan says 3 of 10: 5 on two days begins a flare, 4 does not."""
    assert counted_flares(past("2027-03-02 pain 5/10\n2027-03-03 pain 5/10")) == ((date(2027, 3, 2), None),)
    assert counted_flares(past("2027-03-02 pain 4/10\n2027-03-03 pain 4/10")) == ()


def test_the_morning_after_a_session_is_a_day_too() -> None:
    lines = '2027-03-01 done "Chair and bench" morning 5/10\n2027-03-03 pain 6/10'
    assert counted_flares(past(lines)) == ((date(2027, 3, 2), None),)


def test_the_count_names_its_source_and_moves_nothing() -> None:
    """Pain by itself makes no easier week: only what the person calls a flare does."""
    lines = "\n".join(f"2027-03-{day:02} pain 7/10" for day in range(1, 8))
    made = review(lines)
    assert made.pain.counted == ((date(2027, 3, 1), None),)
    assert "Parry et al 2019" in counted_text(made)
    assert "used for this count only" in counted_text(made)
    assert made.rest_taken == 0
    assert made.pain.flare is None
