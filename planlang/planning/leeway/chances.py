"""How likely it is that a target is met, and how much rest there will be: every course of flares counted.

The counts of courses that lead to one state stand in one integer, in fields of equal width, by rest weeks
and (where flares last longer than a week) by flares: a week costs a few additions of integers for each
state. Nothing is rounded before the counts are weighed at the end.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache

from attrs import evolve, field

from planlang.planning.leeway.data import Assumption, Chance, RestNeeded
from planlang.planning.leeway.flares import Flares
from planlang.planning.leeway.frame import Frame
from planlang.planning.leeway.machine import Kind, Machine
from planlang.planning.leeway.sweep import away_masks, masks
from planlang.text.data import define

SHARES = (50, 80, 95)
NEGLIGIBLE = 1e-8  # what is left out when nearly all courses have reached the step; the page allows 0.00001
LONGEST = 520  # weeks of a plan for which chances are reckoned; ten years
LONGEST_WITH_LONG_FLARES = 260  # the same where a flare may last longer than a week: courses are many more
ROOMS = (80, 95)
Counts = dict[int, int]  # state number -> packed counts


@define(eq=False)
class Fields:
    """How counts stand in one integer: a field for each (rest, flares). flares: the most there may be; 0: not told."""

    weeks: int
    flares: int
    width: int = field(init=False)

    def __attrs_post_init__(self) -> None:
        self.width = (self.weeks // 8 + 1) * 8  # no count passes 2 to the weeks

    @property
    def rest(self) -> int:
        """Bits from one number of rest weeks to the next."""
        return self.width * (self.flares + 1)

    @property
    def start(self) -> int:
        """Bits by which the start of a flare in a rest week moves a count."""
        return self.rest + (self.width if self.flares else 0)

    @property
    def start_away(self) -> int:
        """Bits by which the start of a flare in an away week moves a count."""
        return self.width if self.flares else 0

    def widened(self, numbers: int) -> int:
        """A mask of whole fields from a set of numbers of rest weeks."""
        found, full, at = 0, (1 << self.rest) - 1, 0
        while numbers:
            if numbers & 1:
                found |= full << at
            numbers >>= 1
            at += self.rest
        return found

    def each(self, packed: int) -> Iterator[tuple[int, int, int]]:
        """Rest weeks, flares and count of each field that is not 0."""
        size = self.width // 8
        data = packed.to_bytes((packed.bit_length() + 7) // 8, "little")
        for at in range(0, len(data), size):
            if count := int.from_bytes(data[at : at + size], "little"):
                rest, flares = divmod(at // size, self.flares + 1)
                yield rest, flares, count


@define(eq=False)
class Layer:
    """Counts before a week by state, of courses whose last week was calm (or that have none) and in a flare."""

    calm: Counts = field(factory=dict)
    flare: Counts = field(factory=dict)


@define(eq=False)
class Counting:
    """Counts courses week by week. layers[n]: those with n flare weeks on away weeks, which are no rest."""

    machine: Machine
    flares: Flares
    fields: Fields
    layers: dict[int, Layer] = field(init=False)
    wide: dict[int, int] = field(factory=dict)

    def __attrs_post_init__(self) -> None:
        origin = self.machine.frame.origin
        here = {0: 1 << self.fields.rest * origin.rest}
        self.layers = {0: Layer(flare=here) if origin.in_flare else Layer(calm=here)}

    def away(self, week: int) -> None:
        """An away week: a flare may go on or start in it, and is no rest."""
        done = [(names, self.widened(mask)) for names, mask in away_masks(self.machine, week).items()]
        fields, after = self.fields, {n: Layer() for n in range(max(self.layers) + 2)}
        for n, layer in self.layers.items():
            calm, flare = self._gone(layer.calm, done), self._gone(layer.flare, done)
            for part in (calm, flare):
                _add_all(after[n].calm, part, 0)
            _add_all(after[n + 1].flare, calm, fields.start_away)
            if not self.flares.one_week:
                _add_all(after[n + 1].flare, flare, 0)
        self.layers = {n: layer for n, layer in after.items() if layer.calm or layer.flare}

    def _gone(self, now: Counts, done: list[tuple[frozenset[str], int]]) -> Counts:
        after: Counts = {}
        for state, counts in now.items():
            for names, mask in done:
                if part := counts & mask if len(done) > 1 else counts:
                    to = self.machine.away(state, names)
                    after[to] = after.get(to, 0) + part
        return after

    def free(self, week: int) -> dict[int, dict[int, int]]:
        """A week that is not away. Returns the counts that reach the step in it, by day and by flare weeks away."""
        frame, machine = self.machine.frame, self.machine
        over = frame.places[week] - frame.calendar.training_weeks
        low = over * self.fields.rest if over > 0 else 0
        kinds = masks(machine, week)
        wide = [(kind, self.widened(mask)) for kind, mask in kinds] if len(kinds) > 1 else [(kinds[0][0], -1)]
        hits: dict[int, dict[int, int]] = {}
        for n, layer in self.layers.items():
            self.layers[n] = self._trained(layer, n, low, wide, hits)
        return hits

    def _trained(
        self, layer: Layer, away: int, low: int, kinds: list[tuple[Kind, int]], hits: dict[int, dict[int, int]]
    ) -> Layer:
        calm, flare = layer.calm, layer.flare
        if low:  # the last training week is over for these: they never reach it
            calm = {state: kept for state, counts in calm.items() if (kept := counts >> low << low)}
            flare = {state: kept for state, counts in flare.items() if (kept := counts >> low << low)}
        after, rests = Layer(), self.machine.rests
        start, going_on, one_week = self.fields.start, self.fields.rest, self.flares.one_week
        resting, training = after.flare, after.calm
        everything = dict(flare)
        for state, counts in calm.items():
            everything[state] = everything.get(state, 0) + counts
            to = rests[state] if state in rests else self.machine.rest(state)
            resting[to] = resting.get(to, 0) + (counts << start)
        if not one_week:
            for state, counts in flare.items():
                to = rests[state] if state in rests else self.machine.rest(state)
                resting[to] = resting.get(to, 0) + (counts << going_on)
        for state, counts in everything.items():
            for kind, mask in kinds:
                if part := counts & mask:
                    to = kind.table[state] if state in kind.table else kind.after(state)
                    if to < 0:
                        of_day = hits.setdefault(-1 - to, {})
                        of_day[away] = of_day.get(away, 0) + part
                    else:
                        training[to] = training.get(to, 0) + part
        return after

    def widened(self, numbers: int) -> int:
        """A mask of whole fields, kept for the next week."""
        if numbers not in self.wide:
            self.wide[numbers] = self.fields.widened(numbers)
        return self.wide[numbers]

    def weigh(self, packed: int, week: int, away: int, in_flare: bool = False) -> float:
        """How likely the courses of so many weeks in one integer are together."""
        found = 0.0
        before = self.machine.frame.origin
        for rest, flares, count in self.fields.each(packed):
            flare_weeks = rest + away - before.rest
            found += count * self.flares.weight(
                week - before.week + 1, flare_weeks, flares if self.fields.flares else flare_weeks, in_flare
            )
        return found


def _add_all(to: Counts, these: Counts, shift: int) -> None:
    for state, counts in these.items():
        to[state] = to.get(state, 0) + (counts << shift)


def fields_for(flares: Flares) -> Fields:
    """The fields for all of a plan's weeks: by flares only where these are not simply the flare weeks."""
    return Fields(flares.weeks, 0 if flares.one_week else (flares.weeks + 1) // 2)


def chance(machine: Machine, flares: Flares, by: date) -> Chance:
    """The chance of reaching the machine's step by a date, and the dates by which it is met with 50, 80, 95 %."""
    frame = machine.frame
    counting = Counting(machine, flares, fields_for(flares))
    in_time = so_far = 0.0
    met_by: dict[int, date | None] = dict.fromkeys(SHARES)
    for week in range(frame.origin.week, frame.calendar.length + 1):
        first = frame.calendar.start_of(week)
        if so_far >= (max(SHARES) / 100 if first > by else 1 - NEGLIGIBLE):
            break
        if week in frame.calendar.away_weeks:
            counting.away(week)
            continue
        for day, packed in sorted(counting.free(week).items()):
            so_far += sum(counting.weigh(counts, week, away) for away, counts in packed.items())
            when = first + timedelta(days=day)
            if when <= by:
                in_time = so_far
            for share in SHARES:
                if met_by[share] is None and so_far >= share / 100:
                    met_by[share] = when
    return Chance(in_time, tuple(met_by.items()))


def rest_needed(frame: Frame, flares: Flares) -> RestNeeded:
    """How many rest weeks there will be in all of the plan's weeks, and what room is enough for them."""
    origin, calendar = frame.origin, frame.calendar
    away = tuple(week in calendar.away_weeks for week in range(origin.week, calendar.length + 1))
    under_way = flares.under_way, origin.in_flare
    return _rest_needed(flares.assumption, flares.weeks, under_way, origin.rest, away, calendar.room)


@lru_cache(maxsize=256)
def _rest_needed(
    assumption: Assumption,
    length: int,
    under_way: tuple[bool, bool],
    rested: int,
    weeks_away: tuple[bool, ...],
    room: int,
) -> RestNeeded:
    """The same by all that it hangs on, kept: a clinic's plans are of a few lengths and expect the same of a few kinds.

    `length`: weeks of the plan; `rested`: easier weeks so far; `weeks_away`: of each week to come, whether it is one.
    """
    flares, in_flare = Flares(assumption, length, under_way[0]), under_way[1]
    fields = fields_for(flares)
    here = 1 << fields.rest * rested
    calm, flare = {0: 0 if in_flare else here}, {0: here if in_flare else 0}  # by flare weeks away
    for away in weeks_away:
        start = fields.start_away if away else fields.start
        going_on = 0 if away else fields.rest
        calm, flare, before, flaring = {}, {}, calm, flare
        for n in before:
            calm[n] = calm.get(n, 0) + before[n] + flaring[n]
            flare.setdefault(n, 0)
            to = n + away
            calm.setdefault(to, 0)
            flare[to] = flare.get(to, 0) + (before[n] << start)
            if not flares.one_week:
                flare[to] += flaring[n] << going_on
    found: dict[int, float] = {}
    for ends_in_flare, packed in ((False, calm), (True, flare)):
        for n, counts in packed.items():
            for rest, starts, count in fields.each(counts):
                flare_weeks = rest - rested + n
                left = len(weeks_away)
                weight = flares.weight(left, flare_weeks, starts if fields.flares else flare_weeks, ends_in_flare)
                found[rest] = found.get(rest, 0.0) + count * weight
    weeks = tuple(found.get(rest, 0.0) for rest in range(max(found) + 1))
    found_weeks = RestNeeded(weeks, sum(weeks[: room + 1]), ())
    return evolve(found_weeks, needed=tuple((share, found_weeks.room_for(share / 100)) for share in ROOMS))


def flares_of(frame: Frame, assumed: Assumption) -> Flares | str:
    """The flares of a plan's weeks, or why their courses aren't counted."""
    flares = Flares(assumed, frame.calendar.length, frame.origin.in_flare)
    longest = LONGEST if flares.one_week else LONGEST_WITH_LONG_FLARES
    if flares.weeks > longest:
        besides = "" if flares.one_week else " where a flare lasts longer than a week"
        return f"Chances are reckoned for plans of at most {longest} weeks{besides}; plan in shorter blocks."
    return flares
