"""Sessions: when, where, with what, with whom."""

from __future__ import annotations

from datetime import time
from fractions import Fraction

from attrs import field

from planlang.model.exercise import Instead, Kit, WarmUp, Window
from planlang.model.quantity import Quantity
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span


@frozen
class Days:
    """One `days` line. Weekdays are 0 (Monday) to 6.

    `fixed`: named days. Else `low`..`high` days a week (planned: low), from `among` (empty: any day),
    `between` whole days between two; `you_choose`: untimed; `every_second`: every second day from the
    plan's first; `every_weeks`: once in so many weeks. `window`: the training weeks the line is for.
    """

    fixed: tuple[int, ...] = ()
    low: int | None = None
    high: int | None = None
    among: tuple[int, ...] = ()
    between: int | None = None
    you_choose: bool = False
    every_second: bool = False
    every_weeks: int = 1
    window: Window | None = None
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Visit:
    """Calendar weeks in which a session of the week is a visit, each with how many."""

    weeks: tuple[tuple[int, int], ...]  # (calendar week, visits in it)
    span: Span = field(default=NOWHERE, eq=False, repr=False)


@frozen
class Session:
    """A session that recurs. `minutes` is the whole slot where `for` was written."""

    name: str
    days: tuple[Days, ...] = ()
    times: tuple[time, ...] = ()
    minutes: Fraction | None = None
    place: str | None = None
    kit: tuple[Kit, ...] = ()
    warm_up: WarmUp | None = None
    cool_down: WarmUp | None = None
    do: tuple[str, ...] = ()
    cue: str | None = None
    if_not_done: str | None = None  # "drop", "move within the week", "move on"
    companions: tuple[str, ...] = ()
    rounds: int = 1
    between: Quantity | None = None  # rest between exercises
    visits: tuple[Visit, ...] = ()
    max_visits: int | None = None
    in_turn_with: str | None = None
    window: Window | None = None
    instead: tuple[Instead, ...] = ()
    span: Span = field(default=NOWHERE, eq=False, repr=False)
    places: dict[str, Span] = field(factory=dict, eq=False, repr=False)
