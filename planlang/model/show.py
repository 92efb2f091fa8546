"""A dose as one string, in the plan language's own words.

In order: size, sides, load and effort, hold, step or chair, band, tempo, rest, times a day; carried
parts included, the variant not. The kilograms that a share of a one repetition maximum comes to stand
after it in brackets, where the plan's `tested` line allows.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor

from planlang.model.dose import Dose, Load, Rest, Size, SizeKind
from planlang.model.plan import Tested, Today
from planlang.model.quantity import Quantity, Range, number_text


def dose_text(dose: Dose, baseline: Today | None = None, exercise: str | None = None) -> str:
    """The dose as dose text of the plan language, without its variant.

    With `baseline` the computed kilograms follow in brackets, for `%1RM`, of the exercise named in
    the dose or else of `exercise`. `3x8 at 70 %1RM of leg-press (35 kg)`.
    """
    text = " ".join(_parts(dose))
    lifted = lifted_text(dose, baseline, exercise) if baseline else None
    return f"{text} ({lifted})" if lifted else text


def one_repetition_maximum(tested: Tested) -> Quantity:
    """The most that can be lifted once, by Epley (1985): weight x (1 + reps / 30); a test of one is itself."""
    share = 1 + Fraction(tested.reps, 30) if tested.reps > 1 else Fraction(1)
    return Quantity(tested.load.value * share, tested.load.unit)


def tested_for(load: Load, baseline: Today | None, exercise: str | None) -> Tested | None:
    """The `tested` line that a share of a one repetition maximum is of; the last one where there are several."""
    name = load.of or exercise
    found = [t for t in baseline.tested if t.exercise == name] if baseline else []
    return found[-1] if found else None


def lifted_text(dose: Dose, baseline: Today, exercise: str | None = None) -> str | None:
    """`24-32 kg`: what a dose in %1RM comes to, rounded down to what the person has; None where that can't be told."""
    if dose.left or dose.right:
        sides = [(w, d) for w, d in (("left", dose.left), ("right", dose.right)) if d]
        texts = [(w, lifted_text(d, baseline, exercise)) for w, d in sides]
        return ", ".join(f"{w} {t}" for w, t in texts if t) or None
    load = dose.load
    tested = tested_for(load, baseline, exercise) if load and load.basis == "1RM" else None
    if load is None or tested is None:
        return None
    most = one_repetition_maximum(tested)
    shares = (load.amount.low, load.amount.high)
    low, high = (at_hand(Quantity(most.value * share / 100, most.unit), baseline) for share in shares)
    if high is None:
        return None
    if low is None or low == high:
        return str(high)
    return f"{number_text(low.value)}-{high}" if low.unit == high.unit else f"{low} to {high}"


def at_hand(wanted: Quantity, baseline: Today) -> Quantity | None:
    """The heaviest weight at hand that is no more than wanted; without a list, down to a tenth of the unit."""
    if not baseline.weights:
        tenths = floor(wanted.value * 10)
        return Quantity(Fraction(tenths, 10), wanted.unit) if tenths > 0 else None
    light = [w for w in baseline.weights if w.base <= wanted.base]
    return max(light, key=lambda w: w.base, default=None)


def _parts(dose: Dose) -> Iterator[str]:
    if dose.left or dose.right:
        for word, side in (("left", dose.left), ("right", dose.right)):
            if side:
                yield word
                yield from _parts(side)
        return
    if dose.set_at is not None:
        yield f"to be set at week {dose.set_at}"
    if dose.measured is not None:
        share = dose.measured
        yield f"{number_text(share.percent)} % of measured {share.of} in week {share.week}"
    if dose.size:
        yield size_text(dose.size)
    if dose.climb:
        yield f"with {dose.climb} of climb"
    if dose.each_side:
        yield "each side"
    yield from _how_hard(dose)
    if dose.hold:
        upper = dose.hold_to.value if dose.hold_to else dose.hold.value
        yield f"holding {Range(dose.hold.value, upper)} {dose.hold.unit}"
    if dose.step_height:
        yield f"step {dose.step_height}"
    if dose.chair_height:
        yield f"chair {dose.chair_height}"
    if dose.band is not None:
        yield f'with "{dose.band}"'
    if dose.tempo:
        yield "tempo {}-{}-{}".format(*dose.tempo)
    if dose.rest:
        yield rest_text(dose.rest)
    if dose.times_a_day:
        yield times_text(dose.times_a_day)


def _how_hard(dose: Dose) -> Iterator[str]:
    """Everything said with `at`, and the easy time between hard bouts, which holds its own heart rate."""
    if dose.load:
        yield f"at {load_text(dose.load)}"
    if dose.effort:
        yield f"at effort {dose.effort.rating}/{dose.effort.scale}"
    if dose.heart_rate:
        yield f"at {dose.heart_rate} %HRmax"
    if dose.reserve:
        yield f"at {dose.reserve} reps in reserve"
    if dose.easy:
        rate = f" at {dose.easy_heart_rate} %HRmax" if dose.easy_heart_rate else ""
        yield f"easy {dose.easy}{rate}"


def size_text(size: Size) -> str:
    """`3x8-12`, `2-3x30 s`, `30, 15, 15 reps`, `20 min`, `1.5 km`, `3200 steps/day`, `3x to fatigue, at most 15`."""
    amounts = ", ".join(str(a) for a in size.amounts)
    unit = size.unit
    if size.unit == "mile" and (len(size.amounts) > 1 or any(a.high != 1 for a in size.amounts)):
        unit = "miles"
    if size.kind is SizeKind.OPEN:
        if not size.unit:
            return "as tolerated"
        return f"{size.sets}x to fatigue" + (f", at most {size.at_most}" if size.at_most is not None else "")
    if size.kind in (SizeKind.REPS, SizeKind.TIMED_SETS) and len(size.amounts) == 1:
        text = f"{size.sets}x{amounts}" + (f" {unit}" if size.kind is SizeKind.TIMED_SETS else "")
    else:
        text = f"{amounts} {unit}"
    if size.bout:
        text += f" in bouts of {size.bout}"
    if size.open_ended == "as tolerated":
        text += " as tolerated"
    return text


def load_text(load: Load) -> str:
    """`4 kg`, `60-80 %1RM of leg-press`, `10 % of body-weight`, `8-12RM`."""
    if load.basis == "RM":
        return f"{load.amount}RM"
    if load.basis == "1RM":
        return f"{load.amount} %1RM" + (f" of {load.of}" if load.of else "")
    if load.basis == "body weight":
        return f"{load.amount} % of body-weight"
    return f"{load.amount} {load.unit}"


def rest_text(rest: Rest) -> str:
    """`resting 60 s`, `resting 30-60 s`, `resting as long as a set`."""
    return "resting as long as a set" if rest.amount is None else f"resting {rest.amount} {rest.unit}"


def times_text(times: Range) -> str:
    """`once a day`, `twice a day`, `2 to 3 times a day`."""
    if times.low != times.high:
        return f"{number_text(times.low)} to {number_text(times.high)} times a day"
    word = {1: "once", 2: "twice"}.get(int(times.low)) if times.low.denominator == 1 else None
    return f"{word} a day" if word else f"{times} times a day"
