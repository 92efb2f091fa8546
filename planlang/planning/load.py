"""What a week asks: minutes, sets for each muscle group, session load."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from planlang.model.dose import Dose, Size, SizeKind
from planlang.model.exercise import Exercise
from planlang.model.quantity import UNITS, as_fraction
from planlang.model.session import Session
from planlang.text.data import frozen

SECONDS_A_REP = 4  # common practice, no source; a written tempo or hold goes before it
SECONDS_A_CHANGE = 60  # from one exercise to the next, where nothing is written: common practice, no source
Exact = Fraction | int
A_DAY = 24 * 60  # minutes
TIMED = (SizeKind.TIME, SizeKind.TIMED_SETS)
IN_SETS = (SizeKind.REPS, SizeKind.TIMED_SETS, SizeKind.OPEN)


@frozen
class SessionLoad:
    """One session's share of a week. `slot`: whole minutes from start to end, None where it can't be told.

    `minutes`: what counts for the week; `load`: effort x minutes (Foster et al 2001), None where no
    dose of it has an effort out of 10.
    """

    slot: int | None
    minutes: Fraction
    sets: tuple[tuple[str, int], ...]
    load: Fraction | None


def timed_seconds(dose: Dose) -> Fraction | None:
    """How long a dose lasts once, in seconds, both sides and its rests in it; None unless it is a time."""
    seconds = _seconds(dose, count_reps=False)
    return None if seconds is None else as_fraction(seconds)


def lasting_seconds(dose: Dose) -> Fraction | None:
    """The same, repetitions reckoned by their tempo, their hold, or 4 s each; None where nothing can be told."""
    seconds = _seconds(dose, count_reps=True)
    return None if seconds is None else as_fraction(seconds)


def _plain(value: Fraction) -> Exact:
    """The same number, an int where it is whole: most are, and ints are reckoned with much quicker."""
    return value.numerator if type(value) is Fraction and value.denominator == 1 else value


def _seconds(dose: Dose, count_reps: bool) -> Exact | None:
    if dose.left or dose.right:
        parts = [_seconds(side, count_reps) for side in (dose.left, dose.right) if side]
        return None if None in parts else sum(p for p in parts if p is not None)
    size = dose.size
    if size is None or size.open_ended == "to fatigue":
        return None
    if size.kind in TIMED:
        factor = _plain(UNITS[size.unit].factor)
    elif count_reps and size.kind is SizeKind.REPS:
        factor = _seconds_a_rep(dose)
    else:
        return None
    each = factor * dose.sides
    if len(size.amounts) == 1:
        count, last = int(size.sets.low), _plain(size.amounts[0].low) * each
        total = last * count
    else:
        count = len(size.amounts)
        if not count:
            return None
        last = _plain(size.amounts[-1].low) * each
        total = sum(_plain(amount.low) for amount in size.amounts) * each
    if count < 1:
        return None
    if dose.rest:
        resting = total - last  # as long as a set
        if dose.rest.amount is not None:
            resting = _plain(dose.rest.amount.low * UNITS[dose.rest.unit].factor) * (count - 1)
        total += resting
    if dose.easy:
        total += _plain(dose.easy.base) * (count - 1)
    return total


def _seconds_a_rep(dose: Dose) -> Exact:
    if dose.tempo:
        return sum(dose.tempo)
    return _plain(dose.hold.base) if dose.hold else SECONDS_A_REP


def session_minutes(session: Session, doses: Iterable[Dose]) -> tuple[int | None, Fraction]:
    """Slot in whole minutes, and the minutes that count for the week.

    Minutes are reckoned from the doses, their rests, warm-up and cool-down where all doses are
    times; else they are the slot; without a slot they are reckoned with repetitions at 4 s each.
    What comes to more than a day has no slot.
    """
    listed = list(doses)
    timed = _total(session, [_seconds(d, count_reps=False) for d in listed], change=0) if listed else None
    if session.minutes is not None:
        return ceil(session.minutes), session.minutes if timed is None else timed
    reckoned = timed
    if reckoned is None:
        reckoned = _total(session, [_seconds(d, count_reps=True) for d in listed], change=SECONDS_A_CHANGE)
    if reckoned is None:
        return None, Fraction(0)
    return (ceil(reckoned) if reckoned <= A_DAY else None), reckoned


def longest_minutes(session: Session, exercises: Iterable[Exercise]) -> Fraction:
    """The minutes of a session at the longest step of each exercise; what can't be told counts for nothing."""
    longest = [max((_seconds(s.dose, count_reps=True) or 0 for s in e.steps), default=0) for e in exercises]
    return _total(session, [*longest], change=0) or Fraction(0)


