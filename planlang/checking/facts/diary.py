"""Facts of a diary beside its plan. A plan by itself has none of them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from fractions import Fraction
from typing import Any, TypeVar

from planlang.checking.expression.types import COUNT, DATE, SHARES, TEXT, TRUTH, number, one_of
from planlang.checking.facts.registry import Facts, root, root_list, subject
from planlang.model.diary import Diary, Entry, What
from planlang.model.exercise import Exercise
from planlang.planning.past import Past
from planlang.planning.review import news
from planlang.planning.review.next_step import next_step
from planlang.planning.review.pain import felt_of, limit, median_of, mornings, over_running
from planlang.text.data import frozen
from planlang.text.source import Span

T = TypeVar("T")
TWO_WEEKS = timedelta(days=14)
NOTES = (What.NOTE, What.WORRY, What.NOT_DONE, What.ILLNESS, What.PAUSE)


def past_fact(work: Callable[[Past], T]) -> Callable[[Facts, Any], T | None]:
    """A fact that only a diary can tell; None for a plan by itself."""

    def get(facts: Facts, _: Any) -> T | None:
        return work(facts.past) if facts.past is not None else None

    return get


diary = subject("diary", "diaries", lambda it: f"the diary for {it.code}")
root("diary", "diary", "the person's diary", lambda f, _: f.past and f.past.diary)


def _last(facts: Facts, it: Diary) -> Span | None:
    return it.entries[-1].span if it.entries else it.span


def _rest_line(facts: Facts, it: Diary) -> Span | None:
    found = it.of(What.REST, What.FLARE, What.ILLNESS, What.PAUSE)
    return found[-1].span if found else it.span


def _morning_line(facts: Facts, it: Diary) -> Span | None:
    found = [e for e in it.entries if e.morning is not None or e.what is What.MORNING]
    return found[-1].span if found else it.span


def _not_done_line(facts: Facts, it: Diary) -> Span | None:
    found = it.of(What.NOT_DONE)
    return found[-1].span if found else it.span


diary.fact("last-entry", DATE, "the last day of which it tells something, up to the day of the review", at=_last)(
    past_fact(news.last_told)
)
diary.fact("as-of", DATE, "the day of the review")(past_fact(lambda past: past.as_of))
diary.fact(
    "quiet-days",
    number("day"),
    "the days up to the review of which it tells nothing; easier weeks, flares, illness and days away are left out",
    at=_last,
)(past_fact(lambda past: Fraction(news.quiet_days(past))))
diary.fact("rest-taken", number("week"), "the easier weeks taken so far", at=_rest_line)(
    past_fact(lambda past: Fraction(len(past.rest)))
)
diary.fact(
    "not-done-running",
    COUNT,
    "how many of the last sessions due, one after the other, are said not to have been done; blanks are left out",
    at=_not_done_line,
)(past_fact(lambda past: Fraction(news.not_done_running(past))))
diary.fact("morning-pain", COUNT, "the middle next-morning pain of the last two weeks, out of 10", at=_morning_line)(
    past_fact(lambda past: median_of(value for _, value in mornings(past, past.as_of - TWO_WEEKS)))
)
diary.fact("usual-pain", COUNT, "what is usual now, out of 10, as last measured")(
    past_fact(lambda past: limit(past.plan, past.diary, past.as_of).usual)
)

open_flag = subject("open-flag", "open-flags", lambda it: it.text or it.name or "a sign")
root_list(
    "open-flag",
    "open-flag",
    "what was told or met in the diary, and nobody has written an answer to",
    lambda f: news.flags(f.past) if f.past else (),
)
open_flag.plain("day", DATE, "when")
open_flag.fact("words", TEXT, "what was told, or the sign's name")(lambda _, it: _words(it))


def _words(it: Entry) -> str:
    return f'"{it.text}"' if it.text else it.name or "a sign"


note = subject("note", "notes", lambda it: it.text or "")
root_list(
    "note",
    "note",
    "the free texts of the diary: notes, worries, reasons, what was told",
    lambda f: (
        tuple(e for e in f.past.diary.entries if e.text and e.what in NOTES and e.day <= f.past.as_of) if f.past else ()
    ),
)
note.plain("day", DATE, "when")
note.fact("words", TEXT, "its words")(lambda _, it: it.text)
note.fact("answered", TRUTH, "somebody wrote what was done, on that day or later")(
    lambda f, it: any(it.day <= e.day <= f.past.as_of for e in f.past.diary.of(What.ACTED))
)

flare = subject("flare-time", "flare-times")
root_list("flare-time", "flare-time", "the flares of the diary", lambda f: news.flares(f.past) if f.past else ())
flare.plain("first", DATE, "its first day")
flare.plain("over", TRUTH, "it is over")
flare.plain("contact", TRUTH, "somebody was told, or acted, since it began")
flare.fact("length", number("day"), "how long it has lasted, its first day included")(lambda _, it: Fraction(it.days))

fall = subject("fall", "falls")
root_list(
    "fall", "fall", "falls in the diary, and times a joint gave way", lambda f: news.falls(f.past) if f.past else ()
)
fall.plain("day", DATE, "when")
fall.plain("seen", TRUTH, "somebody wrote what was done, that day or later")

activity_day = subject("activity-day", "activity-days")
root_list(
    "activity-day",
    "activity-day",
    "the days of daily activities of which the diary tells how much was done",
    lambda f: news.overruns(f.past) if f.past else (),
)
activity_day.plain("day", DATE, "when")
activity_day.plain("activity", TEXT, "the activity's name")
activity_day.fact("share", SHARES, "what was done, of that day's aim")(lambda _, it: it.share * 100)
activity_day.fact("lowest-after", SHARES, "the lowest of the two days after it, of its aim")(
    lambda _, it: None if it.lowest_after is None else it.lowest_after * 100
)


@frozen
class Course:
    """An exercise with what was felt of it. title: its name; span: the line of the last session of it."""

    exercise: Exercise
    title: str
    over: int
    why: str
    span: Span


course = subject("felt-exercise", "felt-exercises")
root_list(
    "felt-exercise",
    "felt-exercise",
    "the exercises of which the diary tells how a session felt",
    lambda f: _courses(f.past) if f.past else (),
)
course.fact("over-running", COUNT, "how many of its last sessions running were more than the plan accepts")(
    lambda _, it: Fraction(it.over)
)
course.plain("why", TEXT, "what was more than the plan accepts, of the last one")
course.fact("next", one_of("on", "stay", "lower"), "what its own rule says is next")(
    lambda f, it: str(next_step(f.past, it.exercise).next)
)
course.fact("goes-up", TRUTH, "the plan as it is reckoned has it a step higher next")(lambda f, it: _goes_up(f, it))
course.fact("goes-on", TRUTH, "the plan as it is reckoned has it no lower next")(lambda f, it: _goes_on(f, it))
course.fact("by-date", TRUTH, "it goes by the date, whatever the day feels like")(
    lambda _, it: (
        bool(it.exercise.pace and it.exercise.pace.by == "date") or bool(it.exercise.rise and it.exercise.rise.by_date)
    )
)


def _courses(past: Past) -> tuple[Course, ...]:
    made = []
    for exercise in past.plan.exercises:
        found = felt_of(past, exercise.name)
        if found:
            entry = next((h.entry for h in reversed(past.held) if h.on == found[-1].day and h.entry), None)
            span = entry.span if entry else past.diary.span
            made.append(Course(exercise, exercise.name, over_running(found), " and ".join(found[-1].over), span))
    return tuple(made)


def _goes_up(facts: Facts, it: Course) -> bool:
    found = next_step(facts.past, it.exercise) if facts.past else None
    return bool(found and found.step is not None and found.ahead is not None and found.ahead > found.step)


def _goes_on(facts: Facts, it: Course) -> bool:
    found = next_step(facts.past, it.exercise) if facts.past else None
    return bool(found and found.step is not None and found.ahead is not None and found.ahead >= found.step)
