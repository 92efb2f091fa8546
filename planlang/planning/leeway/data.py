"""What a leeway is: for each target a verdict and a chance, for the plan its room and what it assumes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar

from attrs import field

from planlang.model.plan import Plan, Target
from planlang.text.data import frozen


class Verdict(StrEnum):
    """What becomes of a target over every placement of the room for rest."""

    ALWAYS = "always"
    DEPENDS = "depends"
    NEVER = "never"
    OPEN = "open"


Worst = tuple[int, ...] | None
T = TypeVar("T", Worst, int | None)


def _asked(given: T | Callable[[], T]) -> T:
    return given() if callable(given) else given


@frozen
class Standing:
    """A target's verdict.

    reason: why it is never met or open, None else. earliest, latest: the first and last of the placements'
    dates (latest None where some placement has none). worst_rest: the calendar weeks of the worst placement.
    margin: the most rest weeks, wherever they fall, with which it is still met by its date; None where there
    is no such number. by: its date.
    """

    target: Target
    by: date | None
    verdict: Verdict
    reason: str | None = None
    earliest: date | None = None
    latest: date | None = None
    _worst: Worst | Callable[[], Worst] = field(default=None, alias="worst_rest", eq=lambda it: _asked(it))
    _margin: int | Callable[[], int | None] | None = field(default=None, alias="margin", eq=lambda it: _asked(it))

    @property
    def margin(self) -> int | None:
        """The most rest weeks with which it is still met, worked out when it is asked for."""
        return _asked(self._margin)

    @property
    def worst_rest(self) -> Worst:
        """The calendar weeks of the worst placement, worked out when they are asked for."""
        return _asked(self._worst)

    @property
    def days_late(self) -> int | None:
        """Days from its date to the latest date; None where there is no latest date, or it is in time."""
        if self.latest is None or self.by is None or self.latest <= self.by:
            return None
        return (self.latest - self.by).days


@frozen
class Chance:
    """The chance that a target is met by its date, and the first dates by which it is met with 50, 80 and 95 %.

    A date is None where that share is not reached within the plan.
    """

    by_its_date: float
    met_by: tuple[tuple[int, date | None], ...]


@frozen
class Assumption:
    """What chances rest on: flares begin in `weeks` weeks on average, each lasting `lasting` weeks.

    varies: the gamma shape by which people differ, None where all are alike. default: nothing was
    written, and these are the published rates of the condition; note: what else must be said of them.
    """

    flares: Fraction
    weeks: int
    lasting: Fraction
    varies: int | None = None
    default: bool = False
    note: str | None = None
    sources: tuple[str, ...] = ()
    condition: str | None = None

    @property
    def start(self) -> Fraction:
        """p: the chance that a week that follows no flare starts one."""
        return self.flares / (self.weeks - self.flares * self.lasting)


@frozen
class RestNeeded:
    """The distribution of rest weeks in the whole plan (index: how many), and what room is enough.

    enough: the chance that the plan's own room is; needed: the room that is enough with 80 and 95 %.
    """

    weeks: tuple[float, ...]
    enough: float
    needed: tuple[tuple[int, int], ...]

    def room_for(self, share: float) -> int:
        """The least room that is enough with this chance, 0 to 1."""
        so_far = 0.0
        for rest, likely in enumerate(self.weeks):
            so_far += likely
            if so_far >= share:
                return rest
        return len(self.weeks) - 1


@frozen
class Leeway:
    """All of it. `no_chances`: why there are none, None where there are.

    reckoned: False where the plan has no training week to reckon with. as_of: the date up to which a diary
    was read, None where there is none; rest_used, rest_left: rest weeks taken so far, and the room left.
    """

    plan: Plan = field(repr=False)
    allowance: int
    standings: tuple[Standing, ...]
    chances: tuple[Chance | None, ...]
    assumption: Assumption | None = None
    rest: RestNeeded | None = None
    no_chances: str | None = None
    reckoned: bool = True
    as_of: date | None = None
    rest_used: int = 0

    @property
    def rest_left(self) -> int:
        """The room that is left, never below 0."""
        return max(self.allowance - self.rest_used, 0)


UNRECKONED = "the plan has no training week that can be reckoned."
