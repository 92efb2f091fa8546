"""Goal attainment: how far goals were reached, each on its own scale from -2 to +2, put together as one T score.

T = 50 + 10 S(w x) / sqrt((1 - r) S(w w) + r S(w) S(w)), with r = 0.30: Kiresuk and Sherman 1968, Community Ment
Health J 4:443. 50 where everything came out as expected. For the clinician: never shown to the person.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import sqrt

CORRELATION = Fraction(3, 10)
"""How far goals of one person are taken to go together (Kiresuk and Sherman 1968)."""
LEVELS = {"much-less": -2, "less": -1, "expected": 0, "more": 1, "much-more": 2}


def t_score(levels: Sequence[int], weights: Sequence[Fraction] | None = None) -> float | None:
    """The T score of levels from -2 to +2, all of weight 1 where none are given; None without a goal.

    Raises ValueError for a level outside the scale, or weights that are not above zero, one for each level.
    """
    shares = [Fraction(1)] * len(levels) if weights is None else list(weights)
    if len(shares) != len(levels) or any(w <= 0 for w in shares):
        raise ValueError("each goal needs a weight above zero")
    if any(not -2 <= level <= 2 for level in levels):
        raise ValueError("a level is from -2 to +2")
    if not levels:
        return None
    weighed = sum(w * x for w, x in zip(shares, levels, strict=True))
    spread = (1 - CORRELATION) * sum(w * w for w in shares) + CORRELATION * sum(shares) ** 2
    return 50 + 10 * float(weighed) / sqrt(spread)


def level_of(score: Sequence[tuple[str, Fraction]], value: Fraction) -> int | None:
    """The level that a value has reached on a goal's own scale; below the lowest one that is written, that one's.

    `score`: (name of the level, value), rising or falling with the levels. None where fewer than two levels are
    written, or where their values neither rise nor fall.
    """
    known = sorted((LEVELS[name], at) for name, at in score if name in LEVELS)
    values = [at for _, at in known]
    if len(known) < 2:
        return None
    rising = all(a < b for a, b in pairwise(values))
    if not rising and not all(a > b for a, b in pairwise(values)):
        return None
    reached = [level for level, at in known if (value >= at if rising else value <= at)]
    return reached[-1] if reached else known[0][0]
