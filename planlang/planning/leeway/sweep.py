"""All placements of rest at once: where a ladder can stand before each calendar week, after how many rest weeks.

A set of numbers of rest weeks is an integer (bit r for r of them), so one week costs a few operations for
each state, however many placements lead to it.
"""

from __future__ import annotations

from attrs import field

from planlang.planning.leeway.machine import Kind, Machine
from planlang.text.data import define

Standing = dict[int, int]  # state number -> set of numbers of rest weeks


@define(eq=False)
class Sweep:
    """What a sweep found.

    standing[w - 1]: before calendar week w; the last entry: after the plan's last week.
    hits: (calendar week, day, set): the step is reached on that day of that week, with rest before it.
    spent: (calendar week, set): before that week the last training week is over, and it is not reached.
    not_yet: with how many rest weeks it is not reached by the end of the due week.
    """

    standing: list[Standing] = field(factory=list)
    hits: list[tuple[int, int, int]] = field(factory=list)
    spent: list[tuple[int, int]] = field(factory=list)
    not_yet: int = 0

    @property
    def never(self) -> int:
        """With how many rest weeks within the room it is not reached at all."""
        return self._so_far(self.standing[-1])

    def _so_far(self, now: Standing) -> int:
        found = union(now)
        for _, numbers in self.spent:
            found |= numbers
        return found


def sweep(machine: Machine, room: int, due_week: int, beyond: bool = False) -> Sweep:
    """The placements of at most `room` rest weeks; with `beyond`, every placement up to the due week."""
    frame = machine.frame
    weeks, within_room = frame.calendar.length, (1 << (room + 1)) - 1
    before = min(frame.origin.week, weeks + 1) - 1  # weeks that are over: nothing is placed in them
    due_week = max(due_week, before)
    found = Sweep([{}] * before)
    now: Standing = {0: 1 << frame.origin.rest}
    for week in range(before, weeks + 1):
        if week > before:
            found.standing.append(now)
            if week in frame.calendar.away_weeks:
                now = _away(machine, now, week)
            else:
                now = _free(machine, now, week, found, -1 if beyond and week <= due_week else within_room)
        if week == due_week:
            found.not_yet = found._so_far(now)
        if week == due_week and beyond:
            now = {state: kept for state, numbers in now.items() if (kept := numbers & within_room)}
    found.standing.append(now)
    return found


def masks(machine: Machine, week: int) -> list[tuple[Kind, int]]:
    """The kinds of training week that a calendar week is, each with the numbers of rest weeks that make it so."""
    frame = machine.frame
    ahead = frame.calendar.training_weeks - frame.places[week]
    kinds = machine.kinds(week)
    if ahead >= 0:
        return [(kind, mask) for kind in kinds if (mask := kind.backwards >> ahead)]
    return [(kind, kind.backwards << -ahead) for kind in kinds]


def away_masks(machine: Machine, week: int) -> dict[frozenset[str], int]:
    """What is done in an away week, with the numbers of rest weeks before it with which it is that."""
    frame = machine.frame
    place, last = frame.places[week], frame.calendar.training_weeks
    if not any(line.session for line in frame.calendar.lines_of(week)):
        return {frozenset(): (1 << (place + 1)) - 1}
    found: dict[frozenset[str], int] = {}
    for rest in range(place + 1):
        done = frame.done_away(week, min(place - rest, last)) & machine.names
        found[done] = found.get(done, 0) | 1 << rest
    return found


def _away(machine: Machine, now: Standing, week: int) -> Standing:
    after: Standing = {}
    for done, mask in away_masks(machine, week).items():
        for state, numbers in now.items():
            if part := numbers & mask:
                to = machine.away(state, done)
                after[to] = after.get(to, 0) | part
    return after


def _free(machine: Machine, now: Standing, week: int, found: Sweep, may: int) -> Standing:
    """A week that is not away: any state may rest, or train as its number of rest weeks says.

    may: the numbers of rest weeks that there may be after it.
    """
    frame = machine.frame
    over = frame.places[week] - frame.calendar.training_weeks
    if over > 0:
        spare = (1 << over) - 1
        if spent := union(now) & spare:
            found.spent.append((week, spent))
            now = {state: kept for state, numbers in now.items() if (kept := numbers & ~spare)}
    after: Standing = {}
    hits: dict[int, int] = {}
    rested, kinds = machine.rests, masks(machine, week)
    for state, numbers in now.items():
        if part := numbers << 1 & may:
            to = rested.get(state)
            if to is None:
                to = machine.rest(state)
            after[to] = after.get(to, 0) | part
        for kind, mask in kinds:
            if part := numbers & mask:
                to = kind.table.get(state)
                if to is None:
                    to = kind.after(state)
                if to < 0:
                    hits[to] = hits.get(to, 0) | part
                else:
                    after[to] = after.get(to, 0) | part
    found.hits += [(week, -1 - to, part) for to, part in sorted(hits.items(), reverse=True)]
    return after


def union(now: Standing) -> int:
    """All numbers of rest weeks in any state."""
    found = 0
    for numbers in now.values():
        found |= numbers
    return found


def worst_placement(machine: Machine, found: Sweep, rest: int, hit: tuple[int, int] | None) -> tuple[int, ...]:
    """The first placement, number by number, of exactly `rest` weeks that leads to a hit (week, day), or to none."""
    ways = _ways(machine, found, rest, hit)
    placed: list[int] = []
    frame, state = machine.frame, 0
    taken = frame.origin.rest
    for week in range(frame.origin.week, len(ways)):
        so_far = taken + len(placed)
        if so_far == rest:
            break
        if week in frame.calendar.away_weeks:
            done = next(d for d, mask in away_masks(machine, week).items() if mask >> so_far & 1)
            state = machine.away(state, done)
        elif ways[week].get(machine.rest(state), 0) >> (so_far + 1) & 1:
            placed.append(week)
            state = machine.rest(state)
        else:
            kind = next(kind for kind, mask in masks(machine, week) if mask >> so_far & 1)
            state = kind.after(state)
    return tuple(placed)


def _ways(machine: Machine, found: Sweep, rest: int, hit: tuple[int, int] | None) -> list[Standing]:
    """Of each week's standing the part from which it can still come to that, with exactly `rest` weeks in all."""
    frame, wanted, enough = machine.frame, 1 << rest, (2 << rest) - 1
    spent = {week for week, numbers in found.spent if numbers & wanted} if hit is None else set()
    last = frame.calendar.length if hit is None else hit[0]
    ways: list[Standing] = [{} for _ in range(last + 1)]
    if hit is None:
        ways[last] = {state: wanted for state, numbers in found.standing[-1].items() if numbers & wanted}
    for week in range(last, frame.origin.week - 1, -1):
        then, now = ways[week], found.standing[week - 1]
        here: Standing = {}
        away = week in frame.calendar.away_weeks
        kinds = [] if away else masks(machine, week)
        for state, numbers in now.items():
            part = numbers & enough
            if not part:
                continue
            good = 0
            if away:
                for done, mask in away_masks(machine, week).items():
                    good |= then.get(machine.away(state, done), 0) & part & mask
            else:
                good = then.get(machine.rest(state), 0) >> 1 & part
                for kind, mask in kinds:
                    if not part & mask:
                        continue
                    to = kind.after(state)
                    if to >= 0:
                        good |= then.get(to, 0) & part & mask
                    elif hit == (week, -1 - to):
                        good |= wanted & part & mask
                if week in spent:
                    good |= wanted & part
            if good:
                here[state] = good
        ways[week - 1] = here
    return ways
