"""Which days of the week a session falls on: the day chooser.

Days are offsets (0 to 6) from the first day of the plan's own week. Gaps are counted round the week,
the shorter way, so that one week's days never depend on another's.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import combinations

GAP = tuple(min(d, 7 - d) for d in range(7))


@lru_cache(maxsize=4096)
def choose(
    count: int,
    allowed: tuple[int, ...],
    between: int = 0,
    others: tuple[int, ...] = (),
    kept: tuple[int, ...] = (),
) -> tuple[int, ...] | None:
    """The best `count` days of those allowed, in order; None where no set of days meets the rule.

    between: whole days between two of its own days, at least.
    others: days of sessions, placed before it, that train a muscle it trains (a day once for each).
    kept: days that it has already; they count among its own days and aren't chosen again.

    Best is the set whose gaps to the others, smallest first, are largest entry by entry; then the
    same of the gaps between each two of its own days; then the one that comes first in the week.
    """
    best: tuple[int, ...] | None = None
    best_gaps: tuple[list[int], list[int]] | None = None
    for days in combinations(sorted(set(allowed) - set(kept)), count):
        own = sorted(GAP[(a - b) % 7] for a, b in combinations(kept + days, 2))
        if between and own and own[0] <= between:
            continue
        gaps = (sorted(GAP[(a - b) % 7] for a in days for b in others), own)
        if best_gaps is None or gaps > best_gaps:
            best, best_gaps = days, gaps
    return best


def spaced(days: Iterable[int], between: int) -> bool:
    """True where any two of the days have at least so many whole days between them, round the week."""
    return all(GAP[(a - b) % 7] > between for a, b in combinations(sorted(set(days)), 2))
