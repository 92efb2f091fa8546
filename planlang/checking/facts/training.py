"""Facts of exercises, activities and the steps of their ladders."""

from __future__ import annotations

from fractions import Fraction

from planlang.checking.expression.types import COUNT, TEXT, TEXTS, TRUTH, name_of, names_of, number, thing, things
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.model.dose import Dose, SizeKind
from planlang.model.exercise import Exercise, Step
from planlang.model.quantity import in_base
from planlang.model.show import dose_text

exercise = subject("exercise", "exercises", lambda it: str(it.name))
step = subject("step", "steps", lambda it: dose_text(it.dose))
dose = subject("dose", "doses", dose_text)

_ALL = "exercise activity"
root_list("exercise", "exercise", "every exercise and activity", lambda f: f.plan.exercises, _ALL)
root_list(
    "activity",
    "exercise",
    "what is done on days or by the week",
    lambda f: (e for e in f.plan.exercises if e.activity),
    "activity",
    "activities",
)

exercise.plain("name", TEXT, "what it is called", _ALL)
exercise.plain(
    "kind", name_of("kind of exercise"), "strength, balance, mobility, aerobic, everyday or relaxation", "kind", "kind"
)
exercise.plain("works", names_of("muscle group"), "the muscle groups that it trains", "works", "works")
exercise.plain("tags", TEXTS, "what it is like: floor, tandem, jump ...", "tags", "tags")
exercise.plain("activity", TRUTH, "it is done on days or by the week, not in a session", _ALL)
exercise.plain("hold_on_to", TEXT, "what to hold on to", "hold_on", "hold_on")
exercise.plain("companions", TEXTS, "who is there", "with_whom", "with_whom")
exercise.plain("stay_because", TEXT, "why it stays on its step", "stay", "stay")
exercise.fact("joints", TEXTS, "the joints that it loads", "joints", "joints")(
    lambda _, it: tuple(joint.name for joint in it.joints)
)
_LADDER = "begin then rise"
exercise.fact("steps", things("step"), "its ladder, from the first step up", _LADDER, "begin")(lambda _, it: it.steps)
exercise.fact("easier", thing("step"), "the step for a sore day", "easier", "easier")(lambda _, it: it.easier)
exercise.fact("paced", TRUTH, "it says when to go up", "progress progress_deed rise", "progress")(
    lambda _, it: it.pace is not None or it.rise is not None
)
exercise.fact("rises", TRUTH, "a `rise` line makes its steps", "rise", "rise")(lambda _, it: it.rise is not None)


@exercise.fact("in-steps", TRUTH, "it is counted in steps a day", "begin", "begin")
def _in_steps(_: Facts, it: Exercise) -> bool:
    return any(s.dose.size is not None and s.dose.size.unit == "steps/day" for s in it.steps)


@exercise.fact("last-value", number("steps/day"), "the steps a day of its last step", _LADDER, "rise")
def _last_value(_: Facts, it: Exercise) -> Fraction | None:
    return steps_a_day(it.steps[-1].dose) if it.steps else None


@exercise.fact("first-value", number("steps/day"), "the steps a day of its first step", "begin", "begin")
def _first_value(_: Facts, it: Exercise) -> Fraction | None:
    return steps_a_day(it.steps[0].dose) if it.steps else None


def steps_a_day(it: Dose) -> Fraction | None:
    """The steps a day of a dose; None where it is counted otherwise."""
    size = it.size
    if size is None or size.unit != "steps/day" or not size.amounts:
        return None
    return size.amounts[0].low


step.fact("dose", thing("dose"), "its whole dose", _LADDER)(lambda _, it: it.dose)
step.fact("weeks", number("week"), "how long it is kept, where it says so", "then")(lambda _, it: it.weeks)
step.fact("variant", TEXT, "the variant of the exercise", _LADDER)(lambda _, it: it.dose.variant)


@step.fact("load", number("kg"), "the weight that is lifted", _LADDER)
def _step_load(_: Facts, it: Step) -> Fraction | None:
    load = it.dose.load
    return None if load is None or load.basis != "mass" else in_base(load.amount.low, load.unit)


dose.fact("sets", COUNT, "sets; of a range the lower end", _LADDER)(lambda _, it: _sets(it))
dose.fact("reps", COUNT, "repetitions in the largest set", _LADDER)(lambda _, it: _most(it, SizeKind.REPS))
dose.fact("effort", COUNT, "how hard, out of 10; the upper end", _LADDER)(lambda _, it: _effort(it, 10))
dose.fact("effort-of-20", COUNT, "how hard, on the scale to 20; the upper end", _LADDER)(lambda _, it: _effort(it, 20))
dose.fact("share-of-1rm", number("%"), "the share of one repetition maximum; the upper end", _LADDER)(
    lambda _, it: _load(it, "1RM")
)
dose.fact("rm", COUNT, "the most repetitions that the load allows; the fewest of a range", _LADDER)(
    lambda _, it: _load(it, "RM")
)


def _sets(it: Dose) -> Fraction | None:
    if it.size is None:
        return None
    return Fraction(len(it.size.amounts)) if len(it.size.amounts) > 1 else it.size.sets.low


def _most(it: Dose, kind: SizeKind) -> Fraction | None:
    if it.size is None or it.size.kind is not kind or not it.size.amounts:
        return None
    return max(amount.high for amount in it.size.amounts)


def _effort(it: Dose, scale: int) -> Fraction | None:
    return it.effort.rating.high if it.effort and it.effort.scale == scale else None


def _load(it: Dose, basis: str) -> Fraction | None:
    if it.load is None or it.load.basis != basis:
        return None
    return it.load.amount.low if basis == "RM" else it.load.amount.high
