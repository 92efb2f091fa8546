"""What a diary says of an activity that stands in no session: days, and what was done on each."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from planlang.model.diary import Diary, What
from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.quantity import UNITS, Quantity
from planlang.planning.week import Week

DAY = timedelta(days=1)
WALKING = "walking"
A_DAY = {"steps/day": "steps", "min/day": "min", "min/week": "min"}
"""The unit in which a day of an activity is told."""


Days = dict[date, Fraction]


def told_of(exercise: Exercise, diary: Diary) -> Days:
    """What was done of an activity on each day of which something is told, in the unit of its aim a day.

    What was walked belongs to the activity that counts steps, or to the one called walking; steps of a device stand for
    the day, unless the diary has a line of its own.
    """
    unit = _unit(exercise)
    if unit is None:
        return {}
    found: Days = {}
    if unit == "steps":
        for table in diary.steps:
            found |= {day: Fraction(steps) for day, steps in table.days}
    own: Days = {}
    for entry in diary.of(What.WALKED, What.DID_EXERCISE, What.EXTRA):
        amount = None
        if entry.what is What.WALKED:
            amount = _in(entry.value, unit) if unit == "steps" or exercise.name == WALKING else None
        elif entry.name == exercise.name and entry.dose:
            amount = _in(_whole(entry.dose), unit)
        if amount is not None:
            # steps of a day are told as its total; bouts are added up
            before = own.get(entry.day)
            own[entry.day] = amount if before is None else max(before, amount) if unit == "steps" else before + amount
    return {**found, **own}


def told(exercise: Exercise, diary: Diary, first: date, last: date, stilled: frozenset[date] = frozenset()) -> Days:
    """The same from one day to another. `stilled`: days left out, because less was asked on them."""
    return {d: amount for d, amount in told_of(exercise, diary).items() if first <= d <= last and d not in stilled}


def in_week(days: Days, week: Week, as_of: date, stilled: frozenset[date]) -> Days:
    """What is told of one week up to a day."""
    dates = [week.starts + n * DAY for n in range(7)]
    return {day: days[day] for day in dates if day in days and day <= as_of and day not in stilled}


def counted(exercise: Exercise, week: Week, days: Days) -> bool:
    """Whether a week of an activity counts: nothing is told of its `days`, or half of what is told came to its aim."""
    done = week.activities.get(exercise.name) or week.exercises.get(exercise.name)
    aim = _amount(done.dose) if done else None
    if not days or aim is None:
        return True
    if exercise.weekly:
        return 2 * sum(days.values()) >= aim
    return 2 * sum(value >= aim for value in days.values()) >= len(days)


def aim_of(exercise: Exercise, week: Week) -> Fraction | None:
    """The aim of a day (of a weekly quota: of the week) in a week; None where it is not done in it."""
    done = week.activities.get(exercise.name) or week.exercises.get(exercise.name)
    return _amount(done.dose) if done and not done.gentle else None


def _unit(exercise: Exercise) -> str | None:
    size = exercise.steps[0].dose.size if exercise.steps else None
    return A_DAY.get(size.unit) if size else None


def _amount(dose: Dose) -> Fraction | None:
    return dose.size.amounts[0].low if dose.size and dose.size.amounts else None


def _whole(dose: Dose) -> Quantity | None:
    """All of a dose in one amount: `20 min`, `10, 5, 5 min`, `3000 steps`."""
    size = dose.size
    if size is None or not size.amounts:
        return None
    return Quantity(sum((a.low for a in size.amounts), Fraction(0)), size.unit.removesuffix("/day"))


def _in(value: Quantity | None, unit: str) -> Fraction | None:
    if value is None or UNITS[value.unit].dimension != UNITS[unit].dimension:
        return None
    return value.value * UNITS[value.unit].factor / UNITS[unit].factor
