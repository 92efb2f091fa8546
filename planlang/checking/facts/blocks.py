"""Facts of the step from the block before to this one: what was last done there, and where this one begins."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction

from attrs import field

from planlang.checking.expression.types import COUNT, DATE, TEXT, TRUTH, number, thing, things
from planlang.checking.facts.changes import changes_of
from planlang.checking.facts.plan import plan
from planlang.checking.facts.registry import Facts, root, root_list, subject
from planlang.checking.facts.training import steps_a_day
from planlang.model.compare import at_least
from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.model.show import dose_text
from planlang.planning.week import Week, WeekKind
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span

ASKED = "continues begin then rise exercise activity session do_exercises"


@frozen
class Carried:
    """An exercise of both blocks. `last`: the step there, an index, that it ended on.

    `up`: how many steps of the old ladder lie from that one to the highest that the first dose here is at
    least; negative where it begins lower, None where the two can't be compared. `lower`: it begins lower.
    """

    exercise: Exercise
    before: Exercise
    last: int
    up: int | None
    lower: bool | None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


carried = subject("carried", "carried-on", lambda it: str(it.exercise.name))
root("previous", "plan", "the plan that this one continues", lambda f, _: f.previous, "continues")


def _trained(facts: Facts) -> tuple[Week, ...]:
    """The weeks of the block before that hold sessions, as its diary tells them, else as reckoned without rest."""
    return tuple(w for w in facts.weeks_before if w.kind in (WeekKind.TRAINING, WeekKind.SPARE))


def _ended(facts: Facts) -> date | None:
    weeks = _trained(facts)
    return weeks[-1].starts + timedelta(days=6) if weeks else None


plan.fact(
    "block-before-ended", DATE, "the last day of the block before, days away at its end not counted", "continues"
)(lambda f, _: _ended(f))


@plan.fact(
    "gap-before", number("week"), "from the end of the block before to its first day", "continues starts", "starts"
)
def _gap(facts: Facts, it: Plan) -> Fraction | None:
    end = _ended(facts)
    return None if end is None or it.starts is None else Fraction((it.starts - end).days - 1, 7)


def _carried(facts: Facts) -> Iterator[Carried]:
    plan, previous = facts.plan, facts.previous
    for it in plan.exercises:
        before = previous.exercise(it.name) if previous else None
        if before is None or not it.steps or not before.steps:
            continue
        last = next((step for week in reversed(_trained(facts)) if (step := _done(week, it.name)) is not None), None)
        if last is None:
            continue
        first = it.steps[0]
        reached = [at_least(first.dose, step.dose, plan.today, it.name) for step in before.steps]
        at = [n for n, enough in enumerate(reached) if enough]
        up = at[-1] - last if at else None if all(r is None for r in reached) else -1 - last
        lower = None if reached[last] is None else not reached[last]
        yield Carried(it, before, last, up, lower, first.span)


def _done(week: Week, name: str) -> int | None:
    done = week.exercises.get(name) or week.activities.get(name)
    return done.step if done and done.step is not None and done.step >= 0 else None


root_list("carried", "carried", "exercises that the block before had too", _carried, ASKED, "carried-on")
carried.fact("exercise", thing("exercise"), "the exercise as it is here", ASKED)(lambda _, it: it.exercise)
carried.fact("begins", TEXT, "its first dose here", ASKED)(lambda f, it: dose_text(it.exercise.steps[0].dose))
carried.fact("ended", TEXT, "the dose that the block before ended on", ASKED)(
    lambda f, it: dose_text(it.before.steps[it.last].dose)
)
carried.fact("begins-with", number("steps/day"), "the steps a day that it begins with here", ASKED)(
    lambda _, it: steps_a_day(it.exercise.steps[0].dose)
)
carried.fact("ended-with", number("steps/day"), "the steps a day that the block before ended with", ASKED)(
    lambda _, it: steps_a_day(it.before.steps[it.last].dose)
)
carried.fact("begins-dose", thing("dose"), "its first dose here", ASKED)(lambda _, it: it.exercise.steps[0].dose)
carried.fact("ended-dose", thing("dose"), "the dose that the block before ended on", ASKED)(
    lambda _, it: it.before.steps[it.last].dose
)
carried.fact("old-changes", things("change"), "each step of the old ladder with the step before it", ASKED)(
    lambda _, it: tuple(changes_of(it.before))
)
carried.fact("steps-up", COUNT, "how many steps of the old ladder it begins above the one it ended on", ASKED)(
    lambda _, it: it.up
)
carried.fact("begins-lower", TRUTH, "it begins lower than it ended", ASKED)(lambda _, it: it.lower)
carried.fact("had-lower-steps", TRUTH, "the old ladder has a step below the one it ended on", ASKED)(
    lambda _, it: it.last > 0
)
