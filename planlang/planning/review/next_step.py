"""What each exercise does next, by its own rule and what happened: on, stay, or one lower; and why."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction

from planlang.model.exercise import Exercise
from planlang.model.quantity import number_text
from planlang.planning.ladder import ladder_of
from planlang.planning.past import Past
from planlang.planning.review.pain import Felt, Over, felt_of
from planlang.planning.week import Done, WeekKind
from planlang.text.data import frozen


class Next(StrEnum):
    """What is next. `on`: as the ladder goes, whether that is the next step or this one for longer."""

    ON = "on"
    STAY = "stay"
    LOWER = "lower"


@frozen
class ExerciseNext:
    """One exercise: the step it stands at (an index; -1 the easier one; None: not begun), what is next, and why.

    ahead: the step of its next week as the plan is reckoned. ask: the plan's own condition, a question for the visit.
    """

    name: str
    step: int | None
    next: Next
    why: str
    ahead: int | None = None
    ask: str | None = None


def next_steps(past: Past) -> tuple[ExerciseNext, ...]:
    """Every exercise and activity with a ladder, in the order of the file."""
    return tuple(next_step(past, exercise) for exercise in past.plan.exercises if exercise.steps)


def next_step(past: Past, exercise: Exercise) -> ExerciseNext:
    """One of them."""
    now, ahead = _now(past, exercise.name), _ahead(past, exercise.name)
    step = now.step if now else None
    to = ahead.step if ahead else None
    ask = exercise.pace.condition if exercise.pace else None

    def said(next: Next, why: str) -> ExerciseNext:
        return ExerciseNext(exercise.name, step, next, why, to, ask)

    if now is None:
        return said(Next.ON, "it has not begun")
    found = felt_of(past, exercise.name)
    by_date = _by_date(exercise)
    if not by_date and len(found) > 1 and found[-1].over and found[-2].over:
        return said(Next.LOWER, f"last two sessions: {_why(found[-1])}")
    if not by_date and found and found[-1].over:
        return said(Next.STAY, f"last session: {_why(found[-1])}")
    if _did_not_count(past, exercise.name):
        inside = any(exercise.name in session.do for session in past.plan.sessions)
        why = "under half of it done" if inside else "most days told below the aim"
        return said(Next.STAY, f"the week did not count, {why}")
    if to is None:
        return said(Next.ON, "nothing more of it in this plan")
    if len(exercise.steps) == 1 or (step is not None and step >= len(ladder_of(exercise, None).begins) - 1):
        return said(Next.ON, "the last step")
    if ahead is not None and ahead.easing:
        return said(Next.ON, "easing after an easier week")
    if step is not None and to > step:
        return said(Next.ON, f"step {to + 1} is due" + (", by the date" if by_date else ""))
    return said(Next.ON, "no step up due yet")


def _why(felt: Felt) -> str:
    """The ratings that were more than the plan accepts."""
    said = []
    if Over.LIMIT in felt.over:
        said.append(f"{_out_of(felt.during)} during")
    elif Over.RISEN in felt.over:
        said.append(f"from {_out_of(felt.before)} to {_out_of(felt.during)}")
    if Over.MORNING in felt.over:
        said.append(f"{_out_of(felt.morning)} next morning")
    return ", ".join(said)


def _out_of(value: Fraction | None) -> str:
    return "" if value is None else f"{number_text(value)}/10"


def _by_date(exercise: Exercise) -> bool:
    return bool((exercise.pace and exercise.pace.by == "date") or (exercise.rise and exercise.rise.by_date))


def _now(past: Past, name: str) -> Done | None:
    """How it was last done by the day of the review, in a week that has begun."""
    found = None
    for week in past.weeks.weeks:
        if week.starts > past.as_of:
            break
        done = week.exercises.get(name) or week.activities.get(name)
        if done is not None and done.step is not None:
            found = done
    return found


def _ahead(past: Past, name: str) -> Done | None:
    """How it is done next, in a week that has not begun."""
    for week in past.weeks.weeks:
        if week.starts > past.as_of and week.kind in (WeekKind.TRAINING, WeekKind.SPARE):
            done = week.exercises.get(name) or week.activities.get(name)
            if done is not None and done.step is not None:
                return done
    return None


def _did_not_count(past: Past, name: str) -> bool:
    """Whether the last training week of it that is over did not count."""
    weeks = [
        w.number
        for w in past.weeks.weeks
        if w.kind is WeekKind.TRAINING
        and w.number < past.first_open_week
        and (name in w.exercises or name in w.activities)
    ]
    return bool(weeks) and weeks[-1] in past.looking.uncounted.get(name, frozenset())
