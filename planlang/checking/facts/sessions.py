"""Facts of sessions."""

from __future__ import annotations

from planlang.checking.expression.types import COUNT, TEXT, TEXTS, TRUTH, number, things
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.model.session import Session

session = subject("session", "sessions", lambda it: str(it.name))
root_list("session", "session", "the sessions of the plan", lambda f: f.plan.sessions, "session")

session.plain("name", TEXT, "what it is called", "session")
session.plain("place", TEXT, "where", "place", "place")
session.plain("cue", TEXT, "what it follows in the day", "cue", "cue")
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


def _days_of(facts: Facts, it: Session) -> Session:
    """The session whose `days` line holds: its own, or that of the one that it takes turns with."""
    if it.days:
        return it
    for other in facts.plan.sessions:
        if other.days and (other.name == it.in_turn_with or other.in_turn_with == it.name):
            return other
    return it


@session.fact("exercises", things("exercise"), "what is done in it", "do_exercises", "do_exercises")
def _exercises(facts: Facts, it: Session) -> tuple[object, ...]:
    return tuple(e for name in it.do if (e := facts.plan.exercise(name)) is not None)


session.fact("fallbacks", TEXTS, "when something else is done instead", "instead instead_session", "instead")(
    lambda _, it: tuple(line.when for line in it.instead)
)
