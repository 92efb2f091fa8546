"""Steps, distances and minutes of walking turned into each other: rules of thumb, and what walking costs."""

from __future__ import annotations

from fractions import Fraction

from planlang.model.catalogue import cadences
from planlang.model.records import Activity

STEP_LENGTH = Fraction("0.42")
"""Of body height. A rule of thumb in circulation; slower walkers and sore legs take shorter steps."""
MODERATE = 100
"""Steps a minute of moderate walking at any age (Tudor-Locke et al 2011, Int J Behav Nutr Phys Act 8:80)."""


def steps_over(metres: Fraction, height: Fraction) -> Fraction:
    """The steps over a distance for a height in cm. Raises ValueError unless the height is above zero."""
    if height <= 0:
        raise ValueError(f"a height of {height} cm")
    return metres * 100 / (STEP_LENGTH * height)


def steps_in(minutes: Fraction, a_minute: int = MODERATE) -> Fraction:
    """The steps of so many minutes, on top of those of an ordinary day."""
    return minutes * a_minute


def cadence(mets: int, age: int) -> int | None:
    """The round steps a minute at which walking costs so many METs at an age; None where none was published."""
    return next((c.rounded for c in cadences().values() if c.mets == mets and c.ages[0] <= age <= c.ages[1]), None)


def met_minutes(activity: Activity, minutes: Fraction, edition: int) -> Fraction | None:
    """Minutes times the cost in METs, in that edition of the compendium; None where it has no cost there."""
    cost = activity.met(edition)
    return None if cost is None else cost * minutes
