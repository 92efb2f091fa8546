"""One ladder, week by week: the pure machine that the week table and the leeway share.

Its state is small and hashable; `advance` is a function of it and of what the week is for this one
exercise. Each transition is a sentence of the project's page on what a plan means:

- a week in which it is done at its own level does step `step_at(c)`, then c grows by one;
- a week without it lengthens the gap, once c > 0; a rest week in the gap is counted, three at most;
- the first week after a gap that holds a rest week, or is two weeks or longer, begins the easing
  anew; after any other gap it goes on as it was, an easing under way included;
- when the easing is over, c first goes back by one if the easing was below the step last done and c
  stands at the first week of a step. That happens in the first week at its own level, not before, so
  that rest which comes earlier is still reckoned from the step last done;
- a lighter week is done below the step last done and moves nothing; easing alone holds in a week that
  would be both.
"""

from __future__ import annotations

from bisect import bisect_right
from enum import IntEnum
from functools import lru_cache
from typing import NamedTuple

from attrs import field

from planlang.model.exercise import Exercise
from planlang.model.rest import Lighter, Rest, Return
from planlang.text.data import frozen

LONGEST_RUN = 3  # a run of four or more rest weeks is reckoned like three
DEFAULT_RETURN = Return(1, 1, 1)


class Event(IntEnum):
    """What a calendar week is for one exercise."""

    REST = 0  # a rest week: no sessions
    WITHOUT = 1  # any other week without it: away, outside its training weeks, no session of it left
    OWN = 2  # a training week in which it is done
    LIGHTER = 3  # the same, in a lighter week of the plan
    KEPT = 4  # the same, before the training week until which the first step is kept


class State(NamedTuple):
    """Where a ladder stands before a week.

    c: training weeks done at its own level (capped where more would change nothing);
    left: easing weeks still to come; line: the return line that set them; back: since it was last
    done at its own level it was eased below that step, so c has still to go back; gap: calendar weeks
    without it, 2 standing for more; rested: rest weeks in that gap, 3 standing for more.
    """

    c: int = 0
    left: int = 0
    line: int = 0
    back: bool = False
    gap: int = 0
    rested: int = 0


class Turn(NamedTuple):
    """What is done in one week: the step's index (-1 the easier one), and at which level."""

    step: int
    easing: bool = False
    lighter: bool = False


FRESH = State()


@frozen
class Ladder:
    """The fixed part of a ladder. `begins[i]` is the c at which step i begins.

    The last step that is ever reached is `len(begins) - 1`: steps after one that is never left are
    not in it. `lines` are the return lines by ascending `after`; the first is the one that holds
    for any gap. `floor` is the lowest step of easing: -1 where an easier step is written, else 0.
    """

    begins: tuple[int, ...]
    lines: tuple[Return, ...] = (DEFAULT_RETURN,)
    floor: int = 0
    lighter: Lighter | None = None
    keep_until: int = 0
    starts: frozenset[int] = field(init=False, eq=False, repr=False)
    top: int = field(init=False, eq=False, repr=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "starts", frozenset(self.begins))
        object.__setattr__(self, "top", self.begins[-1] + 1)

    def step_at(self, c: int) -> int:
        """The step whose weeks hold c; the last one holds all that follows."""
        return max(bisect_right(self.begins, c) - 1, 0)

    def last_done(self, state: State) -> int:
        """s: the step last done at its own level (0 before the first week)."""
        return self.step_at(state.c - 1) if state.c else 0

    def event(self, training_week: int) -> Event:
        """What a training week with at least one session of it left is for this ladder."""
        if training_week < self.keep_until:
            return Event.KEPT
        if self.lighter and training_week % self.lighter.every == 0:
            return Event.LIGHTER
        return Event.OWN

    def line_for(self, rested: int) -> int:
        """The return line for a gap that holds so many rest weeks: the one with the largest `after` that it reaches."""
        chosen = 0
        for i, line in enumerate(self.lines):
            if line.after <= rested:
                chosen = i
        return chosen

    def easing(self, s: int, line: int) -> tuple[int, ...]:
        """The steps of the easing weeks in order, from the step last done and the return line."""
        held = self.lines[line]
        if held.weeks < 1:
            return ()
        lowest = max(self.floor, s - held.lower)
        ramp = tuple(range(lowest + 1, s)) if held.after > 1 else ()
        return (lowest,) * held.weeks + ramp

    def eased(self, state: State) -> tuple[int, ...]:
        """The easing weeks that would come if it were done now; empty where it goes on at its own level."""
        if not state.c:
            return ()
        if state.gap and (state.rested or state.gap > 1):
            return self.easing(self.last_done(state), self.line_for(state.rested))
        if state.left:
            return self.easing(self.last_done(state), state.line)[-state.left :]
        return ()

    def is_eased(self, state: State, training_week: int) -> bool:
        """True where a training week with a session of it would be an easing week."""
        return training_week >= self.keep_until and bool(self.eased(state))


