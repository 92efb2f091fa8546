"""What a diary says of a plan's weeks so far, in words and as JSON data, for `weeks --diary`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Any

import click

from planlang.cli.console import many
from planlang.planning.past import Past
from planlang.text.meant import listed

DAY = timedelta(days=1)


def placed_after(placed: frozenset[int], past: Past) -> frozenset[int]:
    """Easier weeks so far by the diary, and those of `--rest` to come; one in a week that is told is a wrong call."""
    first = past.first_open_week
    told = sorted(week for week in placed - past.rest if week < first)
    if told:
        message = f"week {told[0]} is told by the diary; with it, place easier weeks from week {first} on"
        raise click.BadParameter(message, param_hint="--rest")
    return placed | past.rest


def as_words(past: Past) -> Iterator[str]:
    """One line a thing."""
    blank = f"; of {past.blank} nothing is written" if past.blank else ""
    yield f"Sessions done up to {_day(past.as_of)}, reported, not measured: {past.done} of {past.due} due{blank}."
    taken, room = len(past.rest), past.plan.room
    yield f"{taken} of {many(room, 'easier week')} taken." if taken <= room else _new_dates(taken, room)
    for name, weeks in sorted(past.looking.uncounted.items()):
        yield f"{name} stays a week longer after {_weeks(weeks)}: less than half of it was done."
    for name, weeks in sorted(past.looking.halted.items()):
        yield f"{name} rested for a joint in {_weeks(weeks)}."
    if past.looking.stilled:
        yield f"Gentle days instead of sessions: {_runs(past.looking.stilled)}."


def as_data(past: Past) -> dict[str, Any]:
    """The same for scripts."""
    return {
        "as_of": past.as_of.isoformat(),
        "sessions": {"done": past.done, "due": past.due, "blank": past.blank},
        "rest": {"taken": len(past.rest), "left": max(past.plan.room - len(past.rest), 0)},
        "stays": {name: sorted(weeks) for name, weeks in sorted(past.looking.uncounted.items())},
        "joint_rests": {name: sorted(weeks) for name, weeks in sorted(past.looking.halted.items())},
        "gentle_days": [day.isoformat() for day in sorted(past.looking.stilled)],
    }


def _new_dates(taken: int, room: int) -> str:
    return f"{many(taken, 'easier week')} taken, with room for {room}: the dates need to move."


def _weeks(weeks: Iterable[int]) -> str:
    numbers = sorted(weeks)
    return f"week{'' if len(numbers) == 1 else 's'} {listed(map(str, numbers), 'and')}"


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


def _runs(days: Iterable[date]) -> str:
    """`26 Apr 2027 to 28 Apr 2027, 3 May 2027`."""
    runs: list[tuple[date, date]] = []
    for day in sorted(days):
        if runs and runs[-1][1] + DAY == day:
            runs[-1] = runs[-1][0], day
        else:
            runs.append((day, day))
    return ", ".join(_day(a) if a == b else f"{_day(a)} to {_day(b)}" for a, b in runs)
