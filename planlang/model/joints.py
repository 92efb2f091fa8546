"""What loads a joint: as an exercise says, else as its muscles and kind tell."""

from __future__ import annotations

from planlang.model.catalogue import muscle
from planlang.model.exercise import Exercise

ON_THE_FEET = ("hip", "knee", "ankle", "foot")
STANDING_KINDS = ("aerobic", "balance", "everyday")


def loads(it: Exercise) -> tuple[str, ...] | None:
    """The joints that an exercise loads: as said, else those of its muscles, else of the legs where it is done on them.

    None where nothing tells.
    """
    if it.joints:
        return tuple(dict.fromkeys(joint.name for joint in it.joints))
    found = [joint for name in it.works if (known := muscle(name)) for joint in known.joints]
    if found:
        return tuple(dict.fromkeys(found))
    return ON_THE_FEET if it.kind in STANDING_KINDS and "seated" not in it.tags else None


def rests(exercise: Exercise, joint: str, side: str | None) -> bool:
    """Whether an exercise loads a joint; of one side, unless it says that it loads the other only."""
    if joint not in (loads(exercise) or ()):
        return False
    said = {j.side for j in exercise.joints if j.name == joint}
    return side in (None, "both") or not said or bool(said & {None, "both", side})
