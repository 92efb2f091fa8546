"""A reckoned plan as calendar entries: one for each session, and one for each date that a person should see."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta

from attrs import evolve

from planlang.calendar.entry import Entry, Kind
from planlang.calendar.identity import Identities
from planlang.model.plan import Plan
from planlang.planning.clock import span_of
from planlang.planning.telling import whole_days
from planlang.planning.telling.day import Day, Told
from planlang.planning.telling.telling import Contacts, Telling
from planlang.planning.week import Sitting, Week, WeekKind, Weeks
from planlang.planning.weeks import day_of, review_days
from planlang.text.languages.words import Words, in_english

WEEK = timedelta(days=7)
UNSAID = 30  # minutes: a session with a time and no length that could be reckoned
SITTING_KIND = {
    WeekKind.TRAINING: Kind.SESSION,
    WeekKind.SPARE: Kind.SPARE,
    WeekKind.AWAY: Kind.AWAY_SESSION,
    WeekKind.REST: Kind.CONTACT,
}


def entries(
    weeks: Weeks, contacts: Contacts, key: bytes | None = None, words: Words | None = None
) -> tuple[Entry, ...]:
    """All entries of a reckoned plan, by date; discreet unless the plan's `agreed` line says `calendar full`.

    `key` is the clinic's secret for the UIDs; `words` those of the person's language, English unsaid.
    """
    telling = Telling(weeks, contacts, words or in_english())
    return in_order(_all(telling, Identities(weeks.plan, key)), telling)


def in_order(entries: Iterable[Entry], telling: Telling) -> tuple[Entry, ...]:
    """By date; without their words where the person agreed to no more."""
    made = sorted(entries, key=_by_date)
    return tuple(made) if shown_in_full(telling.plan) else tuple(discreet(entry, telling) for entry in made)


def shown_in_full(plan: Plan) -> bool:
    """True where the person agreed to a calendar that says what is done."""
    return bool(plan.agreed and plan.agreed.calendar == "full")


TITLES = {
    Kind.REVIEW: "review.title",
    Kind.TARGET: "checkpoint.title",
    Kind.TASK: "task.title",
    Kind.EASIER_WEEK: "easier.title",
    Kind.AWAY: "away.title",
}


def discreet(entry: Entry, telling: Telling) -> Entry:
    """The same entry for a calendar that others see: when, and where to read the rest."""
    summary = telling.words.say(TITLES.get(entry.kind, "day.title"))
    text = telling.words.say("discreet.line", version=telling.plan.revision or 1)
    return evolve(entry, summary=summary, description=text, location=None)


def _by_date(entry: Entry) -> tuple[date, bool, str, str, str]:
    return entry.first_day, not entry.all_day, entry.starts.isoformat(), entry.kind, entry.uid


Count = Callable[[Week, Sitting | None], int]
"""How many things in a diary have moved an entry of a week: of a session, or (None) of the whole week."""


def unmoved(week: Week, sitting: Sitting | None) -> int:
    """Without a diary nothing has."""
    return 0


def _all(telling: Telling, ids: Identities) -> Iterator[Entry]:
    for week in telling.weeks.weeks:
        yield from of_week(telling, ids, week)
    yield from of_dates(telling, ids)


def of_week(telling: Telling, ids: Identities, week: Week, count: Count = unmoved) -> Iterator[Entry]:
    """The entries of one week, for whole days and for sessions."""
    if week.kind is WeekKind.REST:
        told = whole_days.easier_week(telling, week)
        yield _whole_week(Kind.EASIER_WEEK, ids, week, told, count)
    elif week.activities:
        told = whole_days.daily(telling, week)
        yield _whole_week(Kind.DAILY, ids, week, told, count)
    for sitting in week.sittings:
        entry = _sitting(Day(telling, week, sitting), ids)
        moves = count(week, sitting)
        yield evolve(entry, moves=moves) if moves else entry


def _whole_week(kind: Kind, ids: Identities, week: Week, told: Told, count: Count) -> Entry:
    entry = _days(kind, ids.of(kind, "", week.number), week.starts, week.starts + WEEK, told)
    moves = count(week, None)
    return evolve(entry, moves=moves) if moves else entry


def uid_of(week: Week, sitting: Sitting, ids: Identities) -> str:
    """The identity of a session: its training week, else its calendar week, and its place there."""
    return ids.of(SITTING_KIND[week.kind], sitting.name, week.training_week or week.number, sitting.order)


def _sitting(day: Day, ids: Identities) -> Entry:
    week, sitting, told = day.week, day.sitting, day.told()
    kind = SITTING_KIND[week.kind]
    uid = uid_of(week, sitting, ids)
    place = day.session.place if day.session else None
    if sitting.starts is None:
        ends = week.starts + WEEK if sitting.any_day else sitting.day + timedelta(days=1)
        return _days(kind, uid, sitting.day, ends, told, place)
    starts, minutes = sitting.starts, sitting.minutes or UNSAID
    ends_at = sitting.ends or span_of(sitting.day, starts.time(), minutes, starts.tzinfo)[1]
    return Entry(kind, uid, starts, ends_at or starts + timedelta(minutes=minutes), told.summary, told.text, place)


def _days(kind: Kind, uid: str, first: date, ends: date, told: Told, place: str | None = None) -> Entry:
    return Entry(kind, uid, first, ends, told.summary, told.text, place)


def of_dates(telling: Telling, ids: Identities) -> Iterator[Entry]:
    """The entries that keep their dates whatever happens: targets, tasks, reviews, days away."""
    plan = telling.plan

    def one(kind: Kind, title: str, first: date, told: Told, last: date | None = None) -> Entry:
        uid = ids.of(kind, title, _week_of(plan, first))
        return _days(kind, uid, first, whole_days.day_after(last or first), told)

    for target in plan.targets:
        if by := day_of(plan, target.by):
            yield one(Kind.TARGET, target.title, by, whole_days.checkpoint(telling, target, by))
    for prepare in plan.prepares:
        if by := day_of(plan, prepare.by):
            yield one(Kind.TASK, prepare.text, by, whole_days.task(telling, prepare, by))
    for day in review_days(plan):
        yield one(Kind.REVIEW, "", day, whole_days.review(telling, day))
    for line in plan.away:
        if line.last >= line.first:
            yield one(Kind.AWAY, "", line.first, whole_days.away(telling, line), line.last)


def _week_of(plan: Plan, day: date) -> int:
    """The calendar week, from 1, in which a day falls; before the plan 0 and less."""
    return (day - plan.starts).days // 7 + 1 if plan.starts else 0
