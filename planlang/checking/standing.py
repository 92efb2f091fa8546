"""Findings of the engine itself: what the plan says of its own standing, and how its file is kept."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

from planlang.model.plan import Plan
from planlang.planning.weeks import week_start
from planlang.text.data import frozen
from planlang.text.finding import Finding, Level
from planlang.text.source import Source, Span


@frozen
class Keeping:
    """How a plan's file is kept: its path (None: standard input), whether the clinic's calendar key is there.

    `has_key` is None where nobody asked. `tracked`: says of a file whether it is under version control; None: git's
    index is looked up anew.
    """

    path: Path | None = None
    has_key: bool | None = None
    tracked: Callable[[Path], bool] | None = None


def standing(plan: Plan, today: date | None = None, keeping: Keeping | None = None) -> Iterator[Finding]:
    """Draft, pause, dates that have not come, doses that should be set; the file under version control; the key."""
    if plan.draft:
        yield _blocking(
            plan,
            "state-draft",
            "This plan is a draft that nobody has signed.",
            plan.places.get("state"),
            "Read it through, sign it under `screening` or with a new `written` date, and take the line out.",
        )
    if plan.pause is not None:
        yield _blocking(
            plan,
            "pause-all",
            f"Everything is paused from {plan.pause.start}.",
            plan.pause.span,
            "When it may go on, take the line out and write a new revision.",
        )
    if today is not None:
        yield from _by_date(plan, today)
    if keeping is not None:
        yield from _kept(plan, keeping)


def _blocking(plan: Plan, rule: str, message: str, span: Span | None, help: str) -> Finding:
    return Finding(rule, Level.INCOMPLETE, message, span or plan.span, plan.source, help, blocks=True)


def _by_date(plan: Plan, today: date) -> Iterator[Finding]:
    if plan.written is not None and plan.written > today:
        yield _blocking(
            plan,
            "date-still-to-come",
            f"The plan says it was written on {plan.written}, which is after {today}.",
            plan.places.get("written"),
            "Check the date.",
        )
    if plan.screening is not None and plan.screening.day > today:
        yield _blocking(
            plan,
            "date-still-to-come",
            f"The screening is dated {plan.screening.day}, which is after {today}.",
            plan.screening.span,
            "Check the date.",
        )
    for exercise in plan.exercises:
        for step in exercise.steps:
            week = step.dose.set_at or (step.dose.measured.week if step.dose.measured else None)
            first = week_start(plan, week) if week else None
            if first is not None and first <= today:
                yield _blocking(
                    plan,
                    "dose-still-to-be-set",
                    f"{exercise.name} was to be given its dose in week {week}, which began on {first}.",
                    step.span,
                    "Write the dose.",
                )


def _kept(plan: Plan, keeping: Keeping) -> Iterator[Finding]:
    if plan.code is None:
        return
    shared = plan.agreed is None or plan.agreed.calendar != "none"
    if keeping.has_key is False and shared:
        yield Finding(
            "calendar-key-missing",
            Level.ADVICE,
            "The clinic has no calendar key, so the person's code can be guessed from a calendar's entries.",
            plan.places.get("for_person") or plan.span,
            plan.source,
            "Name a key file in clinic.yaml (calendar-key-file), made once and kept out of the shared repository.",
        )
    yield from _tracked(plan.code, plan.places.get("for_person") or plan.span, plan.source, keeping)


_DIARY = re.compile(r"^[^\S\n\r]*\ufeff?[^\S\n\r]*diary[^\S\n\r]+for[^\S\n\r]+(\S+)", re.MULTILINE)


def diary_kept(source: Source, keeping: Keeping) -> Iterator[Finding]:
    """How a diary's file is kept: the code of its first line is whose it is."""
    found = _DIARY.search(source.text.replace("\r", "\n"))
    if found is not None:
        yield from _tracked(found.group(1), Span(*found.span(1)), source, keeping)


def _tracked(code: str, place: Span, source: Source, keeping: Keeping) -> Iterator[Finding]:
    if keeping.path is None:
        return
    from planlang.checking.versioned import is_tracked

    if (keeping.tracked or is_tracked)(keeping.path):
        yield Finding(
            "person-file-under-version-control",
            Level.INCOMPLETE,
            f"This file is about {code} and is under version control: its history can't be erased.",
            place,
            source,
            "Keep people's files in a folder that git ignores, and take this one out of the repository.",
        )
