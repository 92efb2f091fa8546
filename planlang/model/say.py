"""Doses and names in the plain words of what a person reads: `2 x 8 each side, with 2 kg`."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from planlang.model.dose import Dose, Effort, Load, Rest, Size, SizeKind
from planlang.model.exercise import Exercise
from planlang.model.quantity import Quantity, Range, number_text

TIMES = {1: "once", 2: "twice"}
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_text(day: date) -> str:
    """A date as people write it: `22 Feb 2027`."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def name_text(name: str) -> str:
    """An exercise's name as words: `sit-to-stand` is `Sit to stand`."""
    words = name.replace("-", " ")
    return words[:1].upper() + words[1:]


def range_text(amount: Range) -> str:
    """`8`, or `8 to 12`."""
    low, high = number_text(amount.low), number_text(amount.high)
    return low if low == high else f"{low} to {high}"


def times_text(times: Range) -> str:
    """`twice`, `3 times`, `2 to 3 times`."""
    if times.low == times.high and int(times.low) in TIMES:
        return TIMES[int(times.low)]
    return f"{range_text(times)} times"


def exercise_text(exercise: Exercise | None, name: str, dose: Dose) -> str:
    """An exercise with how it is done this time and its dose: `Sit to stand, dining chair: 2 x 8`."""
    title = name_text(name)
    if dose.variant:
        title += f", {dose.variant}"
    if exercise and exercise.hold_on_to:
        title += f", holding on to {exercise.hold_on_to}"
    return f"{title}: {dose_words(dose)}"


def dose_words(dose: Dose) -> str:
    """A dose as a person reads it, without its variant. What is lifted in per cent of body weight is not spelt out."""
    if dose.to_be_set:
        return "how much is set with you" + (f" in week {dose.set_at}" if dose.set_at else "")
    if dose.left or dose.right:
        return _by_side(dose)
    parts = [_size(dose.size, each_side=dose.each_side) if dose.size else ""]
    if dose.times_a_day:
        parts.append(f"{times_text(dose.times_a_day)} a day")
    parts += [text for text in _qualities(dose) if text]
    return ", ".join(part for part in parts if part)


def _by_side(dose: Dose) -> str:
    sides = [(word, d) for word, d in (("left", dose.left), ("right", dose.right)) if d]
    only = " only" if len(sides) == 1 else ""
    return "; ".join(f"{word}{only} {dose_words(d)}" for word, d in sides)


def _size(size: Size, each_side: bool) -> str:
    side = " each side" if each_side else ""
    if size.open_ended:
        most = f", at most {size.at_most}" if size.at_most else ""
        amount = "as much as is comfortable" if size.open_ended == "as tolerated" else "until the muscle tires"
        return f"{range_text(size.sets)} x {amount}{most}{side}"
    unit = "" if size.unit in ("", "reps") else f" {size.unit}"
    if size.kind is SizeKind.PER_DAY:
        what, _, _ = size.unit.partition("/")
        return f"{_amounts(size)} {what} a day"
    if size.kind is SizeKind.PER_WEEK:
        bouts = f", {size.bout} or more at a time" if size.bout else ""
        return f"{_amounts(size)} min in the week{bouts}"
    if size.kind in (SizeKind.TIME, SizeKind.DISTANCE):
        return f"{_amounts(size)}{unit}{side}"
    if len(size.amounts) > 1:
        return f"{_amounts(size)}{unit}{side}"
    return f"{range_text(size.sets)} x {_amounts(size)}{unit}{side}"


def _amounts(size: Size) -> str:
    return ", then ".join(range_text(amount) for amount in size.amounts)


def _qualities(dose: Dose) -> list[str | None]:
    """What is said beside the size, in the order in which a person needs it."""
    return [
        f"holding {range_text(_held(dose.hold, dose.hold_to))} {dose.hold.unit}" if dose.hold else None,
        _load(dose.load) if dose.load else None,
        f"with {dose.band}" if dose.band else None,
        f"step {dose.step_height}" if dose.step_height else None,
        f"chair {dose.chair_height}" if dose.chair_height else None,
        f"with {dose.climb} of climb" if dose.climb else None,
        _effort(dose.effort) if dose.effort else None,
        f"at {range_text(dose.heart_rate)} % of your top heart rate" if dose.heart_rate else None,
        _easy(dose) if dose.easy else None,
        f"stopping while you could still do {range_text(dose.reserve)} more" if dose.reserve else None,
        "{} s up, {} s held, {} s down".format(*dose.tempo) if dose.tempo else None,
        _rest(dose.rest) if dose.rest else None,
    ]


def _held(hold: Quantity, to: Quantity | None) -> Range:
    return Range(hold.value, to.value if to else hold.value)


def _easy(dose: Dose) -> str:
    rate = f" at {range_text(dose.easy_heart_rate)} %" if dose.easy_heart_rate else ""
    return f"{dose.easy} easy{rate} in between"


def _load(load: Load) -> str:
    if load.basis == "mass":
        return f"with {range_text(load.amount)} {load.unit}"
    if load.basis == "RM":
        return f"with a weight that you can lift just {range_text(load.amount)} times"
    if load.basis == "1RM":
        return f"with {range_text(load.amount)} % of the most you can lift once"
    return "with the weight on your sheet"  # a share of body weight: body weight stands in no text for the person


def _effort(effort: Effort) -> str:
    scale = f"out of {effort.scale}" if effort.scale != 20 else "on the scale from 6 to 20"
    return f"effort {range_text(effort.rating)} {scale}"


def _rest(rest: Rest) -> str:
    if rest.amount is None:
        return "resting as long as a set takes"
    return f"resting {range_text(rest.amount)} {rest.unit} between sets"


def minutes_text(minutes: Fraction | int) -> str:
    """`35 min`; over two hours in hours and minutes."""
    whole = int(minutes) if int(minutes) == minutes else None
    if whole is not None and whole > 120:
        hours, rest = divmod(whole, 60)
        return f"{hours} h" + (f" {rest} min" if rest else "")
    return f"{number_text(Fraction(minutes))} min"
