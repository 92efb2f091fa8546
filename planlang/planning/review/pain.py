"""Pain as a diary tells it, against the plan's limit and what is usual."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from datetime import date
from enum import StrEnum
from fractions import Fraction
from statistics import median

from planlang.model.diary import Diary, Entry, What
from planlang.model.plan import Plan
from planlang.planning.past import Held, Past
from planlang.planning.weeks import DAY
from planlang.text.data import frozen

USUAL = "usual-pain"
ACCEPTED = Fraction(5)
"""Out of 10, where a plan says no limit: what its sheet and calendar print (common practice)."""


@frozen
class Limit:
    """What is accepted: during a session, above what is usual; and what is usual, None where nothing says."""

    during: Fraction
    rise: Fraction | None = None
    usual: Fraction | None = None


class Over(StrEnum):
    """What was more than the plan accepts."""

    LIMIT = "over the limit"
    RISEN = "risen too far"
    MORNING = "not settled next morning"


@frozen
class Felt:
    """What was felt of one session. over: why it was more than the plan accepts; empty where it was not."""

    day: date
    name: str
    before: Fraction | None
    during: Fraction | None
    morning: Fraction | None
    over: tuple[Over, ...] = ()


@frozen
class Told:
    """What a diary tells of pain apart from sessions: what was usual, as measured, and mornings; in order of days."""

    usual: tuple[tuple[date, Fraction], ...]
    mornings: dict[date, Fraction]

    @staticmethod
    def by(diary: Diary) -> Told:
        """That of a diary, gone through once."""
        usual = [(e.day, e.value.value) for e in diary.of(What.MEASURED) if e.name == USUAL and e.value]
        return Told(tuple(usual), {e.day: e.value.value for e in diary.of(What.MORNING) if e.value})

    def usual_on(self, plan: Plan, day: date) -> Fraction | None:
        """See `usual_pain`."""
        known = bisect_right(self.usual, day, key=lambda measured: measured[0])
        if known:
            return self.usual[known - 1][1]
        baseline = plan.today.measure(USUAL)
        return baseline.value.value if baseline else None


def usual_pain(plan: Plan, diary: Diary, day: date) -> Fraction | None:
    """What is usual out of 10: as last measured by a day, else as the plan says."""
    return Told.by(diary).usual_on(plan, day)


def limit(plan: Plan, diary: Diary, day: date) -> Limit:
    """The plan's limit on a day."""
    return _limit(plan, usual_pain(plan, diary, day))


def _limit(plan: Plan, usual: Fraction | None) -> Limit:
    pain = plan.pain
    during = pain.accept if pain else None
    if pain and during is None and pain.accept_above_usual is not None and usual is not None:
        during = usual + pain.accept_above_usual
    return Limit(ACCEPTED if during is None else during, pain.rise if pain else None, usual)


def felt(plan: Plan, told: Told, held: Held) -> Felt | None:
    """What was felt of a session that was done; None where nothing is told of it.

    The next morning counts as settled where it is no more than usual, or no more than before the session.
    """
    entry = held.entry
    if entry is None or held.on is None:
        return None
    morning = entry.morning if entry.morning is not None else told.mornings.get(held.on + DAY)
    if entry.before is None and entry.during is None and morning is None:
        return None
    over = _over(_limit(plan, told.usual_on(plan, entry.day)), entry, morning)
    return Felt(held.on, held.name, entry.before, entry.during, morning, over)


def _over(known: Limit, entry: Entry, morning: Fraction | None) -> tuple[Over, ...]:
    found = []
    if entry.during is not None and entry.during > known.during:
        found.append(Over.LIMIT)
    rise = entry.during - entry.before if entry.during is not None and entry.before is not None else None
    if rise is not None and known.rise is not None and rise > known.rise:
        found.append(Over.RISEN)
    settled = max((v for v in (known.usual, entry.before) if v is not None), default=None)
    if morning is not None and settled is not None and morning > settled:
        found.append(Over.MORNING)
    return tuple(found)


def felt_of(past: Past, exercise: str) -> tuple[Felt, ...]:
    """What was felt of the sessions in which an exercise was done, by date; those without a word of it are left out."""
    held = sorted((h for h in past.held if exercise in h.done and h.on), key=lambda h: (h.on or date.min, h.order))
    told = Told.by(past.diary)
    return tuple(f for h in held if (f := felt(past.plan, told, h)) is not None)


def over_running(found: Iterable[Felt]) -> int:
    """How many of the last sessions, one after the other, were more than the plan accepts."""
    run = 0
    for one in found:
        run = run + 1 if one.over else 0
    return run


def mornings(past: Past, first: date) -> tuple[tuple[date, Fraction], ...]:
    """Next-morning pain from a day on: (the morning, out of 10), whether told with a session or by itself."""
    found: dict[date, Fraction] = {}
    for held in past.held:
        if held.on and held.entry and held.entry.morning is not None:
            found[held.on + DAY] = held.entry.morning
    for entry in past.diary.of(What.MORNING):
        if entry.value:
            found[entry.day] = entry.value.value
    return tuple(sorted((day, value) for day, value in found.items() if first <= day <= past.as_of + DAY))


def median_of(values: Iterable[Fraction]) -> Fraction | None:
    """The middle value; None of none."""
    listed = sorted(values)
    return Fraction(median(listed)) if listed else None
