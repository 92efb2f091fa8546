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

    Best is the set whose gaps to the others, one for each pair of days, smallest first, are largest
    entry by entry; then the same of the gaps from each of its own days to the next, round the week;
    then the one that comes first in the week.
    """
    best: tuple[int, ...] | None = None
    best_gaps: tuple[list[int], list[int]] | None = None
    for days in combinations(sorted(set(allowed) - set(kept)), count):
        own = sorted(round_the_week(kept + days))
        if between and own[0] <= between:
            continue
        gaps = (sorted(GAP[(a - b) % 7] for a in days for b in others), own)
        if best_gaps is None or gaps > best_gaps:
            best, best_gaps = days, gaps
    return best


def round_the_week(days: Iterable[int]) -> list[int]:
    """The gap from each day to the next, the last one to the first of the week after: seven days in all."""
    ordered = sorted(set(days))
    return [(b - a - 1) % 7 + 1 for a, b in zip(ordered, ordered[1:] + ordered[:1], strict=True)]


def spaced(days: Iterable[int], between: int) -> bool:
    """True where any two of the days have at least so many whole days between them, round the week."""
    return all(gap > between for gap in round_the_week(days))
