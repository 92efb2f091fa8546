"""Pain day by day against what is usual and the plan's limit, with the flares as told."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction

from planlang.people.drawing import Drawing
from planlang.people.review.frame import PALE, SMALL, WIDTH, Across
from planlang.planning.review.data import Review
from planlang.planning.review.wording import day_text, number

LEFT, TOP, POINT = 84.0, 12.0, 13.0
TEN = 10
MIN_WEEKS = 4
MOST_WEEKS = 26
"""Weeks shown, the last ones: more would be too close to tell apart."""


def pain_chart(review: Review) -> str:
    """The picture. Shape: the weeks so far, at most half a year of them; out of 10 upwards."""
    first, weeks = shown(review)
    draw = Drawing(WIDTH, "Pain against usual and limit", " ".join(_said(review, first)), name="pain", inline=True)
    across = Across(weeks, LEFT)
    base = TOP + TEN * POINT

    def high(value: Fraction | int) -> float:
        return base - float(value) * POINT

    known = review.pain.limit
    if known.usual is not None and known.usual < known.during:
        draw.box(LEFT, high(known.during), across.end - LEFT, high(known.usual) - high(known.during), PALE, "none")
    draw.line(LEFT, high(known.during), across.end, high(known.during), dashes="6 3")
    draw.text(LEFT - 8, high(known.during) + 4, f"limit {number(known.during)}", size=SMALL, end=True)
    if known.usual is not None:
        draw.line(LEFT, high(known.usual), across.end, high(known.usual))
        if known.usual != known.during:
            draw.text(LEFT - 8, high(known.usual) + 4, f"usual {number(known.usual)}", size=SMALL, end=True)
    for value in (0, TEN):
        if value not in (known.usual, known.during):
            draw.text(LEFT - 8, high(value) + 4, f"{value}/10", size=SMALL, end=True)
    mornings = {day for day, _ in _mornings(review)}
    for day, pain in review.pain.days:
        if day >= first:
            draw.diamond(across.at(((day - first).days + 0.5) / 7), high(pain), 3.6, hollow=day not in mornings)
    draw.line(LEFT, base, across.end, base)
    draw.line(LEFT, high(TEN), LEFT, base)
    _flares(draw, review, across, first, base)
    number_one = (first - review.past.weeks.weeks[0].starts).days // 7 + 1
    across.numbers(draw, base + 32, number_one)
    draw.text(LEFT - 8, base + 32, "week", size=SMALL, end=True)
    y = base + 56
    draw.diamond(14, y - 4, 4)
    draw.text(24, y, "next morning", size=SMALL)
    draw.diamond(124, y - 4, 4, hollow=True)
    draw.text(134, y, "pain told by itself", size=SMALL)
    draw.box(262, y - 11, 20, 12, PALE, "none")
    draw.text(288, y, "from usual to the limit", size=SMALL)
    draw.box(434, y - 8, 20, 6, "#000")
    draw.text(460, y, "flare, as told", size=SMALL)
    return draw.finished(y + 8)


def shown(review: Review) -> tuple[date, int]:
    """The first day shown, and how many weeks."""
    start = review.past.weeks.weeks[0].starts
    begun = max((review.as_of - start).days // 7 + 1, MIN_WEEKS)
    weeks = min(begun, MOST_WEEKS)
    return start + timedelta(weeks=begun - weeks), weeks


def _mornings(review: Review) -> Iterator[tuple[date, Fraction]]:
    """Those days of which the pain told is that of the morning."""
    from planlang.planning.review.pain import mornings

    told = dict(review.pain.days)
    for day, value in mornings(review.past, review.past.weeks.weeks[0].starts):
        if told.get(day) == value:
            yield day, value


def _flares(draw: Drawing, review: Review, across: Across, first: date, base: float) -> None:
    for one in review.pain.told:
        start = max((one.first - first).days, 0)
        end = min((one.first - first).days + one.days, across.weeks * 7)
        if end > start:
            draw.box(across.at(start / 7), base + 6, across.at(end / 7) - across.at(start / 7), 6, "#000")


def _said(review: Review, first: date) -> Iterator[str]:
    known = review.pain.limit
    usual = f"Usual {number(known.usual)}" if known.usual is not None else "Usual not known"
    yield f"{usual}, limit {number(known.during)} out of 10 during a session."
    told = [f"{day_text(day)} {number(value)}" for day, value in review.pain.days if day >= first]
    yield f"Told: {', '.join(told)}." if told else "No pain told."
    for one in review.pain.told:
        yield f"Flare from {day_text(one.first)}, {one.days} days."
