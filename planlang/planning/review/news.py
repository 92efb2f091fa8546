"""What a diary tells beside sessions: flares, falls, days that ran over, and how long nothing was told."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction

from planlang.model.diary import Diary, Entry, What
from planlang.planning.activity_days import aim_of, told
from planlang.planning.looking_back import week_of
from planlang.planning.open_flags import open_flags
from planlang.planning.past import Outcome, Past
from planlang.planning.stretches import Stretch, days_in, stretches
from planlang.planning.week import WeekKind
from planlang.text.data import frozen
from planlang.text.source import Span

DAY = timedelta(days=1)
SHORTLY = 2
"""Days within which a low day counts as the answer to one that ran over."""


@frozen
class FlareTime:
    """A flare as told. days: how long so far, its first day included. contact: somebody was told or acted since."""

    title: str
    first: date
    days: int
    over: bool
    contact: bool
    span: Span


@frozen
class Fall:
    """A fall, or a joint that gave way. seen: somebody wrote what was done about it, that day or later."""

    title: str
    day: date
    seen: bool
    span: Span


@frozen
class ActivityDay:
    """A day of an activity: its share of the aim, and that of the lowest day told within two days after it."""

    title: str
    activity: str
    day: date
    share: Fraction
    lowest_after: Fraction | None
    span: Span


def flares(past: Past) -> tuple[FlareTime, ...]:
    """Every flare so far."""
    found = [s for s in stretches(past.diary, past.as_of) if s.what is What.FLARE]
    return tuple(_flare(past, one) for one in found)


def _flare(past: Past, one: Stretch) -> FlareTime:
    joint = one.entry.joint
    where = f" of the {joint.name}" if joint else ""
    heard = past.diary.of(What.TOLD, What.ACTED)
    contact = any(one.first <= e.day <= past.as_of for e in heard)
    return FlareTime(f"flare{where}", one.first, (one.last - one.first).days + 1, one.over, contact, one.entry.span)


def in_flare(past: Past) -> bool:
    """Whether a flare goes on on the day of the review."""
    return any(not one.over for one in flares(past))


def falls(past: Past) -> tuple[Fall, ...]:
    """Falls and giving way so far."""
    acted = [e.day for e in past.diary.of(What.ACTED) if e.day <= past.as_of]
    return tuple(
        Fall("a fall" if e.what is What.FELL else "giving way", e.day, any(d >= e.day for d in acted), e.span)
        for e in past.diary.of(What.FELL, What.GAVE_WAY)
        if e.day <= past.as_of
    )


def flags(past: Past) -> tuple[Entry, ...]:
    """What was told or met, and nobody has written an answer to."""
    return open_flags(past.diary, past.as_of)


def overruns(past: Past) -> tuple[ActivityDay, ...]:
    """Each day of a daily activity of which something is told, with what came shortly after it."""
    return tuple(_activity_days(past))


def _activity_days(past: Past) -> Iterator[ActivityDay]:
    first = past.weeks.weeks[0].starts
    for exercise in past.plan.exercises:
        if not exercise.daily:
            continue
        days = told(exercise, past.diary, first, past.as_of)
        shares: dict[date, Fraction] = {}
        for day, value in days.items():
            week = week_of(past, day)
            aim = aim_of(exercise, week) if week else None
            if aim:
                shares[day] = value / aim
        for day, share in sorted(shares.items()):
            after = [shares[day + n * DAY] for n in range(1, SHORTLY + 1) if day + n * DAY in shares]
            span = _line_of(past.diary, day)
            yield ActivityDay(f"{exercise.name} on {day}", exercise.name, day, share, min(after, default=None), span)


def _line_of(diary: Diary, day: date) -> Span:
    own = next((e.span for e in diary.entries if e.day == day and e.value and e.what is What.WALKED), None)
    return own or next((s.span for s in diary.steps), diary.span)


def quiet_days(past: Past) -> int:
    """Days up to the review of which nothing is told, easier weeks, days away, flares and the like left out."""
    plan, diary = past.plan, past.diary
    calendar_first = past.weeks.weeks[0].starts
    last = max((d for d in _told_days(diary) if d <= past.as_of), default=calendar_first - DAY)
    excused = days_in(stretches(diary, past.as_of))
    quiet, day = 0, max(last, calendar_first - DAY) + DAY
    while day <= past.as_of:
        week = week_of(past, day)
        away = any(a.first <= day <= a.last for a in plan.away)
        if week is not None and week.kind not in (WeekKind.REST, WeekKind.AWAY) and not away and day not in excused:
            quiet += 1
        day += DAY
    return quiet


def last_told(past: Past) -> date | None:
    """The last day up to the review of which something is told."""
    return max((d for d in _told_days(past.diary) if d <= past.as_of), default=None)


def _told_days(diary: Diary) -> Iterator[date]:
    for entry in diary.entries:
        yield entry.day
    for table in diary.steps:
        for day, _ in table.days:
            yield day


def not_done_running(past: Past) -> int:
    """How many of the last sessions due, one after the other, are said not to have been done. Blanks break no run."""
    run = 0
    for held in sorted((h for h in past.held if h.due), key=lambda h: (h.day or date.max, h.order)):
        if held.outcome is Outcome.BLANK:
            continue
        run = run + 1 if held.outcome is Outcome.NOT_DONE else 0
    return run
