"""Facts of what comes after: reviews, visits, and what follows the last week."""

from __future__ import annotations

from datetime import date

from planlang.checking.expression.types import COUNT, DATE, TEXTS
from planlang.checking.facts.plan import plan
from planlang.checking.facts.registry import Facts
from planlang.model.plan import Plan, When
from planlang.planning.weeks import day_of, review_days
from planlang.text.source import Span

SAID = "review_every review_at visit session lasts starts starts_after"


def contacts(facts: Facts) -> tuple[date, ...]:
    """The dates of reviews and visits, in order; a visit that no week holds counts with its week's last day."""
    return facts.once("contacts", lambda: _contacts(facts))


def _contacts(facts: Facts) -> tuple[date, ...]:
    days = set(review_days(facts.plan))
    weeks = facts.weeks.weeks if facts.weeks else ()
    seen: set[int] = set()
    for week in weeks:
        for sitting in week.sittings:
            if sitting.visit:
                days.add(sitting.day)
                seen.add(week.number)
    for session in facts.plan.sessions:
        for visit in session.visits:
            later = (day_of(facts.plan, When(week=number)) for number, _ in visit.weeks if number not in seen)
            days.update(day for day in later if day is not None)
    first = facts.plan.starts
    return tuple(sorted(day for day in days if first is None or day >= first))


def _said_at(_: Facts, it: Plan) -> Span | None:
    """The review line, else the first line of visits."""
    lines = [review.span for review in it.reviews] + [v.span for s in it.sessions for v in s.visits]
    return lines[0] if lines else None


def _first_said_at(facts: Facts, it: Plan) -> Span | None:
    """The line that the first contact comes from: the review line, or the visits of a session."""
    first = next(iter(contacts(facts)), None)
    if first is None or first in review_days(it):
        return _said_at(facts, it)
    sittings = [s for week in (facts.weeks.weeks if facts.weeks else ()) for s in week.sittings]
    held = {s.name for s in sittings if s.visit and s.day == first}
    for session in it.sessions:
        for visit in session.visits:
            if session.name in held or any(day_of(it, When(week=number)) == first for number, _ in visit.weeks):
                return visit.span
    return _said_at(facts, it)


plan.fact("contacts", COUNT, "how many reviews and visits there are from its first day on", SAID, _said_at)(
    lambda f, _: len(contacts(f))
)
plan.fact("first-contact", DATE, "the first review or visit", SAID, _first_said_at)(
    lambda f, _: next(iter(contacts(f)), None)
)
plan.fact("last-contact", DATE, "the last review or visit, also one past its last week", SAID, _said_at)(
    lambda f, _: next(reversed(contacts(f)), None)
)
plan.fact("what-follows", TEXTS, "what the `after` lines say comes next", "after", "after")(lambda _, it: it.after)
