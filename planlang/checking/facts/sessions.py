"""Facts of sessions."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.checking.expression.types import COUNT, TEXT, TEXTS, TRUTH, number, things
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.model.session import Session

session = subject("session", "sessions", lambda it: str(it.name))
root_list("session", "session", "the sessions of the plan", lambda f: f.plan.sessions, "session")

session.plain("name", TEXT, "what it is called", "session")
session.plain("place", TEXT, "where", "place", "place")
session.plain("companions", TEXTS, "who is there", "with_whom", "with_whom")
session.fact("minutes", number("min"), "the whole slot, where it is said", "at_times", "at_times")(
    lambda _, it: it.minutes
)
session.fact("timed", TRUTH, "a time of day is written", "at_times", "at_times")(lambda _, it: bool(it.times))
session.fact("contact-only", TRUTH, "it is a visit or a call with nothing to do", "do_exercises visit", "visit")(
    lambda _, it: bool(it.visits) and not it.do
)
session.fact("visits", COUNT, "how many calendar weeks hold a visit", "visit", "visit")(
    lambda _, it: sum(len(visit.weeks) for visit in it.visits)
)


@session.fact(
    "has-days", TRUTH, "a line says on which days, or it takes turns with one that does", "days in_turn", "days"
)
def _has_days(facts: Facts, it: Session) -> bool:
    return bool(_days_of(facts, it).days)


@session.fact("person-chooses", TRUTH, "the person chooses the days and times", "days in_turn", "days")
def _person_chooses(facts: Facts, it: Session) -> bool:
    lines = _days_of(facts, it).days
    return bool(lines) and all(line.you_choose for line in lines)


@session.fact("cue", TEXT, "what it, or the one that it takes turns with, follows in the day", "cue in_turn", "cue")
def _cue(facts: Facts, it: Session) -> str | None:
    return it.cue or next((other.cue for other in _in_turn(facts, it) if other.cue), None)


@session.fact(
    "stands-in",
    TRUTH,
    "it has no days of its own, and an `if` or `away` line names it",
    "days in_turn instead_session away",
    "days",
)
def _stands_in(facts: Facts, it: Session) -> bool:
    if _days_of(facts, it).days:
        return False
    lines = [line for one in facts.plan.sessions for line in one.instead]
    lines += [line for one in facts.plan.exercises for line in one.instead]
    return it.name in {*(line.session for line in lines), *(away.session for away in facts.plan.away)}


def _in_turn(facts: Facts, it: Session) -> Iterator[Session]:
    """The sessions that it takes turns with."""
    for other in facts.plan.sessions:
        if other is not it and (other.name == it.in_turn_with or other.in_turn_with == it.name):
            yield other


def _days_of(facts: Facts, it: Session) -> Session:
    """The session whose `days` line holds: its own, or that of the one that it takes turns with."""
    if it.days:
        return it
    return next((other for other in _in_turn(facts, it) if other.days), it)


@session.fact("exercises", things("exercise"), "what is done in it", "do_exercises", "do_exercises")
def _exercises(facts: Facts, it: Session) -> tuple[object, ...]:
    return tuple(e for name in it.do if (e := facts.plan.exercise(name)) is not None)


session.fact("fallbacks", TEXTS, "when something else is done instead", "instead instead_session", "instead")(
    lambda _, it: tuple(line.when for line in it.instead)
)
