"""Sessions week by week, one box each; easier weeks stand in their place as part of the plan."""

from __future__ import annotations

from collections.abc import Sequence

from planlang.people.drawing import Drawing
from planlang.people.review.frame import SMALL, WIDTH, Across, dashed_box, hatched
from planlang.planning.past import Outcome
from planlang.planning.review.data import Review, WeekHeld
from planlang.planning.review.wording import week_text
from planlang.planning.week import WeekKind

BOX, GAP, LEFT = 14.0, 3.0, 60.0
MOST = 8
"""Boxes on top of one another; more sessions make them smaller."""
MIN_WEEKS = 8


def weeks_chart(review: Review) -> str:
    """The picture. Shape: as many weeks as have begun."""
    weeks = review.weeks
    words = " ".join(f"Week {w.number}: {week_text(w)}." for w in weeks)
    draw = Drawing(WIDTH, "Sessions by week", words, name="weeks", inline=True)
    across = Across(max(len(weeks), MIN_WEEKS), LEFT)
    most = max([3, *(len(w.outcomes) for w in weeks)])
    high = min(BOX, BOX * MOST / most)
    base = 10 + most * (high + GAP)
    for n, week in enumerate(weeks):
        _column(draw, across, n, week, base, high)
    draw.line(LEFT, base + 1, across.end, base + 1)
    across.numbers(draw, base + 16)
    draw.text(LEFT - 8, base + 16, "week", size=SMALL, end=True)
    return draw.finished(_legend(draw, base + 40, weeks) + 8)


def _column(draw: Drawing, across: Across, n: int, week: WeekHeld, base: float, high: float) -> None:
    wide = min(across.week - 3, 26)
    x = across.at(n + 0.5) - wide / 2
    if week.kind is WeekKind.REST:
        hatched(draw, x, 10, wide, base - 11)
        return
    if week.kind is WeekKind.AWAY and not week.outcomes:
        draw.text(x + wide / 2, base - 6, "away" if wide > 25 else "a", size=SMALL, middle=True)
        return
    for i, outcome in enumerate(week.outcomes):
        box(draw, x, base - (i + 1) * (high + GAP) + 1, wide, high, outcome)


def box(draw: Drawing, x: float, y: float, wide: float, high: float, outcome: Outcome) -> None:
    """One session: filled, half filled, empty, dashed, or dotted at its foot."""
    match outcome:
        case Outcome.DONE:
            draw.box(x, y, wide, high, fill="#000")
        case Outcome.PART:
            draw.box(x, y, wide, high, fill="#fff")
            draw.box(x, y + high / 2, wide, high / 2, fill="#000")
        case Outcome.NOT_DONE:
            draw.box(x, y, wide, high, fill="#fff")
        case Outcome.BLANK:
            dashed_box(draw, x, y, wide, high)
        case Outcome.AHEAD:
            draw.line(x, y + high - 1, x + wide, y + high - 1, dashes="1 3")


LEGEND = (
    (Outcome.DONE, "done"),
    (Outcome.PART, "in part"),
    (Outcome.NOT_DONE, "not done"),
    (Outcome.BLANK, "no entry"),
    (Outcome.AHEAD, "ahead"),
)


def _legend(draw: Drawing, y: float, weeks: Sequence[WeekHeld]) -> float:
    """The signs that the picture uses, in a row."""
    used = {outcome for week in weeks for outcome in week.outcomes}
    x = 8.0
    for outcome, words in LEGEND:
        if outcome in used:
            box(draw, x, y - 11, 20, 12, outcome)
            draw.text(x + 26, y, words, size=SMALL)
            x += 40 + 7 * len(words)
    if any(week.kind is WeekKind.REST for week in weeks):
        if x > WIDTH / 2:
            x, y = 8.0, y + 18
        hatched(draw, x, y - 11, 20, 12)
        draw.text(x + 26, y, "easier week, part of the plan", size=SMALL)
    return y