def advance(ladder: Ladder, state: State, event: Event, counts: bool = True) -> tuple[State, Turn | None]:
    """The state after a week, and what was done in it (None in a week without the exercise).

    `counts` is False where, looking back, fewer than half of the due sessions were done: the week
    was held at its own level, and c does not grow.
    """
    if event <= Event.WITHOUT:
        return _without(state, event), None
    if event is Event.KEPT:
        # c is 0 here: nothing has been done that could be eased.
        return state, Turn(ladder.step_at(state.c))
    c = state.c
    easing = ladder.eased(state)
    if easing:
        step, left, last = easing[0], len(easing) - 1, ladder.last_done(state)
        anew = state.gap and (state.rested or state.gap > 1)
        line = ladder.line_for(state.rested) if anew else state.line
        below = (step if anew else ladder.easing(last, line)[0]) < last
        return State(c, left, line if left else 0, state.back or below), Turn(step, easing=True)
    # With no easing to come, whether c has still to go back is all that is remembered.
    if event is Event.LIGHTER and c and ladder.lighter:
        return State(c, back=state.back), Turn(max(0, ladder.last_done(state) - ladder.lighter.lower), lighter=True)
    if state.back and c in ladder.starts:
        c -= 1
    return State(min(c + counts, ladder.top)), Turn(ladder.step_at(c))


def _without(state: State, event: Event) -> State:
    if not state.c:
        return state
    rested = min(state.rested + (event is Event.REST), LONGEST_RUN)
    return State(state.c, state.left, state.line, state.back, 2 if state.gap else 1, rested)


def ladder_of(exercise: Exercise, rest: Rest | None) -> Ladder:
    """The ladder of an exercise or activity under a plan's rest block.

    A step's own length goes before the pace; a step with neither is never left.
    """
    begins = [0]
    for step in exercise.steps[:-1]:
        weeks = step.weeks or pace_weeks(exercise)
        if not weeks:
            break
        begins.append(begins[-1] + weeks)
    pace = exercise.pace
    return Ladder(
        begins=tuple(begins),
        lines=_lines(rest.returns if rest else ()),
        floor=-1 if exercise.easier else 0,
        lighter=rest.lighter if rest and rest.lighter and rest.lighter.every > 0 else None,
        keep_until=(pace.from_week or 0) if pace else 0,
    )


def pace_weeks(exercise: Exercise) -> int | None:
    """Training weeks on a step, from `progress` or `rise`; None where no whole weeks were given."""
    if exercise.pace and exercise.pace.weeks and exercise.pace.weeks > 0:
        return exercise.pace.weeks
    if exercise.rise and exercise.rise.weeks > 0:
        return exercise.rise.weeks
    return None


@lru_cache(maxsize=256)
def _lines(written: tuple[Return, ...]) -> tuple[Return, ...]:
    """Return lines by ascending `after`; one step lower for one week where none holds for every gap."""
    by_after: dict[int, Return] = {}
    for line in written:
        by_after.setdefault(max(1, line.after), line)
    by_after.setdefault(1, DEFAULT_RETURN)
    return tuple(by_after[after] for after in sorted(by_after))
