"""A leeway as a picture: each ladder between the best and the worst placement of rest, with its targets.

Black on white with hatching, dashes and words, so that it can be read on a copy and without telling
colours apart. The same leeway always gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from planlang.model.show import dose_text
from planlang.people.drawing import Drawing, closed, joined, staircase
from planlang.planning.leeway.band import NOT_BEGUN, Band, bands
from planlang.planning.leeway.data import Leeway, Standing, Verdict
from planlang.planning.leeway.verdicts import verdicts
from planlang.planning.leeway.words import in_words, listed
from planlang.planning.weeks import Calendar
from planlang.text.data import frozen

LEFT, RIGHT = 190, 26
STEP, WEEK_WIDEST, CHART = 17, 34, 760
WORDS = {Verdict.ALWAYS: "holds", Verdict.DEPENDS: "depends", Verdict.NEVER: "never", Verdict.OPEN: "open"}


@frozen
class Axis:
    """Calendar weeks across the page."""

    weeks: int

    @property
    def week(self) -> float:
        """The width of a week."""
        return min(CHART / self.weeks, WEEK_WIDEST)

    def at(self, weeks: float) -> float:
        """Where so many weeks from the start are."""
        return LEFT + weeks * self.week

    @property
    def end(self) -> float:
        """Where the plan ends."""
        return self.at(self.weeks)


@frozen
class Mark:
    """A target in the picture: its number, and the exercise and step (index) that it stands at."""

    number: int
    standing: Standing
    exercise: str
    step: int


def svg(leeway: Leeway) -> str:
    """The whole picture. Shape: as wide as the plan's weeks, one chart a ladder, a list of targets below."""
    plan = leeway.plan
    calendar, drawn = Calendar(plan), bands(plan)
    axis = Axis(calendar.length)
    marks = list(_marks(leeway))
    width = max(axis.end + RIGHT, 680)
    draw = Drawing(width, _title(leeway), _description(leeway, drawn))
    draw.text(16, 26, plan.title, size=16, bold=True)
    room = "no room for easier weeks" if not leeway.allowance else f"room for {_weeks(leeway.allowance)}"
    draw.text(16, 46, f"{calendar.length} weeks from {calendar.starts.isoformat()}, {room}")
    y = _legend(draw, 72)
    for band in drawn:
        y = _chart(draw, axis, calendar, band, [m for m in marks if m.exercise == band.exercise], y + 22)
    y = _targets(draw, leeway, marks, y + 24, width)
    return draw.finished(y + 14)


def _marks(leeway: Leeway) -> Iterator[Mark]:
    known = verdicts(leeway.plan)
    for number, standing in enumerate(leeway.standings, 1):
        decided = known.step_of(standing.target)
        if not isinstance(decided, str) and decided[1] < len(decided[0].steps):
            yield Mark(number, standing, decided[0].name, decided[1])


def _title(leeway: Leeway) -> str:
    return f"Leeway of {leeway.plan.title}"


def _description(leeway: Leeway, drawn: Sequence[Band]) -> str:
    """The picture in words, for whoever can't see it."""
    said = [f"How far each ladder has come by the end of each week, wherever {_weeks(leeway.allowance)} fall."]
    for band in drawn:
        last, top = len(band.best), band.steps - 1
        said.append(
            f"{band.exercise}: {band.steps} steps; the last one {_from(band.best, top, last)} at best, "
            f"{_from(band.worst, top, last)} at worst."
        )
    said += [f"{one.target.title}: {in_words(one, leeway.allowance)}" for one in leeway.standings]
    return " ".join([*said, "No verdict says that a plan is safe."])


def _from(levels: Sequence[int], step: int, last: int) -> str:
    week = next((week for week, level in enumerate(levels, 1) if level >= step), None)
    return f"not within {last} weeks" if week is None else f"from week {week}"


def _weeks(count: int) -> str:
    return "1 easier week" if count == 1 else f"{count} easier weeks"


def _legend(draw: Drawing, y: float) -> float:
    """What each sign means, in a row."""
    x = 16.0
    draw.line(x, y - 4, x + 26, y - 4, thick=2.4)
    draw.text(x + 32, y, "best placement")
    draw.line(x + 130, y - 4, x + 156, y - 4, thick=2.4, dashes="5 3")
    draw.text(x + 162, y, "worst placement")
    draw.box(x + 268, y - 12, 26, 12, fill="url(#between)")
    draw.text(x + 300, y, "between")
    draw.box(x + 358, y - 12, 26, 12, fill="url(#away)")
    draw.text(x + 390, y, "away")
    draw.diamond(x + 440, y - 5, 6)
    draw.text(x + 452, y, "target that holds")
    draw.diamond(x + 562, y - 5, 6, hollow=True)
    draw.text(x + 574, y, "not always")
    y += 20
    draw.text(x, y, "R: the easier weeks of the placement that is hardest for a target. Targets stand at their dates.")
    return y


