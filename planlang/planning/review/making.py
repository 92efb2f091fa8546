"""A review made from a plan looked back on, in one function."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import timedelta
from fractions import Fraction

from planlang.model.plan import Plan
from planlang.model.quantity import Quantity
from planlang.model.show import dose_text
from planlang.planning.leeway.reckon import leeway
from planlang.planning.leeway.standing_at import origin_of
from planlang.planning.past import Past
from planlang.planning.review.aims import attained, targets_stand
from planlang.planning.review.asking import decision, next_date, questions
from planlang.planning.review.attainment import t_score
from planlang.planning.review.changes import changes
from planlang.planning.review.data import Change, ExerciseStands, Pain, Ran, Review
from planlang.planning.review.first_words import confidence, news
from planlang.planning.review.flare_days import counted_flares, pain_by_day
from planlang.planning.review.held_weeks import blocks, by_session, tally, weeks_held
from planlang.planning.review.news import flares
from planlang.planning.review.next_block import Reached, next_block
from planlang.planning.review.next_step import ExerciseNext, next_steps
from planlang.planning.review.pain import limit, mornings
from planlang.text.finding import Finding

TWO_WEEKS = timedelta(days=14)
NONE_RAN = Ran()
Drafted = Callable[[Reached], str | None]
"""The next block as plan text, from what this one came to."""


def review_of(
    past: Past,
    findings: Iterable[Finding] = (),
    ran: Ran = NONE_RAN,
    drafted: Drafted | None = None,
    one_done: Callable[[], object] | None = None,
) -> Review:
    """The review of a plan at the end of a day. `findings`, `ran`: of the rules about diaries.

    `drafted` writes the next block where the plan's own text can't be changed in place, as one from a template can't.
    `one_done` is called after each target, for whoever watches.
    """
    plan, origin = past.plan, origin_of(past)
    ahead = leeway(plan, origin=origin, as_of=past.as_of, one_done=one_done)
    told, trust, pain = news(past), confidence(past), _pain(past)
    weeks = weeks_held(past)
    exercises = tuple(_stands(past, one) for one in next_steps(past) if not _only_gentle(plan, one))
    measured = changes(past)
    targets = targets_stand(past, ahead, origin)
    levels = attained(plan, measured)
    reached = Reached(
        {one.next.name: one.next.step for one in exercises if one.next.step is not None},
        _newest(measured),
        frozenset(one.standing.target.title for one in targets if one.met is not None),
        past.as_of,
    )
    return Review(
        past,
        told,
        trust,
        weeks,
        by_session(past),
        blocks(past, weeks),
        tally(past.held),
        pain,
        exercises,
        measured,
        targets,
        levels,
        t_score([one.level for one in levels if one.level is not None]),
        ahead,
        questions(past, told, trust, pain, exercises),
        decision(past, told, pain, exercises, targets),
        next_date(past),
        tuple(findings),
        ran,
        drafted(reached) if drafted else next_block(plan, reached),
    )


def _pain(past: Past) -> Pain:
    return Pain(
        limit(past.plan, past.diary, past.as_of),
        mornings(past, past.as_of - TWO_WEEKS + timedelta(days=1)),
        tuple(pain_by_day(past).items()),
        flares(past),
        counted_flares(past),
    )


def _only_gentle(plan: Plan, found: ExerciseNext) -> bool:
    """Whether an exercise stands in no session: it is done in easier weeks or away, and goes nowhere."""
    exercise = plan.exercise(found.name)
    inside = any(found.name in session.do for session in plan.sessions)
    return found.step is None and found.ahead is None and not inside and not (exercise and exercise.activity)


def _stands(past: Past, found: ExerciseNext) -> ExerciseStands:
    plan = past.plan
    exercise = plan.exercise(found.name)
    assert exercise is not None
    steps: list[int | None] = []
    for week in past.weeks.weeks:
        done = week.exercises.get(found.name) or week.activities.get(found.name)
        steps.append(done.step if done else None)
    return ExerciseStands(
        found, len(exercise.steps), _dose(plan, found, found.step), _dose(plan, found, found.ahead), tuple(steps)
    )


def _dose(plan: Plan, found: ExerciseNext, step: int | None) -> str | None:
    exercise = plan.exercise(found.name)
    if exercise is None or step is None:
        return None
    at = exercise.easier if step < 0 else exercise.steps[step]
    return dose_text(at.dose, plan.today, found.name) if at else None


def _newest(measured: Iterable[Change]) -> dict[str, Quantity]:
    return {
        one.name: Quantity(Fraction(one.to), "" if one.unit.startswith("/") else one.unit)
        for one in measured
        if one.to is not None
    }
