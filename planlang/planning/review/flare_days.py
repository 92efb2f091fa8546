"""Flares as a diary's own pain lines come to them, beside those that the person called so.

A flare begins with pain at least 2 points above usual on at least 2 days in a row, and is over once it was back at
usual for at least 5 days in a row: Parry, Ogollah and Peat 2019, Osteoarthritis Cartilage 27. One of many definitions;
it is used for this count only, and moves nothing. Days of which nothing is told break a run.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from fractions import Fraction

from planlang.model.diary import What
from planlang.planning.past import Past
from planlang.planning.review.pain import usual_pain

DAY = timedelta(days=1)
ABOVE = Fraction(2)
BEGINS = 2
OVER = 5


def pain_by_day(past: Past) -> dict[date, Fraction]:
    """The pain of each day of which it is told by itself or as the morning after a session, out of 10; the highest."""
    found: dict[date, Fraction] = {}

    def told(day: date, value: Fraction) -> None:
        if day <= past.as_of:
            found[day] = max(found.get(day, value), value)

    for entry in past.diary.of(What.PAIN, What.MORNING):
        if entry.value is not None and entry.scale in (None, 10):
            told(entry.day, entry.value.value)
    for held in past.held:
        if held.on is not None and held.entry is not None and held.entry.morning is not None:
            told(held.on + DAY, held.entry.morning)
    return dict(sorted(found.items()))


def counted_flares(past: Past) -> tuple[tuple[date, date | None], ...]:
    """Flares by the definition: (first day, last day before the days at usual; None where it is not over)."""
    baseline = past.plan.today.measure("usual-pain")
    usual = baseline.value.value if baseline else usual_pain(past.plan, past.diary, past.as_of)
    return () if usual is None else flares_in(pain_by_day(past), usual)


def flares_in(pain: Mapping[date, Fraction], usual: Fraction) -> tuple[tuple[date, date | None], ...]:
    """The same for the pain of days, out of 10."""
    found: list[tuple[date, date | None]] = []
    high: list[date] = []
    low: list[date] = []
    for day, value in sorted(pain.items()):
        if found and found[-1][1] is None:
            low = [*_in_a_row(low, day), day] if value <= usual else []
            if len(low) == OVER:
                found[-1] = found[-1][0], low[0] - DAY
                low = []
            continue
        high = [*_in_a_row(high, day), day] if value >= usual + ABOVE else []
        if len(high) == BEGINS:
            found.append((high[0], None))
            high = []
    return tuple(found)


def _in_a_row(days: list[date], day: date) -> list[date]:
    return days if days and days[-1] == day - DAY else []
