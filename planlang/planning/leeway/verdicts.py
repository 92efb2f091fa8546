"""The verdict on each target: exact, over every placement of the room for rest."""

from __future__ import annotations

from collections import OrderedDict
from datetime import date, timedelta
from functools import cache, partial

from attrs import field

from planlang.model.compare import not_compared
from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.plan import Plan, Target
from planlang.model.quantity import only_shown
from planlang.model.show import dose_text
from planlang.planning.ladder import ladder_of
from planlang.planning.leeway.data import UNRECKONED, Standing, Verdict
from planlang.planning.leeway.frame import Frame, can_be_reckoned
from planlang.planning.leeway.machine import Machine
from planlang.planning.leeway.origin import BEGINNING, Origin
from planlang.planning.leeway.sweep import Sweep, sweep, worst_placement
from planlang.planning.leeway.waiting import WaitingMachine, waits
from planlang.planning.reach import Aim, aim
from planlang.planning.weeks import DAY, day_of
from planlang.planning.wording import counted
from planlang.text.data import define

PLANS_KEPT = 8


@define(eq=False)
class Verdicts:
    """The verdicts of one plan, each worked out when first asked. frame: None where the plan can't be reckoned."""

    plan: Plan
    origin: Origin = BEGINNING
    frame: Frame | None = field(init=False)
    machines: dict[tuple[str, int | None], Machine] = field(factory=dict)
    standings: dict[int, Standing] = field(factory=dict)
    aims: dict[int, tuple[Target, Aim]] = field(factory=dict)

    def __attrs_post_init__(self) -> None:
        self.frame = Frame(self.plan, self.origin) if can_be_reckoned(self.plan) else None

    def of(self, target: Target) -> Standing:
        """The verdict on a target of the plan."""
        place = next((i for i, one in enumerate(self.plan.targets) if one is target), None)
        if place is None:
            return self._reckon(target)
        if place not in self.standings:
            self.standings[place] = self._reckon(target)
        return self.standings[place]

    def machine(self, exercise: Exercise, step: int | None) -> Machine:
        """The machine of an exercise on its way to a step (an index), or to the plan's end. Needs a frame."""
        if self.frame is None:
            raise ValueError("a plan that can't be reckoned has no ladders")
        key = exercise.name, step
        if key not in self.machines:
            made = WaitingMachine if waits(exercise) else Machine
            self.machines[key] = made(self.frame, exercise, step)
        return self.machines[key]

    def step_of(self, target: Target) -> tuple[Exercise, int] | str:
        """The exercise and the step (an index) at which a target is reached, or why no step decides it."""
        said = _no_ladder(target) or ("" if self.frame else UNRECKONED)
        if said:
            return said
        exercise = self.plan.exercise(target.reach_in or "")
        if exercise is None:
            return f"there is no exercise `{target.reach_in}` in this plan."
        if not exercise.steps:
            return f"`{exercise.name}` has no step yet."
        assert target.reach is not None
        named = not_compared(target.reach)
        if named:
            return f"it names {' and '.join(named)}, by which no two doses are compared."
        found = self.aim(exercise, target)
        if found.step is not None:
            return exercise, found.step
        unset = next((n for n, step in enumerate(exercise.steps, 1) if step.dose.to_be_set), None)
        if unset is not None:
            return f"step {unset} of `{exercise.name}` is not set yet."
        return exercise, len(exercise.steps)

    def aim(self, exercise: Exercise, target: Target) -> Aim:
        """Where the dose of a target stands on its ladder, worked out once. Needs a dose."""
        assert target.reach is not None
        kept = self.aims.get(id(target))
        if kept is None:
            kept = self.aims[id(target)] = target, aim(exercise, target.reach, self.plan.today)
        return kept[1]

    def reached(self, target: Target) -> date | None:
        """When a target's step was done, by the diary."""
        decided = self.step_of(target)
        return None if isinstance(decided, str) else self.origin.stand(decided[0].name).reached(decided[1])

    def machine_of(self, target: Target) -> Machine | None:
        """The machine on its way to a target's step; None where no ladder leads there."""
        decided = self.step_of(target)
        if isinstance(decided, str) or self._stays_below(*decided):
            return None
        return self.machine(*decided)

    def _stays_below(self, exercise: Exercise, step: int) -> str:
        """Why a step is never come to, however long the plan; empty where it may be."""
        if step >= len(exercise.steps):
            return "too high"
        stays = len(ladder_of(exercise, None).begins)
        return (
            ""
            if step < stays
            else f"`{exercise.name}` has no pace, so it stays on step {stays}; this is step {step + 1}."
        )

    def _reckon(self, target: Target) -> Standing:
        by = day_of(self.plan, target.by)
        decided = self.step_of(target)
        if isinstance(decided, str):
            return Standing(target, by, Verdict.OPEN, decided)
        if by is None:
            return Standing(target, by, Verdict.OPEN, "it has no date.")
        exercise, step = decided
        if step >= len(exercise.steps):
            return Standing(target, by, Verdict.NEVER, self._too_high(target, exercise))
        reached = self.origin.stand(exercise.name).reached(step)
        if reached is not None:
            return _been(target, by, reached)
        stays = self._stays_below(exercise, step)
        if stays:
            return Standing(target, by, Verdict.NEVER, stays)
        return standing(self.machine(exercise, step), target, by)

    def _too_high(self, target: Target, exercise: Exercise) -> str:
        assert target.reach is not None
        near = self.aim(exercise, target).nearest
        wanted = _shown(target.reach)
        if near is None:
            return f"`{wanted}` can't be compared with any step of `{exercise.name}`."
        nearest = f"step {near + 1}, {_shown(exercise.steps[near].dose)}"
        return f"No step of `{exercise.name}` is at least `{wanted}`; the nearest is {nearest}."


