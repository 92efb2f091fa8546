"""Facts of the flares that a plan expects, and of the room that they need."""

from __future__ import annotations

from planlang.checking.expression.types import SHARES, TEXT, TRUTH, number
from planlang.checking.facts.plan import plan
from planlang.checking.facts.registry import Facts
from planlang.checking.facts.verdict import expected, room_enough
from planlang.model.plan import Plan
from planlang.model.quantity import Quantity, number_text
from planlang.text.source import Span

SAID = "expect about rest room lasts starts starts_after away"


def _line(_: Facts, it: Plan) -> Span | None:
    return it.rest.places.get("expect") if it.rest else None


@plan.fact("expected-flares", TEXT, "the flares that it expects, or those of its condition", "expect about", _line)
def _expected(facts: Facts, _: Plan) -> str | None:
    found = expected(facts)
    if found is None:
        return None
    flares = f"{number_text(found.flares)} flare{'' if found.flares == 1 else 's'}"
    whole = found.lasting.denominator == 1
    lasting = Quantity(found.lasting, "week") if whole else Quantity(7 * found.lasting, "day")
    return f"{flares} in {found.weeks} weeks lasting {lasting}"


@plan.fact("flares-published-for", TEXT, "whose published flares it reckons with, where it says none", "expect about")
def _published_for(facts: Facts, _: Plan) -> str | None:
    found = expected(facts)
    if found is None or found.condition is None:
        return None
    return f"{found.condition} ({found.note})" if found.note else found.condition


@plan.fact("expects-itself", TRUTH, "it says itself how many flares it expects", "expect about", _line)
def _expects_itself(facts: Facts, _: Plan) -> bool | None:
    found = expected(facts)
    return None if found is None else not found.default


plan.fact(
    "room-enough",
    number("week"),
    "the easier weeks that are enough for the flares expected, with the chance asked for",
    SAID,
    _line,
    asked=SHARES,
)(lambda f, _, share: room_enough(f, share))
