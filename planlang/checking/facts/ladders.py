"""Facts of ladders as they are gone up, and of doses that have no end or are not known yet."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import field

from planlang.checking.expression.types import COUNT, TEXT, TEXTS, TRUTH, thing
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.checking.facts.training import dose, exercise
from planlang.checking.facts.weeks import RECKONED
from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.planning.ladder import ladder_of
from planlang.planning.week import WeekKind
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span

LADDER = "begin then rise progress progress_deed"
DOSES = "begin then easier still_do reach at_least at_most instead exercise activity"

exercise.fact("reachable-steps", COUNT, "how many of its steps a pace or a length leads to", LADDER, "begin")(
    lambda _, it: len(ladder_of(it, None).begins) if it.steps else 0
)
exercise.fact("weeks-done", COUNT, "in how many training weeks it is done", RECKONED)(
    lambda f, it: _weeks_done(f).get(it.name, 0)
)
exercise.fact("stays", TRUTH, "it says that it stays on its step", "stay", "stay")(lambda _, it: "stay" in it.places)
exercise.fact("tested-anew", TRUTH, "its best is tested anew every so often, and its load goes by it", "tested_anew")(
    lambda _, it: it.tested_anew_weeks is not None
)
exercise.fact("why-so", TEXT, "why it is as it is", "because", "because")(lambda _, it: it.because)
exercise.fact("fallbacks", TEXTS, "when something else is done instead", "instead instead_session", "instead")(
    lambda _, it: tuple(line.when for line in it.instead)
)


def _weeks_done(facts: Facts) -> dict[str, int]:
    return facts.once("weeks done", lambda: _count(facts))


def _count(facts: Facts) -> dict[str, int]:
    found: dict[str, int] = {}
    for week in facts.weeks.weeks if facts.weeks else ():
        if week.kind is WeekKind.TRAINING:
            for name in week.exercises.keys() | week.activities.keys():
                found[name] = found.get(name, 0) + 1
    return found


def _doses(facts: Facts) -> Iterator[Dose]:
    """Every dose that is to be done, one side at a time where the sides differ."""
    written: list[Dose | None] = []
    for it in facts.plan.exercises:
        written += [it.easier.dose if it.easier else None, *(step.dose for step in it.steps), it.at_least]
        written += [line.dose for line in it.instead]
    written += [line.dose for line in facts.plan.rest.still_do] if facts.plan.rest else []
    written += [line.dose for session in facts.plan.sessions for line in session.instead]
    for one in written:
        if one is not None:
            yield from [side for side in (one.left, one.right) if side] or [one]


root_list("dose", "dose", "every dose that is to be done: steps, sore days, easier weeks, instead", _doses, DOSES)
dose.fact("open-ended", TEXT, "its end is left open: to fatigue, as tolerated", DOSES)(
    lambda _, it: it.size.open_ended if it.size else None
)
dose.fact("bounded", TRUTH, "it says how much at most", DOSES)(
    lambda _, it: it.size is None or not it.size.open_ended or it.size.at_most is not None or bool(it.size.amounts)
)


@frozen
class Unset:
    """A step whose dose is to be set or measured in a calendar week, and the calendar week of its first use."""

    exercise: Exercise
    step: int
    set_in: int
    first_used: int
    span: Span = field(default=NOWHERE, eq=False, repr=False)


unset = subject("unset", "unset-steps", lambda it: f"step {it.step} of {it.exercise.name}")


def _unset(facts: Facts) -> Iterator[Unset]:
    for it in facts.plan.exercises:
        for n, step in enumerate(it.steps):
            in_week = step.dose.set_at or (step.dose.measured.week if step.dose.measured else None)
            used = _first_used(facts, it.name, n) if in_week else None
            if in_week and used:
                yield Unset(it, n + 1, in_week, used, step.span)


def _first_used(facts: Facts, name: str, step: int) -> int | None:
    """The calendar week in which a step is first done; any placement of rest only puts it off."""
    for week in facts.weeks.weeks if facts.weeks else ():
        done = week.exercises.get(name) or week.activities.get(name)
        if done is not None and done.step == step:
            return week.number
    return None


root_list(
    "unset",
    "unset",
    "steps whose dose is to be set in some week",
    _unset,
    f"{LADDER} {RECKONED}",
    "unset-steps",
)
unset.fact("exercise", thing("exercise"), "whose step it is", LADDER)(lambda _, it: it.exercise)
unset.plain("step", COUNT, "which step, from 1", LADDER)
unset.plain("set_in", COUNT, "the calendar week in which its dose is set or measured", LADDER)
unset.plain("first_used", COUNT, "the calendar week in which it is first done, with no easier week taken", RECKONED)
