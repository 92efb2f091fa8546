"""Doses and names in the plain words of what a person reads: `2 x 8 each side, with 2 kg`."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from planlang.model.dose import Dose, Effort, Load, Rest, Size, SizeKind
from planlang.model.exercise import Exercise
from planlang.model.quantity import Quantity, Range
from planlang.text.languages.line import Line, joined
from planlang.text.languages.words import Words, in_english

TIMES = {1: "once", 2: "twice"}
NAMED = frozenset(("day", "week", "point", "mile", "month", "degree"))


def day_text(day: date) -> str:
    """A date as people write it in English: `22 Feb 2027`."""
    return in_english().day(day)


def name_text(name: str) -> str:
    """An exercise's name as words: `sit-to-stand` is `Sit to stand`."""
    words = name.replace("-", " ")
    return words[:1].upper() + words[1:]


def range_text(amount: Range, words: Words | None = None) -> Line:
    """`8`, or `8 to 12`."""
    words = words or in_english()
    if amount.low == amount.high:
        return Line(((words.number(amount.low), None),))
    return words.say("dose.range", low=amount.low, high=amount.high)


def quantity_words(quantity: Quantity, words: Words) -> Line:
    """`7 days`, `15 cm`."""
    if quantity.unit in NAMED:
        return words.say(f"quantity.{quantity.unit}", n=quantity.value)
    number = Line(((words.number(quantity.value), None),))
    return number + " " + _unit(quantity.unit, words) if quantity.unit else number


def times_text(times: Range, words: Words) -> Line:
    """`twice`, `3 times`, `2 to 3 times`."""
    if times.low == times.high:
        named = TIMES.get(int(times.low)) if times.low.denominator == 1 else None
        return words.say(f"times.{named}") if named else words.say("times.n", n=times.low)
    return words.say("times.range", range=range_text(times, words))


def exercise_text(exercise: Exercise | None, name: str, dose: Dose, words: Words | None = None) -> Line:
    """An exercise with how it is done this time and its dose: `Sit to stand, dining chair: 2 x 8`."""
    words = words or in_english()
    return words.say("dose.line", what=exercise_title(exercise, name, dose, words), dose=dose_words(dose, words))


def exercise_title(exercise: Exercise | None, name: str, dose: Dose, words: Words) -> Line:
    """`Sit to stand, dining chair`."""
    title = [words.plan(name_text(name))]
    if dose.variant:
        title.append(words.plan(dose.variant))
    if exercise and exercise.hold_on_to:
        title.append(words.say("dose.holding-on", what=exercise.hold_on_to))
    return joined(", ", title)


def dose_words(dose: Dose, words: Words | None = None) -> Line:
    """A dose as a person reads it, without its variant. What is lifted in per cent of body weight is not spelt out."""
    words = words or in_english()
    if dose.to_be_set:
        return words.say("dose.to-be-set-in", week=dose.set_at) if dose.set_at else words.say("dose.to-be-set")
    if dose.left or dose.right:
        return _by_side(dose, words)
    parts = [_size(dose.size, dose.each_side, words) if dose.size else Line(())]
    if dose.times_a_day:
        parts.append(words.say("dose.a-day", times=times_text(dose.times_a_day, words)))
    parts += [text for text in _qualities(dose, words) if text]
    return joined(", ", (part for part in parts if part))


def _by_side(dose: Dose, words: Words) -> Line:
    sides = [(word, d) for word, d in (("left", dose.left), ("right", dose.right)) if d]
    only = "-only" if len(sides) == 1 else ""
    return joined("; ", (words.say(f"dose.{word}{only}", dose=dose_words(d, words)) for word, d in sides))


def _size(size: Size, each_side: bool, words: Words) -> Line:
    amount = _one_side(size, words)
    sided = each_side and size.kind not in (SizeKind.PER_DAY, SizeKind.PER_WEEK)
    return words.say("dose.each-side", dose=amount) if sided else amount


