"""Is one dose at least another? Exact, by unit and by part; never a guess across kinds."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve

from planlang.model.dose import Dose, Load, Size, SizeKind
from planlang.model.plan import Today
from planlang.model.quantity import UNITS, Quantity, in_base
from planlang.model.show import one_repetition_maximum, tested_for

NOT_COMPARED = {
    "effort": "effort",
    "heart_rate": "%HRmax",
    "easy": "easy minutes between",
    "reserve": "reps in reserve",
    "tempo": "tempo",
    "rest": "rest between sets",
}


def at_least(x: Dose, d: Dose, today: Today | None = None, exercise: str | None = None) -> bool | None:
    """True where dose `x` is at least `d`, False where it is comparable and less, None where it is not comparable.

    What `d` does not name may be anything in `x`. Loads of different bases are compared in kilograms
    where `today` turns both into them; `exercise` is what a bare `%1RM` or `12RM` is of.
    """
    verdicts = _verdicts(x, d, today, exercise)
    if any(v is None for v in verdicts):
        return None
    return all(verdicts)


def not_compared(d: Dose) -> tuple[str, ...]:
    """What a dose names that no comparison looks at, in words; in `reach` each is a finding."""
    doses = [side for side in (d.left, d.right) if side] or [d]
    return tuple(dict.fromkeys(words for dose in doses for part, words in NOT_COMPARED.items() if getattr(dose, part)))


def load_in_kg(load: Load, today: Today | None, exercise: str | None = None) -> Fraction | None:
    """A load in kilograms (the lower end of a range), exact; None where the baseline doesn't say enough.

    A %1RM or nRM needs `tested` of its exercise (Epley 1985), a share of body weight `body-weight`.
    """
    if load.basis == "mass":
        return in_base(load.amount.low, load.unit)
    if load.basis == "body weight":
        weight = today.measure("body-weight") if today else None
        if weight is None or weight.value.dimension != "mass":
            return None
        return weight.value.base * load.amount.low / 100
    tested = tested_for(load, today, exercise)
    if tested is None:
        return None
    most = one_repetition_maximum(tested).base
    if load.basis == "RM":
        return most / (1 + load.amount.low / 30) if load.amount.low > 1 else most
    return most * load.amount.low / 100


def _verdicts(x: Dose, d: Dose, today: Today | None, exercise: str | None) -> list[bool | None]:
    if x.each_side and d.each_side and not (x.left or x.right or d.left or d.right):
        return _parts(x, d, today, exercise)  # what holds of one side holds of the other
    x_sides, d_sides = _sides(x), _sides(d)
    if (x_sides is None) != (d_sides is None):
        return [None]
    if x_sides is not None and d_sides is not None:
        found: list[bool | None] = []
        for side, wanted in d_sides.items():
            found += _verdicts(x_sides[side], wanted, today, exercise) if side in x_sides else [None]
        return found
    return _parts(x, d, today, exercise)


def _parts(x: Dose, d: Dose, today: Today | None, exercise: str | None) -> list[bool | None]:
    """The verdict on each part of two doses without sides, or of one side of them."""
    if x.to_be_set or d.to_be_set:
        return [None]
    return [
        _size(x.size, d.size),
        _load(x.load, d.load, today, exercise),
        _quantity(x.hold, d.hold),
        _quantity(x.climb, d.climb),
        _quantity(x.step_height, d.step_height),
        _chair(x.chair_height, d.chair_height),
        d.variant is None or x.variant == d.variant or None,
        d.band is None or x.band == d.band or None,
        d.times_a_day is None or (x.times_a_day.low if x.times_a_day else 1) >= d.times_a_day.low,
    ]


def _sides(dose: Dose) -> dict[str, Dose] | None:
    if dose.left or dose.right:
        return {side: d for side, d in (("left", dose.left), ("right", dose.right)) if d}
    if dose.each_side:
        one = evolve(dose, each_side=False)
        return {"left": one, "right": one}
    return None


def _size(x: Size | None, d: Size | None) -> bool | None:
    if x is None or d is None or x.kind is not d.kind or d.kind is SizeKind.OPEN:
        return None
    if UNITS[x.unit].dimension != UNITS[d.unit].dimension:
        return None
    if len(x.amounts) == len(d.amounts) == 1:
        enough = int(x.sets.low) >= int(d.sets.low) and (int(d.sets.low) < 1 or _amount(x) >= _amount(d))
    else:
        ours, theirs = _downwards(x), _downwards(d)
        enough = len(ours) >= len(theirs) and all(a >= b for a, b in zip(ours, theirs, strict=False))
    bouts = _quantity(x.bout, d.bout)
    return None if bouts is None else enough and bouts


def _amount(size: Size) -> Fraction:
    return in_base(size.amounts[0].low, size.unit)


def _downwards(size: Size) -> list[Fraction]:
    factor = UNITS[size.unit].factor
    if len(size.amounts) == 1:
        return [size.amounts[0].low * factor] * int(size.sets.low)
    return sorted((amount.low * factor for amount in size.amounts), reverse=True)


def _load(x: Load | None, d: Load | None, today: Today | None, exercise: str | None) -> bool | None:
    if d is None:
        return True
    if x is None:
        return None
    if x.basis == d.basis and x.basis != "mass" and (x.of or exercise) == (d.of or exercise):
        return x.amount.low <= d.amount.low if x.basis == "RM" else x.amount.low >= d.amount.low
    ours, theirs = load_in_kg(x, today, exercise), load_in_kg(d, today, exercise)
    return None if ours is None or theirs is None else ours >= theirs


def _quantity(x: Quantity | None, d: Quantity | None) -> bool | None:
    if d is None:
        return True
    if x is None or x.dimension != d.dimension:
        return None
    return x.base >= d.base


def _chair(x: Quantity | None, d: Quantity | None) -> bool | None:
    """A lower chair is more."""
    if d is None or x is None:
        return True if d is None else None
    return x.base <= d.base
