"""Facts of sessions that get in each other's way, of reviews on days away, and of other plans of the same person."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from attrs import evolve, field

from planlang.checking.expression.types import COUNT, DATE, TEXT, TRUTH, thing
from planlang.checking.facts.plan import plan
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.checking.facts.weeks import RECKONED, WEEKDAYS
from planlang.model.plan import Away, Plan, When
from planlang.model.session import Session
from planlang.planning.week import Sitting
from planlang.planning.weeks import day_of
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span

TIMES = f"{RECKONED} at_times warm_up cool_down rounds resting_between"


@frozen
class Clash:
    """Two sessions of which one begins before the other is over; the first such day, and how many days there are."""

    first: Session
    second: Session
    day: date
    starts: datetime
    ends: datetime | None
    other_starts: datetime
    days: int = 1
    span: Span = field(default=NOWHERE, eq=False, repr=False)


clash = subject("clash", "clashes", lambda it: f"{it.first.name} and {it.second.name}")


A_DAY = timedelta(days=1)


def _clashes(facts: Facts) -> Iterator[Clash]:
    """Each pair of sessions once."""
    found: dict[tuple[str, str], Clash] = {}
    for week in facts.weeks.weeks if facts.weeks else ():
        timed = [s for s in week.sittings if s.starts is not None]
        for one, other in _overlaps(sorted(timed, key=lambda s: (s.day, s.starts, s.name))):
            key = (one.name, other.name)
            if key in found:
                found[key] = evolve(found[key], days=found[key].days + 1)
            elif (made := _clash(facts, one, other)) is not None:
                found[key] = made
    yield from found.values()


def _overlaps(timed: list[Sitting]) -> Iterator[tuple[Sitting, Sitting]]:
    """Of sittings in order of time, each with the one before it that is not over when it begins."""
    last: Sitting | None = None
    for it in timed:
        if last is None or _begin(it) - _begin(last) >= A_DAY:
            last = it  # no session is as long as a day
            continue
        if _begin(it) == _begin(last) or _begin(it) < _end(last):
            yield last, it
        if _end(it) > _end(last):
            last = it


def _begin(it: Sitting) -> datetime:
    assert it.starts is not None
    return it.starts


def _end(it: Sitting) -> datetime:
    return it.ends or _begin(it)


def _clash(facts: Facts, one: Sitting, other: Sitting) -> Clash | None:
    first, second = facts.plan.session(one.name), facts.plan.session(other.name)
    if first is None or second is None or one.starts is None or other.starts is None:
        return None
    place = second.places.get("at_times", second.span)
    return Clash(first, second, other.day, one.starts, one.ends, other.starts, 1, place)


def _clock(at: datetime | None) -> str | None:
    return None if at is None else f"{at:%H:%M}"


root_list("clash", "clash", "two sessions of which one begins before the other is over", _clashes, TIMES, "clashes")
clash.fact("first", thing("session"), "the one that begins first", TIMES)(lambda _, it: it.first)
clash.fact("second", thing("session"), "the one that begins before that is over", TIMES)(lambda _, it: it.second)
clash.fact("with-itself", TRUTH, "both are one session at two times", TIMES)(lambda _, it: it.first is it.second)
clash.plain("day", DATE, "the first day of it", TIMES)
clash.fact("weekday", TEXT, "the first day of it, by its name", TIMES)(lambda _, it: WEEKDAYS[it.day.weekday()])
clash.plain("days", COUNT, "on how many days, with no easier week taken", TIMES)
clash.fact("from", TEXT, "when the first begins", TIMES)(lambda _, it: _clock(it.starts))
clash.fact("to", TEXT, "when the first is over, where that is known", TIMES)(lambda _, it: _clock(it.ends))
clash.fact("at", TEXT, "when the second begins", TIMES)(lambda _, it: _clock(it.other_starts))


@frozen
class ReviewAway:
    """A review that falls into days away, and the line that says so."""

    day: date
    absence: Away
    span: Span = field(default=NOWHERE, eq=False, repr=False)


away = subject("review-away", "reviews-away", lambda it: f"the review of {it.day}")


def _reviews_away(facts: Facts) -> Iterator[ReviewAway]:
    """A review on a written date that is away, or in a week all of whose days are."""
    for review in facts.plan.reviews:
        every = review.every_weeks or 0
        weeks = range(every, (facts.plan.weeks or 0) + 1, every) if every > 0 else ()
        for when in (*review.at, *(When(week=week) for week in weeks)):
            day = day_of(facts.plan, when)
            found = None if day is None else _absence(facts.plan, day, 1 if when.day else 7)
            if day is not None and found is not None:
                yield ReviewAway(day, found, when.span if when.span != NOWHERE else review.span)


def _absence(it: Plan, last: date, days: int) -> Away | None:
    """The `away` line that holds so many days up to that one."""
    return next((a for a in it.away if a.last >= last and (last - a.first).days >= days - 1), None)


root_list(
    "review-away",
    "review-away",
    "reviews on days away, or in weeks that are wholly away",
    _reviews_away,
    "review_every review_at away lasts starts starts_after",
    "reviews-away",
)
away.plain("day", DATE, "the review's date", "review_every review_at")
away.fact("absence", thing("absence"), "the days away", "away")(lambda _, it: it.absence)

root_list(
    "other-plan",
    "plan",
    "other plans for the same code, in the same folder",
    lambda f: f.beside.others(f.plan) if f.beside else (),
    "for_person",
)
plan.fact("file", TEXT, "the name of its file", "plan")(lambda _, it: it.source.name.replace("\\", "/").split("/")[-1])
