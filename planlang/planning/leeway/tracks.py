"""Where one of the others stands that keep an exercise waiting: its few states by number, and what leads to which.

Joint states are many and made of few states of each; numbers are told apart and put together quickly.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from attrs import field

from planlang.planning.ladder import FRESH, Event, Ladder, State, advance
from planlang.planning.leeway.machine import settled
from planlang.text.data import define


class Other(NamedTuple):
    """Where another exercise stands. highest: the step reached, told as far as a start asks for it."""

    begun: bool = False
    state: State = FRESH
    highest: int = -1


@define(eq=False)
class Track:
    """The states of one other exercise, 0 the first.

    ladder: shortened to what the joint state needs; wanted: the step up to which it matters how far it has come, -1
    where it doesn't. eased: of each state, whether a week at its own level would be an easing week.
    """

    ladder: Ladder
    wanted: int
    others: list[Other] = field(factory=list, init=False)
    eased: list[bool] = field(factory=list, init=False)
    numbers: dict[Other, int] = field(factory=dict, init=False)
    moved: dict[tuple[int, Event, bool], int] = field(factory=dict, init=False)

    def __attrs_post_init__(self) -> None:
        self.number_of(Other())

    def number_of(self, other: Other) -> int:
        """A state's number; a new state gets the next."""
        found = self.numbers.get(other)
        if found is None:
            found = self.numbers[other] = len(self.others)
            self.others.append(other)
            self.eased.append(bool(self.ladder.eased(other.state)))
        return found

    def after(self, number: int, event: Event, begins: bool = False, counts: bool = True, held: bool = True) -> int:
        """The state after a week. Looking back: too little was done of one that doesn't count, nothing held of it."""
        if not (counts and held):
            return self.number_of(self._moved(self.others[number], event, begins, counts, held))
        key = number, event, begins
        found = self.moved.get(key)
        if found is None:
            found = self.moved[key] = self.number_of(self._moved(self.others[number], event, begins))
        return found

    def _moved(self, other: Other, event: Event, begins: bool, counts: bool = True, held: bool = True) -> Other:
        state, turn = advance(self.ladder, other.state, event, counts)
        highest = other.highest
        if turn and held and not (turn.easing or turn.lighter):
            highest = max(highest, min(turn.step, self.wanted))
        return Other(other.begun or begins, settled(self.ladder, state), highest)


@lru_cache(maxsize=64)
def track_of(ladder: Ladder, wanted: int) -> Track:
    """The track of a ladder: where it can stand is the same in every plan that has it, and worked out once."""
    return Track(ladder, wanted)