def _chart(draw: Drawing, axis: Axis, calendar: Calendar, band: Band, marks: Sequence[Mark], top: float) -> float:
    """One ladder. Returns where it ends."""
    plan = calendar.plan
    exercise = plan.exercise(band.exercise)
    assert exercise is not None
    draw.text(16, top, band.exercise, size=13, bold=True)
    top += 10
    base = top + STEP * band.steps

    def level(step: int) -> float:
        return base - STEP * (step - NOT_BEGUN)

    for week in sorted(calendar.away_weeks):
        draw.box(axis.at(week - 1), top, axis.week, base - top, fill="url(#away)", edge="none")
    for n, step in enumerate(exercise.steps):
        y = level(n)
        draw.line(LEFT, y, axis.end, y, thick=0.5, dashes="1 3")
        words = dose_text(step.dose) or "not set yet"
        draw.text(LEFT - 8, y + 4, f"{n + 1}  {_short(words)}", size=10, end=True)
    best = staircase(axis.at, [level(s) for s in band.best], base)
    worst = staircase(axis.at, [level(s) for s in band.worst], base)
    draw.path(closed(best, worst), fill="url(#between)")
    draw.path(joined(worst), thick=2.4, dashes="5 3")
    draw.path(joined(best), thick=2.4)
    draw.line(LEFT, base, axis.end, base)
    _weeks_below(draw, axis, calendar.length, base)
    for mark in marks:
        _mark(draw, axis, calendar, mark, level(mark.step), base)
    y = base + 18
    for mark in marks:
        if mark.standing.worst_rest:
            y += 14
            draw.text(LEFT - 8, y + 4, f"hardest for {mark.number}", size=10, end=True)
            for week in mark.standing.worst_rest:
                draw.text(axis.at(week - 0.5), y + 4, "R", size=10, bold=True, middle=True)
                draw.box(axis.at(week - 1) + 1, y - 6, axis.week - 2, 13)
    return y + 6


def _weeks_below(draw: Drawing, axis: Axis, weeks: int, base: float) -> None:
    every = next(n for n in (1, 2, 4, 13, 26, 52) if n * axis.week >= 20 or n == 52)
    for week in range(1, weeks + 1):
        draw.line(axis.at(week), base, axis.at(week), base + (5 if week % every == 0 else 3))
        if week % every == 0:
            draw.text(axis.at(week - 0.5), base + 15, str(week), size=10, middle=True)
    draw.text(LEFT - 8, base + 15, "week", size=10, end=True)


def _mark(draw: Drawing, axis: Axis, calendar: Calendar, mark: Mark, y: float, base: float) -> None:
    by = mark.standing.by
    if by is None:
        return
    weeks = ((by - calendar.starts).days + 1) / 7
    x = min(max(axis.at(weeks), LEFT), axis.end)
    draw.line(x, y, x, base, thick=0.8, dashes="2 2")
    draw.diamond(x, y, 6, hollow=mark.standing.verdict is not Verdict.ALWAYS)
    label = f"{mark.number} {WORDS[mark.standing.verdict]}"
    near_end = x > axis.end - 60
    draw.text(x - 9 if near_end else x + 9, y - 5, label, size=11, bold=True, end=near_end, halo=True)


def _targets(draw: Drawing, leeway: Leeway, marks: Sequence[Mark], y: float, width: float) -> float:
    """Every target in words."""
    columns = int((width - 32) / 6.1)
    for number, standing in enumerate(leeway.standings, 1):
        by = f", by {standing.by.isoformat()}" if standing.by else ""
        said = f"{number}  {standing.target.title}{by}: {in_words(standing, leeway.allowance)}"
        if standing.worst_rest and standing.verdict is Verdict.ALWAYS:
            said += f" Hardest: {listed(standing.worst_rest)}."
        for line in wrap(said, columns, subsequent_indent="    "):
            draw.text(16, y, line)
            y += 15
        y += 3
    draw.text(16, y, "No verdict says that a plan is safe. For the clinician.", size=10)
    return y


def _short(words: str, most: int = 24) -> str:
    return words if len(words) <= most else words[: most - 1].rstrip() + "…"
