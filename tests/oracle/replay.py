"""A plan's weeks, one after the other, with what is done of each exercise in each."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import field, frozen

from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.planning.week import WeekKind
from tests.oracle.kinds import Kind, kinds
from tests.oracle.ladders import Ladder, Seen, easing_steps, place
from tests.oracle.sittings import exercise_days, sessions_of
from tests.oracle.starts import may_begin


@frozen
class Past:
    """One calendar week as the replay found it: what was done of each exercise, by name."""

    week: Kind
    seen: dict[str, Seen] = field(factory=dict)


def replay(plan: Plan, rest: frozenset[int] = frozenset()) -> Iterator[Past]:
    """Every calendar week of the plan, one after the other, with rest on the weeks given."""
    ladders = {exercise.name: Ladder(exercise) for exercise in plan.exercises}
    past: list[Past] = []
    for week in kinds(plan, rest):
        match week.kind:
            case WeekKind.TRAINING:
                seen = training_week(plan, ladders, past, week)
            case WeekKind.REST:
                seen = rest_week(plan, ladders, past)
            case WeekKind.SPARE:
                seen = spare_week(plan, ladders, past, week)
            case WeekKind.AWAY:
                seen = away_week(plan, ladders, week)
        past.append(Past(week, seen))
        for name, ladder in ladders.items():
            ladder.kinds.append(week.kind)
            ladder.seen.append(seen.get(name))
        yield past[-1]


def training_week(plan: Plan, ladders: dict[str, Ladder], past: list[Past], week: Kind) -> dict[str, Seen]:
    """What is done in a training week: first what has begun, then what begins."""
    seen: dict[str, Seen] = {}
    due = [e for e in plan.exercises if e.steps and exercise_days(plan, e, week, week.training_week)]
    for exercise in due:
        if ladders[exercise.name].begun:
            seen[exercise.name] = done(plan, ladders[exercise.name], week.training_week)
    # "never in a week in which any exercise is eased: then in the next"
    anything_eased = any(one.easing for one in seen.values())
    for exercise in due:
        if not ladders[exercise.name].begun and may_begin(plan, exercise, past, week.training_week, anything_eased):
            seen[exercise.name] = done(plan, ladders[exercise.name], week.training_week)
    return seen


def done(plan: Plan, ladder: Ladder, training_week: int) -> Seen:
    """One exercise in a training week with at least one session (day) of it."""
    exercise = ladder.exercise
    if ladder.c > 0:
        ease_after_gap(plan, ladder)
        # "The next E training weeks are easing weeks ...; c does not grow."
        if ladder.easing_left:
            return Seen(ladder.easing_left.pop(0), easing=True)
        # "in training weeks q, 2q, 3q ... an exercise with c > 0 is done at max(0, s-b), s the step
        # last done at its own level, and c does not grow. In a week that would be both, easing alone holds."
        lighter = plan.rest.lighter if plan.rest is not None else None
        if lighter is not None and training_week % lighter.every == 0:
            return Seen(max(0, ladder.last_own_step - lighter.lower), lighter=True)
        # "When it is over, the first week is at s again, never at a step not done before: if the
        # easing was below s and c is a multiple of m, c first goes back by one."
        if ladder.eased_below_since and place(exercise, ladder.c)[1]:
            ladder.c -= 1
    # "In an ordinary training week from f on it is done at step min(K-1, c div m); then c grows by one."
    step = place(exercise, ladder.c)[0]
    # "`progress ... from training week W` keeps it on its first step, c not growing, until W"
    kept = exercise.pace is not None and training_week < (exercise.pace.from_week or 0)
    if not kept:
        ladder.c += 1
    return Seen(step, own=True)


def ease_after_gap(plan: Plan, ladder: Ladder) -> None:
    """ "After a gap that holds a rest week, or is two weeks or longer, it is eased as above; after any
    other it goes on." "Another rest week starts the easing again." "An exercise with c = 0 begins as usual."
    """
    gap = ladder.gap()
    if ladder.c > 0 and (WeekKind.REST in gap or len(gap) >= 2):
        ladder.easing_left = easing_steps(plan, ladder.exercise, ladder.last_own_step, gap)


def rest_week(plan: Plan, ladders: dict[str, Ladder], past: list[Past]) -> dict[str, Seen]:
    """ "No sessions. What `still do` names is shown ..., moves no ladder". "A daily activity that it
    does not name goes on at its first step".
    """
    seen = {name: Seen(0) for name, ladder in ladders.items() if goes_on(plan, ladder.exercise, past)}
    for line in plan.rest.still_do if plan.rest is not None else ():
        seen[line.name] = Seen(None, gentle=True)
    return seen


def goes_on(plan: Plan, exercise: Exercise, past: list[Past]) -> bool:
    """Whether a daily activity is under way: it was done in the latest training week, and in no session."""
    if not exercise.daily or sessions_of(plan, exercise.name):
        return False
    training = [one for one in past if one.week.kind is WeekKind.TRAINING]
    return bool(training) and exercise.name in training[-1].seen


def spare_week(plan: Plan, ladders: dict[str, Ladder], past: list[Past], week: Kind) -> dict[str, Seen]:
    """ "Spare weeks hold: the last training week's sessions and daily activities at the steps of that
    week, or eased if a rest week came since; no ladder moves". "`spare empty` leaves them blank."
    """
    if plan.rest is not None and plan.rest.spare_empty:
        return {}
    training = [n for n, one in enumerate(past) if one.week.kind is WeekKind.TRAINING]
    if not training:
        return {}
    last = past[training[-1]]
    since = past[training[-1] + 1 :]
    rest_since = any(one.week.kind is WeekKind.REST for one in since)
    seen: dict[str, Seen] = {}
    for name, then in last.seen.items():
        ladder = ladders[name]
        if not exercise_days(plan, ladder.exercise, week, last.week.training_week):
            continue
        seen[name] = Seen(then.step, easing=then.easing, lighter=then.lighter)
        if rest_since and ladder.c > 0:
            # eased, every week after it: the plan has no training weeks left to climb back in
            gap = ladder.gap()
            if WeekKind.REST in gap:
                ladder.easing_left = easing_steps(plan, ladder.exercise, ladder.last_own_step, gap)[:1]
            if ladder.easing_left:
                seen[name] = Seen(ladder.easing_left[0], easing=True)
    return seen


def away_week(plan: Plan, ladders: dict[str, Ladder], week: Kind) -> dict[str, Seen]:
    """ "it ... counts no training week; what the line names is done as written and moves no ladder": at the
    step last done at its own level, or eased where easing is due.
    """
    seen = {}
    for line in plan.away:
        session = plan.session(line.session) if line.session is not None else None
        if session is None or not any(line.first <= day <= line.last for day in week.days):
            continue
        for name in session.do:
            ladder = ladders[name]
            ease_after_gap(plan, ladder)
            if ladder.easing_left:
                seen[name] = Seen(ladder.easing_left[0], easing=True)
            else:
                seen[name] = Seen(ladder.last_own_step if ladder.begun else 0)
    return seen
