"""Rest, pain, and the signs that stop the day, as a plan says them."""

from __future__ import annotations

from fractions import Fraction

from attrs import field

from planlang.model.dose import Dose
from planlang.model.quantity import Quantity
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span


@frozen
class PainLevel:
    """A typed pain test: `points` above usual, a fixed `rating` of 10, or `usual` itself; for `days` in a row.

    `text` instead where it was written in words.
    """

    points: Fraction | None = None
    rating: Fraction | None = None
    usual: bool = False
    days: int | None = None
    text: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class StillDo:
    """What goes on in an easier week: an exercise's name (it may have no block) with its dose."""

    name: str
    dose: Dose
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Return:
    """`return B steps lower for E weeks [after R weeks]`; B = E = 0 for `return at the same step`."""

    lower: int = 1
    weeks: int = 1
    after: int = 1
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Expect:
    """`expect K flares in N weeks lasting D`; `lasting` in weeks, never under 1; `varies`: gamma shape or None."""

    flares: Fraction
    weeks: int
    lasting: Fraction
    varies: int | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Lighter:
    """`lighter every q weeks by b steps`."""

    every: int
    lower: int
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Rest:
    """The `rest` block. `room` is None where no `room for` line was written (it counts as 0)."""

    room: int | None = None
    starts_when: PainLevel | None = None
    first: Quantity | None = None  # how long as little as needed
    still_do: tuple[StillDo, ...] = ()
    still_nothing_because: str | None = None
    back_when: PainLevel | None = None
    returns: tuple[Return, ...] = ()
    tell_us_if: tuple[str, ...] = ()
    expect: Expect | None = None
    lighter: Lighter | None = None
    spare_empty: bool = False
    leave: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, eq=False, repr=False)
    places: dict[str, Span] = field(factory=dict, eq=False, repr=False)


@frozen
class Pain:
    """The `pain` block: ratings out of 10."""

    accept: Fraction | None = None
    accept_above_usual: Fraction | None = None  # points, for `accept up to 2 points above usual`
    rise: Fraction | None = None
    settle: Quantity | None = None  # within a time
    settle_by_morning: bool = False
    because: str | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)
    places: dict[str, Span] = field(factory=dict, eq=False, repr=False)


@frozen
class Sign:
    """`stop if "..." then ACTION` (during) or `not today if "..." then ACTION` (before).

    ACTION is `emergency`, `today` or `tell us`.
    """

    text: str
    action: str
    before: bool = False
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class SignLeftOut:
    """`leave out red-flag NAME because "..." by T-03`."""

    name: str
    because: str | None
    by: str | None
    span: Span = field(default=NOWHERE, eq=False, repr=False)
