"""A measure from its baseline on, with the band that its own error makes about the baseline."""

from __future__ import annotations

from datetime import date

from planlang.people.drawing import Drawing, joined
from planlang.people.review.frame import PALE, SMALL, WIDTH
from planlang.planning.review.data import Change
from planlang.planning.review.wording import change_text, day_text, number

LEFT, TOP, HEIGHT = 84.0, 14.0, 90.0
RIGHT = 60.0


def measure_chart(one: Change, place: int) -> str:
    """The picture of one measure that was measured again. place: tells it apart from others on the page."""
    draw = Drawing(WIDTH, f"{one.title} by date", change_text(one), name=f"measure-{place}", inline=True)
    course = one.course
    start, last = course[0][0], course[-1][0]
    values = [float(value) for _, value in course]
    error = float(one.error) if one.error is not None else 0.0
    if one.start is not None:
        values += [float(one.start) - error, float(one.start) + error]
    low, top = min(values), max(values)
    room = (top - low) * 0.12 or 1.0
    low, top = low - room, top + room
    days = max((last - start).days, 1)
    right = WIDTH - RIGHT

    def across(day: date) -> float:
        return LEFT + (right - LEFT) * (day - start).days / days

    def high(value: float) -> float:
        return TOP + HEIGHT * (top - value) / (top - low)

    if one.start is not None:
        at = float(one.start)
        if error:
            draw.box(LEFT, high(at + error), right - LEFT, high(at - error) - high(at + error), PALE, "none")
            for edge in (at - error, at + error):
                draw.line(LEFT, high(edge), right, high(edge), thick=0.7, dashes="1 3")
            words = f"within the measure's own error of {number(one.error or one.start)}"
            draw.text(LEFT + 6, high(at - error) - 6, words, size=SMALL, halo=True)
        draw.line(LEFT, high(at), right, high(at), dashes="6 3")
        draw.text(LEFT - 8, high(at) + 4, f"start {number(one.start)}", size=SMALL, end=True)
    draw.path(joined([(across(day), high(float(value))) for day, value in course]), thick=1.6)
    for n, (day, value) in enumerate(course):
        draw.diamond(across(day), high(float(value)), 4.5, hollow=n == 0 and one.start is not None)
    draw.text(right + 10, high(float(course[-1][1])) + 4, number(course[-1][1]), size=SMALL, bold=True)
    base = TOP + HEIGHT
    draw.line(LEFT, base, right, base)
    draw.text(LEFT, base + 16, day_text(start), size=SMALL)
    draw.text(right, base + 16, day_text(last), size=SMALL, end=True)
    return draw.finished(base + 24)