def _shown(dose: Dose) -> str:
    return only_shown(lambda: dose_text(dose))


def _no_ladder(target: Target) -> str:
    """Why no ladder decides a target; empty where one may."""
    if target.keep is not None:
        return "a habit, met in the first week that holds the days."
    if target.do is not None:
        return "a thing to do once, not a dose to be reached."
    if target.reach is None:
        return "it is measured, not trained towards step by step." if target.measured else "it says nothing to reach."
    if target.reach.to_be_set:
        return "its dose is not set yet."
    return ""


def _been(target: Target, by: date, day: date) -> Standing:
    """The verdict on a target that has been reached."""
    if day <= by:
        return Standing(target, by, Verdict.ALWAYS, None, day, day)
    return Standing(target, by, Verdict.NEVER, f"It was reached on {day}, after its date.", day, day)


def standing(machine: Machine, target: Target, by: date) -> Standing:
    """The verdict for a machine that ends at the target's step."""
    frame = machine.frame
    room, first = frame.room, frame.calendar.starts
    due_week = min(max((by - first).days // 7 + 1, 0), frame.calendar.length)
    found = sweep(machine, room, due_week)
    within_room = (1 << (room + 1)) - 1
    hits = [
        (first + timedelta(weeks=w - 1, days=day), w, day, r)
        for w, day, rest in found.hits
        if (r := rest & within_room)
    ]
    late = _late(found, due_week, first, by)
    in_time = any(day <= by for day, *_ in hits)
    earliest = hits[0][0] if hits else None
    latest = hits[-1][0] if hits and not found.never else None
    if not in_time:
        return Standing(target, by, Verdict.NEVER, _never_in_time(machine, earliest, by), earliest, latest)
    verdict = Verdict.DEPENDS if late & within_room else Verdict.ALWAYS
    # Worked out only where they are said: a check asks for the verdict.
    worst = cache(partial(_worst, machine, found, hits[-1]))
    margin = cache(partial(_margin, machine, due_week, by))
    return Standing(target, by, verdict, None, earliest, latest, worst, margin)


def _late(found: Sweep, due_week: int, first: date, by: date) -> int:
    """With how many rest weeks it is not reached by its date."""
    late = found.not_yet
    for week, day, rest in found.hits:
        if week == due_week and first + timedelta(weeks=week - 1) + day * DAY > by:
            late |= rest
    return late


def _margin(machine: Machine, due_week: int, by: date) -> int | None:
    """The most rest weeks with which it is still met, room or none."""
    calendar = machine.frame.calendar
    late = _late(sweep(machine, machine.frame.room, due_week, beyond=True), due_week, calendar.starts, by)
    fewest = (late & -late).bit_length() - 1 - machine.frame.origin.rest  # below 0 where it is never late
    return fewest - 1 if fewest > 0 else None


def _never_in_time(machine: Machine, earliest: date | None, by: date) -> str:
    step = (machine.step or 0) + 1
    what = f"Step {step} of `{machine.exercise.name}`"
    if earliest is None:
        return f"{what} does not come within the plan, wherever the rest falls."
    return f"{what} comes on {earliest} at the earliest, {counted((earliest - by).days, 'day')} after its date."


def _worst(machine: Machine, found: Sweep, last: tuple[date, int, int, int]) -> tuple[int, ...]:
    """Of the placements with the latest date, or with none, the one with the fewest weeks, then the first."""
    _, week, day, rest = last
    hit: tuple[int, int] | None = (week, day)
    if found.never:
        rest, hit = found.never, None
    fewest = (rest & -rest).bit_length() - 1
    return worst_placement(machine, found, fewest, hit) if fewest > machine.frame.origin.rest else ()


_KEPT: OrderedDict[int, Verdicts] = OrderedDict()


def verdicts(plan: Plan) -> Verdicts:
    """The verdicts of a plan, kept for the plans asked for last."""
    kept = _KEPT.get(id(plan))
    if kept is None or kept.plan is not plan:
        kept = _KEPT[id(plan)] = Verdicts(plan)
        if len(_KEPT) > PLANS_KEPT:
            _KEPT.popitem(last=False)
    return kept


def verdict(plan: Plan, target: Target) -> Standing:
    """The verdict on one target of a plan, worked out once a plan."""
    return verdicts(plan).of(target)
