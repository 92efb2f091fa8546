"""Room for easier weeks in a plan that is being begun: proposed only where its template says nothing of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from attrs import evolve

from planlang.text.data import frozen

if TYPE_CHECKING:
    from planlang.cli.starting import Beginning


@frozen
class Room:
    """Room for so many of the weeks. `proposed`: nobody asked for it; `change`: the template has a `rest` block."""

    weeks: int
    room: int
    proposed: bool
    change: bool

    def of(self, room: int) -> Room:
        """The same with another number."""
        return evolve(self, room=room, proposed=False)

    @property
    def lines(self) -> tuple[str, ...]:
        """What it adds to the plan."""
        if self.proposed and not self.room:
            return ()
        said = f"room for {self.room} {'week' if self.room == 1 else 'weeks'}"
        if self.change:
            return "", "change rest", said
        returning = ("return 1 step lower for 1 week", "return 2 steps lower for 2 weeks after 2 weeks")
        return "", "rest", said, *returning


def room_for(begun: Beginning, lines: list[str], asked: int | None) -> Room | None:
    """The room that is asked for, or that is proposed where the template says none; None where it says some."""
    from planlang.model.composing.compose import compose
    from planlang.model.reading import read_plan
    from planlang.planning.leeway.room import proposed_room
    from planlang.text.source import Source

    whole, _ = compose(Source(str(begun.output), "\n".join(lines)), begun.files)
    plan, _ = read_plan(whole)
    if plan is None or not plan.weeks:
        return None
    if asked is not None:
        return Room(plan.weeks, asked, False, plan.rest is not None)
    if plan.rest is not None and plan.rest.room is not None:
        return None
    return Room(plan.weeks, proposed_room(plan), True, plan.rest is not None)
