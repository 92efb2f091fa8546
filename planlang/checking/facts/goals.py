"""Facts of the goal and the targets."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from planlang.checking.expression.types import COUNT, DATE, TEXT, TEXTS, TRUTH, WORDING, name_of, number, one_of
from planlang.checking.facts.registry import Facts, root, root_list, subject
from planlang.checking.facts.verdict import Verdict, verdict
from planlang.model.plan import Goal, Measuring, Target
from planlang.model.quantity import only_shown
from planlang.model.show import dose_text
from planlang.planning.weeks import day_of

goal = subject("goal")
target = subject("target", "targets")

root("goal", "goal", "what the person wants to do", lambda f, _: f.plan.goal, "goal")
root_list("target", "target", "the dated targets on the way", lambda f: f.plan.targets, "target")

for _aim in (goal, target):
    _aim.plain("title", TEXT, "its own words", "goal target")
    _aim.plain("because", TEXT, "why it matters to the person", "because", "because")
    _aim.fact("date", DATE, "by when; a week means its last day", "by_when starts", "by_when")(
        lambda facts, it: day_of(facts.plan, it.by)
    )
    _aim.fact("measure", name_of("measure"), "the measure that it is tied to", "measured_by", "measured_by")(
        lambda _, it: it.measured and it.measured.measure
    )
    _aim.fact("change", COUNT, "the change of its measure, in the unit written", "measured_by", "measured_by")(
        lambda _, it: _change(it.measured)
    )

goal.plain("changed", TEXTS, "what is different now", "changed", "changed")
goal.fact("confidence", COUNT, "how sure the person is, out of 10", "confidence", "confidence")(
    lambda _, it: it.confidence
)
goal.fact("last-done", COUNT, "the year in which it was last done", "last_done", "last_done")(
    lambda _, it: it.last_done
)


def _change(measured: Measuring | None) -> Fraction | None:
    if measured is None or measured.start.unit != measured.to.unit:
        return None
    return measured.to.value - measured.start.value


@goal.fact(
    "years-ago",
    number("year"),
    "years from when it was last done to when the plan was written",
    "last_done written",
    "last_done",
)
def _years_ago(facts: Facts, it: Goal) -> Fraction | None:
    written = facts.plan.written or facts.plan.starts
    if it.last_done is None or written is None:
        return None
    if it.last_day is None:
        return Fraction(written.year - it.last_done)
    return Fraction(round((written - it.last_day).days / 36.525), 10)  # to the tenth of a year


KINDS = one_of("reach", "keep", "do", "measured", "none")


@target.fact(
    "kind",
    KINDS,
    "reach a dose, keep a habit, do it once, measured, or none of these",
    "reach keep do_once measured_by",
)
def _kind(_: Facts, it: Target) -> str:
    for word, there in (("reach", it.reach), ("keep", it.keep), ("do", it.do), ("measured", it.measured)):
        if there:
            return word
    return "none"


target.plain("reach_in", TEXT, "the exercise in which a dose is to be reached", "reach", "reach")


@target.fact("dose", TEXT, "the dose that is to be reached", "reach", "reach")
def _dose(facts: Facts, it: Target) -> str | None:
    return None if it.reach is None else dose_text(it.reach, facts.plan.today, it.reach_in)


@target.fact(
    "trained",
    TRUTH,
    "its exercise is in a session, or is an activity",
    "reach session activity do_exercises instead",
    "reach",
)
def _trained(facts: Facts, it: Target) -> bool | None:
    if it.reach_in is None:
        return None
    exercise = facts.plan.exercise(it.reach_in)
    if exercise is not None and exercise.activity:
        return True
    return any(it.reach_in in session.do for session in facts.plan.sessions)


def _verdict(facts: Facts, it: Target) -> Verdict:
    return facts.once(("verdict", id(it)), lambda: verdict(facts, it))


LADDER = (
    "reach by_when exercise activity begin then rise progress progress_deed start_after start_reach training rest room "
    "session days do_exercises lasts starts away lighter return_lower return_same in_turn"
)


@target.fact(
    "verdict",
    one_of("always", "depends", "never", "open"),
    "whether it is reached by its date, wherever the rest falls",
    LADDER,
    "reach",
)
def _verdict_word(facts: Facts, it: Target) -> str | None:
    return _verdict(facts, it).word


@target.fact("on-the-ladder", TRUTH, "some step of its exercise is at least its dose", LADDER, "reach")
def _on_the_ladder(facts: Facts, it: Target) -> bool | None:
    return _verdict(facts, it).on_the_ladder


@target.fact("first-reached", DATE, "when it is first reached if no rest is taken", LADDER, "reach")
def _first_reached(facts: Facts, it: Target) -> date | None:
    return _verdict(facts, it).first


@target.fact("last-reached", DATE, "when it is reached at the latest, wherever the rest falls", LADDER, "reach")
def _last_reached(facts: Facts, it: Target) -> date | None:
    return _verdict(facts, it).last


@target.fact("worst-weeks", TEXT, "the calendar weeks in which easier weeks put it off most", LADDER, "reach")
def _worst_weeks(facts: Facts, it: Target) -> str | None:
    weeks = [str(week) for week in _verdict(facts, it).worst]
    if not weeks:
        return None
    return f"week {weeks[0]}" if len(weeks) == 1 else f"weeks {', '.join(weeks[:-1])} and {weeks[-1]}"


@target.fact("nearest", WORDING, "the nearest step of the ladder to its dose", LADDER, "reach")
def _nearest(facts: Facts, it: Target) -> str | None:
    words = _verdict(facts, it).words
    return None if words is None else only_shown(words)


@target.fact("last-step", TEXT, "the last step of its exercise's ladder", "reach exercise begin then rise", "reach")
def _last_step(facts: Facts, it: Target) -> str | None:
    exercise = facts.plan.exercise(it.reach_in or "")
    return dose_text(exercise.steps[-1].dose, facts.plan.today, exercise.name) if exercise and exercise.steps else None
