"""Where a plan stands before a calendar week, from which placements of rest are looked at."""

from __future__ import annotations

from datetime import date

from attrs import field

from planlang.planning.ladder import FRESH, State
from planlang.planning.slots import Turns
from planlang.text.data import frozen


@frozen
class Stand:
    """One exercise: its ladder's state, whether it has begun, the highest step (index) done at its own level.

    days: of each step from the first up, the day on which it, or a higher one, was first done at its own level.
    """

    state: State = FRESH
    begun: bool = False
    highest: int = -1
    days: tuple[date, ...] = ()

    def reached(self, step: int) -> date | None:
        """When a step (an index) was first done; None where it was not."""
        return self.days[step] if step < len(self.days) else None


@frozen
class Origin:
    """Before calendar week `week` (from 1): rest weeks so far, where each exercise stands, whose turn it is.

    counts: the weeks that starts wait for, so far. in_flare: the week before was one of rest.
    """

    week: int = 1
    rest: int = 0
    stands: dict[str, Stand] = field(factory=dict)
    turns: Turns | None = None
    counts: dict[str, int] = field(factory=dict)
    in_flare: bool = False

    def stand(self, name: str) -> Stand:
        """Where an exercise stands."""
        return self.stands.get(name, Stand())


BEGINNING = Origin()
