"""How far one ladder has come: what c, m and s mean, and what easing weeks a gap asks for."""

from __future__ import annotations

from attrs import define, field, frozen

from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.model.rest import Return
from planlang.planning.week import WeekKind


@frozen
class Seen:
    """What was done of one exercise in one calendar week. `step` -1 is the easier step, None another dose."""

    step: int | None
    own: bool = False
    easing: bool = False
    lighter: bool = False
    gentle: bool = False


@define
class Ladder:
    """The whole history of one exercise so far: one entry for each calendar week that is past."""

    exercise: Exercise
    c: int = 0
    easing_left: list[int] = field(factory=list)
    kinds: list[WeekKind] = field(factory=list)
    seen: list[Seen | None] = field(factory=list)

    @property
    def begun(self) -> bool:
        """Whether it was done in some training week."""
        return any(
            seen is not None and kind is WeekKind.TRAINING for kind, seen in zip(self.kinds, self.seen, strict=True)
        )

    @property
    def last_own_step(self) -> int:
        """ "s ..., the step last done at its own level"."""
        return [seen.step for seen in self.seen if seen is not None and seen.own][-1]

    @property
    def eased_below_since(self) -> bool:
        """Whether, since it was last done at its own level, it was eased to a step below that one."""
        for seen in reversed(self.seen):
            if seen is None:
                continue
            if seen.own:
                return False
            if seen.easing and seen.step < self.last_own_step:
                return True
        return False

    def gap(self) -> list[WeekKind]:
        """ "A gap is a run of calendar weeks without the exercise once it has begun (rest, away,
        outside its training weeks, or training weeks with no session of it)." An away week whose line names
        it "moves no ladder": it is not without it, and ends no gap either; nor does a blank spare week.
        """
        run = []
        for kind, seen in zip(reversed(self.kinds), reversed(self.seen), strict=True):
            if seen is not None and kind in (WeekKind.TRAINING, WeekKind.SPARE):
                break
            if kind is WeekKind.REST or (seen is None and kind is not WeekKind.SPARE):
                run.append(kind)
        return run


def step_lengths(exercise: Exercise) -> list[int | None]:
    """ "stays m training weeks on a step"; "`then ... for 2 weeks` gives a step its own m"."""
    pace = exercise.pace.weeks if exercise.pace is not None else None
    return [step.weeks if step.weeks is not None else pace for step in exercise.steps]


def place(exercise: Exercise, c: int) -> tuple[int, bool]:
    """The step whose weeks hold c, and whether c is the first week of it.

    "read 'c div m' as the step whose weeks hold c, 'a multiple of m' as the first week of a step";
    "done at step min(K-1, c div m)"; "No pace and more than one step: it stays on the first".
    """
    first_week = 0
    for step, length in enumerate(step_lengths(exercise)):
        if length is None or step == len(exercise.steps) - 1 or c < first_week + length:
            return step, c == first_week
        first_week += length
    raise AssertionError("an exercise without steps")


def return_line(plan: Plan, gap: list[WeekKind]) -> Return:
    """The `return` line that holds for a gap.

    "for a gap holding R or more rest weeks (away weeks not counted) the line with the largest such
    R holds"; "A run of 4 or more is reckoned like 3"; "With no `return` line B = 1, E = 1".
    """
    rest_weeks = min(3, gap.count(WeekKind.REST))
    lines = plan.rest.returns if plan.rest is not None else ()
    holding = [line for line in lines if line.after <= 1 or line.after <= rest_weeks]
    if not holding:
        return Return(lower=1, weeks=1)
    return max(holding, key=lambda line: line.after)


def easing_steps(plan: Plan, exercise: Exercise, s: int, gap: list[WeekKind]) -> list[int]:
    """The steps of the easing weeks to come after a gap, s the step last done at its own level."""
    line = return_line(plan, gap)
    # "With `return at the same step` (E = 0) there is no easing"
    if line.weeks == 0:
        return []
    # "done at max(0, s-B), or max(-1, s-B) where `easier` is given"
    floor = 0 if exercise.easier is None else -1
    low = max(floor, s - line.lower)
    steps = [low] * line.weeks
    # "after R weeks: ... E weeks at s-B (never below the floor), then one week on each step between
    # that one and s"
    if line.after > 1:
        steps += list(range(low + 1, s))
    return steps
