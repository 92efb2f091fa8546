"""Flares as a chain of weeks: how likely a course of flare and other weeks is.

Each week that follows no flare week starts a flare with chance p; a flare week is followed by another
with chance 1 - 1/d. How likely a course of w weeks is hangs on four counts only: its flare weeks, the
flares among them, its weeks, and whether it ends in a flare. So courses are counted first, exactly, and
weighed afterwards, whatever p is: where people differ the weight is the mean over p.
"""

from __future__ import annotations

from decimal import Decimal, localcontext
from functools import cached_property
from itertools import pairwise
from math import log1p

from attrs import field

from planlang.planning.leeway.data import Assumption
from planlang.text.data import define


@define(slots=False, eq=False)
class Flares:
    """The weights of courses of at most `weeks` weeks; `under_way`: they begin in a flare."""

    assumption: Assumption
    weeks: int
    under_way: bool = False
    p: float = field(init=False)
    stays: float = field(init=False)
    one_week: bool = field(init=False)
    """True where no flare lasts longer than a week: then every flare week is a flare of its own."""

    def __attrs_post_init__(self) -> None:
        self.p = float(self.assumption.start)
        self.stays = float(1 - 1 / self.assumption.lasting)
        self.one_week = self.assumption.lasting == 1

    def weight(self, weeks: int, flare_weeks: int, flares: int, in_flare: bool) -> float:
        """How likely one course is.

        Of its weeks, `flares` started one, `flare_weeks - flares` went on with one, as many as are over
        ended one, and the rest had the choice and started none.
        """
        over = flares + self.under_way - in_flare
        chance = self.starts(flares, weeks - flare_weeks - over)
        if flare_weeks > flares:
            chance *= self.stays ** (flare_weeks - flares)
        if over and self.stays:
            chance *= (1 - self.stays) ** over
        return chance

    def starts(self, flares: int, none: int) -> float:
        """The mean of p^flares (1 - p)^none over people."""
        if self.assumption.varies is None:
            return float(self.p**flares * (1 - self.p) ** none)
        return self._moments[flares][none]

    @cached_property
    def _moments(self) -> list[list[float]]:
        """The mean of p^a (1 - p)^b at [a][b], a + b up to the weeks.

        With -ln(1 - p) = x gamma-distributed of shape k and mean m, (1 - p)^b = exp(-b x) has the mean
        (1 + b m / k)^-k (the gamma distribution's Laplace transform), and p^a (1 - p)^b is the difference
        of p^(a-1) (1 - p)^b and p^(a-1) (1 - p)^(b+1). Differences lose digits, at most one bit each: so
        many more are kept.
        """
        shape, weeks = self.assumption.varies or 1, self.weeks
        with localcontext() as context:
            context.prec = 40 + (2 * weeks) // 3
            scale = Decimal(-log1p(-self.p)) / shape
            row = [(1 + b * scale) ** -shape for b in range(weeks + 1)]
            found = []
            while row:
                found.append([float(value) for value in row])
                row = [value - following for value, following in pairwise(row)]
        return found
