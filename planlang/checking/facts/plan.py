"""Facts of the plan as a whole, and of its operations."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from planlang.checking.expression.types import COUNT, DATE, TEXT, TRUTH, names_of, number
from planlang.checking.facts.registry import Facts, Subject, root_list, subject
from planlang.model.carried import replaced
from planlang.model.plan import Operation, Plan
from planlang.model.records import ConditionData

plan: Subject = subject("plan")
operation = subject("operation", "operations", lambda it: str(it.text))

plan.plain("title", TEXT, "what the plan is called", "plan")
plan.plain("code", TEXT, "the code of the person it is for", "for_person", "for_person")
plan.plain("language", TEXT, "the language of its texts, `en` unless said", "language", "language")
plan.plain("draft", TRUTH, "it says `state draft`", "state", "state")
plan.plain("written", DATE, "when it was written", "written", "written")
plan.plain("starts", DATE, "its first day", "starts starts_after", "starts")
plan.fact("age", number("year"), "how old the person is", "for_person", "for_person")(lambda _, it: it.aged)
plan.fact("length", number("week"), "how many calendar weeks it lasts", "lasts", "lasts")(lambda _, it: it.weeks)
plan.fact("ends", DATE, "its last day", "starts starts_after lasts", "lasts")(lambda _, it: ends(it))
plan.fact(
    "conditions", names_of("condition"), "the conditions it is about, by the names that are known", "about", "about"
)(lambda _, it: tuple(c.name for c in known_conditions(it)))
plan.fact("revision", COUNT, "which revision it is", "revision", "revision")(lambda _, it: it.revision)


def ends(it: Plan) -> date | None:
    """The plan's last day."""
    if it.starts is None or it.weeks is None:
        return None
    try:
        return it.starts + timedelta(weeks=it.weeks, days=-1)
    except OverflowError:
        return None


def known_conditions(it: Plan) -> tuple[ConditionData, ...]:
    """What is known of each condition that the plan is about."""
    return tuple(c for about in it.about if (c := it.catalogue.condition(about.name)) is not None)


@plan.fact(
    "room", number("week"), "how many easier weeks there is room for; 0 where nothing is said", "rest room", "room"
)
def _room(_: Facts, it: Plan) -> int:
    return it.room


@plan.fact(
    "flaring-conditions", names_of("condition"), "those of its conditions that are known to flare", "about", "about"
)
def _flaring(_: Facts, it: Plan) -> tuple[str, ...]:
    return tuple(c.name for c in known_conditions(it) if c.has_flares)


@plan.fact("has-flares", TRUTH, "one of its conditions is known to flare", "about", "about")
def _has_flares(_: Facts, it: Plan) -> bool:
    return any(c.has_flares for c in known_conditions(it))


@plan.fact(
    "spares-the-legs", TRUTH, "it is about known conditions only, and none of them is in the legs", "about", "about"
)
def _spares_the_legs(_: Facts, it: Plan) -> bool:
    known = known_conditions(it)
    return bool(known) and len(known) == len(it.about) and not any(c.lower_limb for c in known)


root_list("operation", "operation", "the operations that the plan names", lambda f: f.plan.operations, "operation")
operation.plain("text", TEXT, "what was done", "operation")
operation.plain("day", DATE, "when it was done", "operation")
operation.plain("side", TEXT, "left or right", "operation")
operation.plain("weight_bearing", TEXT, "how much weight may be put on the leg", "weight_bearing")


@operation.fact("age-at-start", number("week"), "how long before the plan's first day it was", "operation starts")
def _age_at_start(facts: Facts, it: Operation) -> Fraction | None:
    first = facts.plan.starts
    return None if first is None else Fraction((first - it.day).days, 7)


@operation.fact("is-a-replacement", TRUTH, "a joint was replaced", "operation")
def _is_a_replacement(facts: Facts, it: Operation) -> bool:
    return replaced(it.text, facts.plan.catalogue) is not None or "replacement" in it.text.lower()
