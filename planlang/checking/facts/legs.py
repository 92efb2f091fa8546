"""Whether an exercise trains the legs, from the muscles and joints that it names."""

from __future__ import annotations

from planlang.model.catalogue import muscle
from planlang.model.exercise import Exercise

OF_THE_LEG = frozenset(("hip", "knee", "ankle", "foot"))


def trains_legs(it: Exercise) -> bool | None:
    """None where neither muscles nor joints are written, or none of the muscles is known."""
    known = [m for name in it.works if (m := muscle(name)) is not None]
    if any(m.leg for m in known) or any(joint.name in OF_THE_LEG for joint in it.joints):
        return True
    return False if known or it.joints else None
