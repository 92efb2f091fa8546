"""Facts of doses one side at a time, and of how fast the heart goes."""

from __future__ import annotations

from planlang.checking.expression.types import TEXT, number, things
from planlang.checking.facts.registry import Facts
from planlang.checking.facts.training import dose, exercise, step
from planlang.model.exercise import Exercise

ASKED = "begin then rise"

step.fact("sides", things("dose"), "its dose; two where left and right differ", ASKED)(
    lambda _, it: tuple(side for side in (it.dose.left, it.dose.right) if side) or (it.dose,)
)
dose.fact("heart-rate-share", number("%"), "the share of the greatest heart rate; the upper end", ASKED)(
    lambda _, it: it.heart_rate.high if it.heart_rate else None
)


@exercise.fact(
    "side", TEXT, "left or right, where all its doses or joints are of one side", "begin then rise joints", "begin"
)
def _side(_: Facts, it: Exercise) -> str | None:
    joints = {joint.side for joint in it.joints}
    doses = {_one_side(each.dose.left is not None, each.dose.right is not None) for each in it.steps}
    for found in (joints, doses):
        if len(found) == 1 and (only := next(iter(found))) in ("left", "right"):
            return only
    return None


def _one_side(left: bool, right: bool) -> str | None:
    return "left" if left and not right else "right" if right and not left else None
