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
class UnderWay:
    """What is known of the week under way, should it be no easier one.

    days: of each exercise due in its sessions, the day (0 to 6) of the first that was held or is still ahead; None
    where none was. left: those with a session that gave way to nothing gentler. uncounted: of which too little can
    still be done to go up. halted: those whose joint rests. turns: whose turn it is after it. held: sessions and days
    held or still ahead, with what was done in them.
    """

    days: dict[str, int | None]
    left: frozenset[str] = frozenset()
    uncounted: frozenset[str] = frozenset()
    halted: frozenset[str] = frozenset()
    turns: Turns | None = None
    held: tuple[tuple[int, tuple[str, ...]], ...] = ()


@frozen
class Origin:
    """Before calendar week `week` (from 1): rest weeks so far, where each exercise stands, whose turn it is.

    counts: the weeks that starts wait for, so far. in_flare: the week before was one of rest. under_way: what is
    known of week `week` itself, None where nothing is.
    """

    week: int = 1
    rest: int = 0
    stands: dict[str, Stand] = field(factory=dict)
    turns: Turns | None = None
    counts: dict[str, int] = field(factory=dict)
    in_flare: bool = False
    under_way: UnderWay | None = None

    def stand(self, name: str) -> Stand:
        """Where an exercise stands."""
        return self.stands.get(name, Stand())


BEGINNING = Origin()