def _one_side(size: Size, words: Words) -> Line:
    if size.open_ended:
        amount = words.say("dose.comfortable" if size.open_ended == "as tolerated" else "dose.tires")
        if size.at_most:
            amount = words.say("dose.at-most", dose=amount, most=size.at_most)
        return words.say("dose.sets", sets=range_text(size.sets, words), amount=amount)
    amounts = joined(words.say("dose.then"), (range_text(amount, words) for amount in size.amounts))
    if size.kind is SizeKind.PER_DAY:
        unit = size.unit.partition("/")[0]
        return words.say("dose.per-day", amount=amounts, unit=_unit(unit, words))
    if size.kind is SizeKind.PER_WEEK:
        week = words.say("dose.per-week", amount=amounts)
        return words.say("dose.bouts", dose=week, bout=quantity_words(size.bout, words)) if size.bout else week
    if size.unit not in ("", "reps"):
        amounts = amounts + " " + _unit(size.unit, words)
    if size.kind in (SizeKind.TIME, SizeKind.DISTANCE) or len(size.amounts) > 1:
        return amounts
    return words.say("dose.sets", sets=range_text(size.sets, words), amount=amounts)


def _unit(unit: str, words: Words) -> Line:
    """The word or sign of a unit beside a number; the signs of the SI are the same in every language."""
    if unit in ("steps", "inch", "mile"):
        return words.say(f"unit.{unit}")
    return Line(((unit, None),))


def _qualities(dose: Dose, words: Words) -> list[Line | None]:
    """What is said beside the size, in the order in which a person needs it."""
    say = words.say
    hold, step, chair, rate = dose.hold, dose.step_height, dose.chair_height, dose.heart_rate
    return [
        say("dose.hold", held=range_text(_held(hold, dose.hold_to), words), unit=_unit(hold.unit, words))
        if hold
        else None,
        _load(dose.load, words) if dose.load else None,
        say("dose.band", band=dose.band) if dose.band else None,
        say("dose.step", height=quantity_words(step, words)) if step else None,
        say("dose.chair", height=quantity_words(chair, words)) if chair else None,
        say("dose.climb", climb=quantity_words(dose.climb, words)) if dose.climb else None,
        effort_text(dose.effort, words) if dose.effort else None,
        say("dose.heart-rate", rate=range_text(rate, words)) if rate else None,
        _easy(dose, dose.easy, words) if dose.easy else None,
        say("dose.reserve", n=dose.reserve.high, more=range_text(dose.reserve, words)) if dose.reserve else None,
        say("dose.tempo", up=dose.tempo[0], held=dose.tempo[1], down=dose.tempo[2]) if dose.tempo else None,
        _rest(dose.rest, words) if dose.rest else None,
    ]


def _held(hold: Quantity, to: Quantity | None) -> Range:
    return Range(hold.value, to.value if to else hold.value)


def _easy(dose: Dose, easy: Quantity, words: Words) -> Line:
    time = quantity_words(easy, words)
    if dose.easy_heart_rate:
        return words.say("dose.easy-at", time=time, rate=range_text(dose.easy_heart_rate, words))
    return words.say("dose.easy", time=time)


def _load(load: Load, words: Words) -> Line:
    amount = range_text(load.amount, words)
    if load.basis == "mass":
        return words.say("dose.load", amount=amount, unit=_unit(load.unit, words))
    if load.basis == "RM":
        return words.say("dose.load-just", n=load.amount.high, amount=amount)
    if load.basis == "1RM":
        return words.say("dose.load-share", amount=amount)
    if load.basis == "body weight":
        return words.say("dose.load-on-sheet")  # body weight stands in no text for the person
    return words.say("dose.load-agreed")


def effort_text(effort: Effort, words: Words) -> Line:
    """`effort 6 out of 10`."""
    rating = range_text(effort.rating, words)
    if effort.scale == 20:
        return words.say("dose.effort-borg", rating=rating)
    return words.say("dose.effort", rating=rating, scale=effort.scale)


def _rest(rest: Rest, words: Words) -> Line:
    if rest.amount is None:
        return words.say("dose.rest-as-set")
    return words.say("dose.rest", amount=range_text(rest.amount, words), unit=_unit(rest.unit, words))


def minutes_text(minutes: Fraction | int, words: Words | None = None) -> Line:
    """`35 min`; over two hours in hours and minutes."""
    words = words or in_english()
    whole = int(minutes) if int(minutes) == minutes else None
    if whole is not None and whole > 120:
        hours, rest = divmod(whole, 60)
        return Line(((f"{hours} h" + (f" {rest} min" if rest else ""), None),))
    return Line(((f"{words.number(Fraction(minutes))} min", None),))
