"""Facts of the rest block and the pain block."""

from __future__ import annotations

from fractions import Fraction

from planlang.checking.expression.types import COUNT, DATE, TEXT, TEXTS, TRUTH, number
from planlang.checking.facts.registry import Facts, root, root_list, subject
from planlang.model.rest import Pain, Rest

rest = subject("rest", title=lambda _: "rest")
return_ = subject("return", "returns", lambda it: f"{it.lower} steps lower for {it.weeks} weeks")
pain = subject("pain", title=lambda _: "pain")

root("rest", "rest", "what the plan says about easier weeks", lambda f, _: f.plan.rest, "rest")
root("pain", "pain", "the pain rule", lambda f, _: f.plan.pain, "pain")
root_list(
    "return",
    "return",
    "the lines that say how to come back after rest",
    lambda f: f.plan.rest.returns if f.plan.rest else (),
    "return_lower return_same",
)

rest.fact("room", number("week"), "how many easier weeks; missing where no line says it", "room", "room")(
    lambda _, it: it.room
)
rest.fact("still-do", TEXTS, "what goes on in an easier week", "still_do", "still_do")(
    lambda _, it: tuple(line.name for line in it.still_do)
)
rest.fact("nothing-because", TEXT, "why nothing goes on in an easier week", "still_nothing", "still_nothing")(
    lambda _, it: it.still_nothing_because
)
rest.fact("tell-us-if", TEXTS, "when to call", "tell_us_if", "tell_us_if")(lambda _, it: it.tell_us_if)
rest.fact("lighter-every", number("week"), "every how many training weeks one is lighter", "lighter", "lighter")(
    lambda _, it: it.lighter.every if it.lighter else None
)
rest.plain("leave", TEXTS, "exercises that are left out aloud", "leave", "leave")


@rest.fact("starts-at", COUNT, "the fixed pain out of 10 at which it starts", "rest_starts", "rest_starts")
def _starts_at(_: Facts, it: Rest) -> Fraction | None:
    return it.starts_when.rating if it.starts_when else None


@rest.fact("back-at", COUNT, "the fixed pain out of 10 at which training begins again", "back_when", "back_when")
def _back_at(_: Facts, it: Rest) -> Fraction | None:
    return it.back_when.rating if it.back_when else None


@rest.fact("back-when-usual", TRUTH, "training begins again when pain is usual", "back_when", "back_when")
def _back_when_usual(_: Facts, it: Rest) -> bool:
    return bool(it.back_when and it.back_when.usual)


@rest.fact("back-days", number("day"), "for how many days in a row before training again", "back_when", "back_when")
def _back_days(_: Facts, it: Rest) -> int | None:
    return it.back_when.days if it.back_when else None


absence = subject("absence", "absences", lambda it: f"{it.first} to {it.last}")
root_list("absence", "absence", "the `away` lines", lambda f: f.plan.away, "away")
absence.plain("first", DATE, "the first day away", "away")
absence.plain("last", DATE, "the last day away", "away")
absence.plain("why", TEXT, "what for", "away")

return_.fact("steps-lower", COUNT, "how many steps lower", "return_lower return_same")(lambda _, it: it.lower)
return_.fact("lasting", number("week"), "for how many weeks", "return_lower return_same")(lambda _, it: it.weeks)
return_.fact("after-rest-of", number("week"), "after how much rest", "return_lower")(lambda _, it: it.after)

pain.fact("limit", COUNT, "the most pain during exercise, out of 10", "accept", "accept")(lambda _, it: it.accept)
pain.fact("rise-limit", number("point"), "the most that pain may rise by", "rise_limit", "rise_limit")(
    lambda _, it: it.rise
)
pain.plain("because", TEXT, "why the limit is what it is", "because", "because")


@pain.fact("settles", TRUTH, "it says when pain should have settled", "settle", "settle")
def _settles(_: Facts, it: Pain) -> bool:
    return it.settle is not None or it.settle_by_morning
