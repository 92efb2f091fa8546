"""Sessions done of those due: week by week, by session, and from one review to the next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise

from planlang.model.diary import Entry
from planlang.planning.past import Held, Outcome, Past
from planlang.planning.review.data import Block, Tally, WeekHeld
from planlang.planning.week import Week, WeekKind
from planlang.planning.weeks import review_days
from planlang.text.data import frozen

FOUR_WEEKS = 4
OUT_OF = 10
"""The scale of effort that a session's load is reckoned with (Foster et al 2001, J Strength Cond Res 15:109)."""


def tally(held: Iterable[Held]) -> Tally:
    """Sessions counted by what became of them."""
    found = Counter(one.outcome for one in held)
    return Tally(
        found[Outcome.DONE] + found[Outcome.PART],
        found[Outcome.PART],
        found[Outcome.NOT_DONE],
        found[Outcome.BLANK],
        found[Outcome.AHEAD],
    )


@frozen
class _Felt:
    minutes: int
    load: Fraction | None
    rated: int


def weeks_held(past: Past) -> tuple[WeekHeld, ...]:
    """The calendar weeks that have begun by the day of the review."""
    by_week: dict[int, list[Held]] = {}
    for one in past.held:
        by_week.setdefault(one.week, []).append(one)
    first = past.weeks.weeks[0].starts
    extra = Counter((entry.day - first).days // 7 + 1 for entry in past.extra)
    return tuple(
        _week(week, by_week.get(week.number, []), extra[week.number])
        for week in past.weeks.weeks
        if week.starts <= past.as_of
    )


def _week(week: Week, held: list[Held], extra: int) -> WeekHeld:
    inside = sorted(held, key=lambda h: (h.day or h.on or week.starts, h.name, h.order))
    reasons = [_reason(h.entry) for h in inside if h.outcome is Outcome.NOT_DONE and h.entry is not None]
    felt = _felt(week, inside)
    return WeekHeld(
        week.number,
        week.starts,
        week.kind,
        tally(inside),
        tuple(h.outcome for h in inside),
        tuple(dict.fromkeys(reasons)),
        extra,
        felt.minutes,
        felt.load,
        felt.rated,
    )


def _reason(entry: Entry) -> str:
    """One of the reasons that have a word; else the person's own words."""
    return entry.because or (f'"{entry.text}"' if entry.text else "no reason written")


def _felt(week: Week, held: Iterable[Held]) -> _Felt:
    """Minutes of what was done, as long as it was planned, and the load where an effort out of 10 is told."""
    planned = {sitting.name: sitting.minutes for sitting in week.sittings}
    minutes, load, rated = 0, Fraction(0), 0
    for one in held:
        if one.outcome not in (Outcome.DONE, Outcome.PART):
            continue
        long = planned.get(one.name) or 0
        minutes += long
        entry = one.entry
        if entry is not None and entry.effort is not None and entry.effort_of == OUT_OF and long:
            load, rated = load + entry.effort * long, rated + 1
    return _Felt(minutes, load if rated else None, rated)


def by_session(past: Past) -> tuple[tuple[str, Tally], ...]:
    """Each session of the plan that was due so far."""
    held = {s.name: [h for h in past.held if h.name == s.name] for s in past.plan.sessions}
    return tuple((name, found) for name, own in held.items() if (found := tally(own)).due)


def blocks(past: Past, weeks: Iterable[WeekHeld]) -> tuple[Block, ...]:
    """From one review to the next; in a plan without reviews every four weeks."""
    listed = list(weeks)
    if not listed:
        return ()
    return tuple(_blocks(past, listed))


def _blocks(past: Past, weeks: list[WeekHeld]) -> Iterator[Block]:
    first, length = past.weeks.weeks[0].starts, len(past.weeks.weeks)
    ends = {min((day - first).days // 7 + 1, length) for day in review_days(past.plan) if day >= first}
    ends = ends or set(range(FOUR_WEEKS, length + FOUR_WEEKS, FOUR_WEEKS))
    for before, end in pairwise(sorted({0, *ends, length})):
        inside = [w for w in weeks if before < w.number <= end]
        if inside:
            total = Tally(
                sum(w.tally.done for w in inside),
                sum(w.tally.part for w in inside),
                sum(w.tally.not_done for w in inside),
                sum(w.tally.blank for w in inside),
                sum(w.tally.ahead for w in inside),
            )
            easier = sum(w.kind is WeekKind.REST for w in inside)
            yield Block(inside[0].number, inside[-1].number, total, easier)
