"""Facts of each step of a ladder set beside the step before: what goes up, and by how much."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from attrs import field

from planlang.checking.expression.types import COUNT, TEXTS, TRUTH, thing, things
from planlang.checking.facts.doses import hold_seconds
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.checking.facts.training import exercise
from planlang.model.dose import Dose, Size, SizeKind
from planlang.model.exercise import Exercise
from planlang.model.quantity import UNITS, in_base
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span

ASKED = "begin then rise exercise activity"


@frozen
class Change:
    """A step and the one before it; one a side where the sides are written apart. `step`: which one, from 1."""

    exercise: Exercise
    step: int
    before: Dose
    after: Dose
    span: Span = field(default=NOWHERE, eq=False, repr=False)


change = subject("change", "changes", lambda it: f"step {it.step} of {it.exercise.name}")


def _of(facts: Facts, it: Exercise) -> tuple[Change, ...]:
    return facts.once(("changes", it.name), lambda: tuple(changes_of(it)))


def changes_of(it: Exercise) -> Iterator[Change]:
    """Each step of a ladder beside the one before it."""
    for n, (before, after) in enumerate(zip(it.steps, it.steps[1:], strict=False), 2):
        for one, other in _sides(before.dose, after.dose):
            yield Change(it, n, one, other, after.span)


def _sides(before: Dose, after: Dose) -> Iterator[tuple[Dose, Dose]]:
    """Left with left and right with right; a dose whose sides are alike stands for each of them."""
    if not (before.left or before.right or after.left or after.right):
        yield before, after
        return
    for side in ("left", "right"):
        one, other = _side(before, side), _side(after, side)
        if one is not None and other is not None:
            yield one, other


def _side(it: Dose, side: str) -> Dose | None:
    if not (it.left or it.right):
        return it
    return it.left if side == "left" else it.right


root_list(
    "change",
    "change",
    "each step of a ladder with the step before it",
    lambda f: (c for e in f.plan.exercises for c in _of(f, e)),
    ASKED,
)
exercise.fact("changes", things("change"), "each of its steps with the step before it", ASKED)(_of)
change.fact("exercise", thing("exercise"), "whose ladder it is", ASKED)(lambda _, it: it.exercise)
change.fact("step", COUNT, "which step goes up to, from 1", ASKED)(lambda _, it: it.step)
change.fact("before", thing("dose"), "the dose of the step before", ASKED)(lambda _, it: it.before)
change.fact("after", thing("dose"), "the dose of this step", ASKED)(lambda _, it: it.after)


@change.fact("same-variant", TRUTH, "variant and band are the same words as before", ASKED)
def _same_variant(_: Facts, it: Change) -> bool:
    return (it.before.variant, it.before.band) == (it.after.variant, it.after.band)


@change.fact("goes-up", TEXTS, "what goes up: sets, repetitions, time, hold, load, height", ASKED)
def _goes_up(_: Facts, it: Change) -> tuple[str, ...]:
    one, other = it.before, it.after
    raised = {
        "sets": _sets(other) > _sets(one) > 0,
        **_amounts(one.size, other.size),
        "hold": (hold_seconds(other) or 0) > (hold_seconds(one) or 0),
        "load": _heavier(one, other),
        "height": _higher(one, other),
    }
    return tuple(what for what, up in raised.items() if up)


def _sets(it: Dose) -> int:
    return len(it.size.by_set()) if it.size else 0


def _amounts(one: Size | None, other: Size | None) -> dict[str, bool]:
    """Whether the largest set, or the one time, is longer; nothing where the two are of two kinds."""
    if one is None or other is None or one.kind is not other.kind or not (one.amounts and other.amounts):
        return {}
    if UNITS[one.unit].dimension != UNITS[other.unit].dimension:
        return {}
    word = "repetitions" if one.kind is SizeKind.REPS else "time"
    return {word: _largest(other) > _largest(one)}


def _largest(it: Size) -> Fraction:
    return in_base(max(amount.low for amount in it.amounts), it.unit)


def _heavier(one: Dose, other: Dose) -> bool:
    """More load on one basis, or a load where there was none; of an nRM fewer repetitions are more."""
    if other.load is None:
        return False
    if one.load is None:
        return True
    if one.load.basis != other.load.basis:
        return False
    if one.load.basis == "mass":
        return in_base(other.load.amount.low, other.load.unit) > in_base(one.load.amount.low, one.load.unit)
    if one.load.basis == "RM":
        return other.load.amount.low < one.load.amount.low
    return other.load.amount.low > one.load.amount.low


def _higher(one: Dose, other: Dose) -> bool:
    """A higher step to climb, or a lower chair to rise from."""
    step = one.step_height and other.step_height and other.step_height.base > one.step_height.base
    chair = one.chair_height and other.chair_height and other.chair_height.base < one.chair_height.base
    return bool(step or chair)
