"""Facts of joints: what loads them, and what state they are in."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from planlang.checking.expression.types import DATE, TEXT, TEXTS, TRUTH, thing, things
from planlang.checking.facts.operations import joints_of
from planlang.checking.facts.plan import known_conditions
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.checking.facts.training import exercise
from planlang.checking.facts.weeks import RECKONED
from planlang.model.carried import replaced
from planlang.model.exercise import Exercise, Joint
from planlang.model.joints import loads
from planlang.model.plan import Condition, JointState, Operation, Plan
from planlang.model.records import ConditionData
from planlang.text.source import Span

SAID = "joints works kind"


def done_days(facts: Facts) -> dict[str, tuple[date, date]]:
    """The first and last day on which each exercise and activity is done, with no easier week taken."""
    return facts.once("done days", lambda: _done_days(facts))


def _done_days(facts: Facts) -> dict[str, tuple[date, date]]:
    found: dict[str, tuple[date, date]] = {}
    for week in facts.weeks.weeks if facts.weeks else ():
        days = [(name, sitting.day) for sitting in week.sittings for name in sitting.exercises]
        for name in week.activities:
            days += [(name, week.starts), (name, week.starts + timedelta(days=6))]
        for name, day in days:
            first, last = found.get(name, (day, day))
            found[name] = min(first, day), max(last, day)
    return found


def pace_line(_: Facts, it: Exercise) -> Span | None:
    """Where it says how it goes up."""
    return it.places.get("progress") or it.places.get("rise")


exercise.fact("loads", TEXTS, "the joints that it loads, as said or as its muscles and kind tell", SAID, "joints")(
    lambda _, it: loads(it)
)
exercise.fact("first-done", DATE, "the first day on which it is done, with no easier week taken", RECKONED)(
    lambda f, it: done_days(f).get(it.name, (None, None))[0]
)
exercise.fact("last-done", DATE, "the last day on which it is done, with no easier week taken", RECKONED)(
    lambda f, it: done_days(f).get(it.name, (None, None))[1]
)
exercise.fact("by-date", TRUTH, "it goes up by the date, whatever the day feels like", "progress rise", pace_line)(
    lambda _, it: bool((it.pace and it.pace.by == "date") or (it.rise and it.rise.by_date))
)
exercise.plain("how", TEXT, "how it is done", "how", "how")
exercise.plain("careful", TEXT, "what to mind", "careful", "careful")
exercise.plain("pause_while", TEXTS, "when it pauses", "pause_while", "pause_while")

state = subject("joint-state", "joint-states", lambda it: named(it.joint))
STATE = "joints"


def named(it: Joint) -> str:
    """`right knee`, `both knees` as one says it."""
    return f"{it.side} {it.name}s" if it.side == "both" else f"{it.side} {it.name}" if it.side else it.name


def _same_side(one: str | None, other: str | None) -> bool:
    return one is None or other is None or "both" in (one, other) or one == other


root_list(
    "joint-state",
    "joint-state",
    "joints that the plan notes as hot, swollen or being checked",
    lambda f: f.plan.joints,
    STATE,
)
state.fact("state", TEXT, "hot, swollen or being checked", STATE)(lambda _, it: it.state)
state.fact("joints", TEXTS, "the joint's name", STATE)(lambda _, it: (it.joint.name,))


@state.fact("of-a-condition", TRUTH, "the plan is about a condition of this joint", f"{STATE} about")
def _of_a_condition(facts: Facts, it: JointState) -> bool:
    return any(
        it.joint.name in known.joints and not known.operation and _same_side(about.side, it.joint.side)
        for about, known in _about(facts.plan)
    )


@state.fact(
    "inflamed-by",
    TEXT,
    "the inflammatory condition of the plan that takes in this joint; missing where the joint was replaced",
    f"{STATE} about operation",
)
def _inflamed_by(facts: Facts, it: JointState) -> str | None:
    """A hot replaced joint may be infected, whatever else the person has, and is never explained away."""
    operated = _operation_on(facts, it)
    if operated is not None and replaced(operated.text, facts.plan.catalogue):
        return None
    return next((k.name for k in known_conditions(facts.plan) if k.inflammatory and it.joint.name in k.joints), None)


@state.fact("operation", thing("operation"), "the last operation on this joint", f"{STATE} operation")
def _operation_on(facts: Facts, it: JointState) -> Operation | None:
    found = [
        one
        for one in facts.plan.operations
        if it.joint.name in joints_of(one, facts.plan.catalogue) and _same_side(one.side, it.joint.side)
    ]
    return max(found, key=lambda one: one.day, default=None)


@state.fact("loaded-by", things("exercise"), "the exercises that load it on that side and are done", f"{STATE} {SAID}")
def _loaded_by(facts: Facts, it: JointState) -> tuple[Exercise, ...]:
    done = done_days(facts)
    return tuple(one for one in facts.plan.exercises if one.name in done and _loads(one, it.joint))


def _loads(one: Exercise, joint: Joint) -> bool:
    if one.joints:
        return any(own.name == joint.name and _same_side(own.side, joint.side) for own in one.joints)
    return joint.name in (loads(one) or ())


def _about(it: Plan) -> Iterator[tuple[Condition, ConditionData]]:
    for about in it.about:
        known = it.catalogue.condition(about.name)
        if known is not None:
            yield about, known