def needed_minutes(session: Session, doses: Iterable[Dose]) -> Fraction:
    """The minutes that doses, rests, changes, warm-up and cool-down need; what can't be told counts for nothing."""
    seconds = [_seconds(dose, count_reps=True) or 0 for dose in doses]
    return _total(session, [*seconds], change=SECONDS_A_CHANGE) or Fraction(0)


def _total(session: Session, seconds: list[Exact | None], change: int) -> Fraction | None:
    if None in seconds or not seconds:
        return None
    rounds = max(session.rounds, 1)
    total = sum(s for s in seconds if s is not None) * rounds
    changing = _plain(session.between.base) if session.between else change
    total += changing * (len(seconds) * rounds - 1)
    around = sum(_plain(w.minutes) for w in (session.warm_up, session.cool_down) if w)
    return as_fraction(total + 60 * around) / 60


def session_load(session: Session, done: Iterable[tuple[Exercise, Dose]]) -> SessionLoad:
    """Minutes, sets and load of one session with what is done in it."""
    listed = list(done)
    slot, minutes = session_minutes(session, (dose for _, dose in listed))
    sets: dict[str, int] = {}
    for exercise, dose in listed:
        for muscle in exercise.works:
            sets[muscle] = sets.get(muscle, 0) + sets_of(dose) * max(session.rounds, 1)
    efforts = [rating for _, dose in listed if (rating := effort_of(dose)) is not None]
    return SessionLoad(slot, minutes, tuple(sets.items()), max(efforts) * minutes if efforts else None)


def sets_of(dose: Dose) -> int:
    """Sets of one side; of a range the lower end. A dose that isn't in sets has none."""
    if dose.left or dose.right:
        return max(sets_of(side) for side in (dose.left, dose.right) if side)
    size = dose.size
    if size is None or size.kind not in IN_SETS or not size.unit:
        return 0
    return len(size.amounts) if len(size.amounts) > 1 else int(size.sets.low)


def effort_of(dose: Dose) -> Fraction | None:
    """The effort out of 10 (the lower end of a range), the higher side's; None where none is given on that scale."""
    sides = [side for side in (dose.left, dose.right) if side]
    if sides:
        efforts = [effort for side in sides if (effort := effort_of(side)) is not None]
        return max(efforts, default=None)
    return dose.effort.rating.low if dose.effort and dose.effort.scale == 10 else None


def activity_minutes(dose: Dose, days: int) -> Fraction:
    """Minutes in a week of an activity done on so many days, or as a weekly quota; 0 where it isn't in minutes."""
    size = dose.size
    if size is not None and size.kind in (SizeKind.PER_DAY, SizeKind.PER_WEEK):
        return _quota_minutes(size, days)
    seconds = timed_seconds(dose)
    return Fraction(0) if seconds is None else seconds / 60 * times_a_day(dose) * days


def _quota_minutes(size: Size, days: int) -> Fraction:
    unit = UNITS[size.unit]
    if not unit.dimension.startswith("time"):
        return Fraction(0)
    return size.amounts[0].low * unit.factor / 60 * (days if size.kind is SizeKind.PER_DAY else 1)


def times_a_day(dose: Dose) -> int:
    """How many times a day; once where nothing is said, of a range the lower end."""
    return int(dose.times_a_day.low) if dose.times_a_day else 1
