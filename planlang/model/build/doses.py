"""From the words of a dose to the dose."""

from __future__ import annotations

from typing import Any

from attrs import evolve

from planlang.model.build.context import UNIT_OF, Context, place
from planlang.model.dose import Dose, Effort, Load, Measured, Rest, Size, SizeKind
from planlang.model.quantity import Quantity, Range
from planlang.syntax.nodes import Node, span_of
from planlang.syntax.words import Token, Tree

_AMOUNT_KIND = {
    "SEC": SizeKind.TIME,
    "MIN": SizeKind.TIME,
    "HOUR": SizeKind.TIME,
    "KM": SizeKind.DISTANCE,
    "MILE": SizeKind.DISTANCE,
    "METRE": SizeKind.DISTANCE,
    "REPS": SizeKind.REPS,
    "STEPS_A_DAY": SizeKind.PER_DAY,
    "MIN_A_DAY": SizeKind.PER_DAY,
    "MIN_A_WEEK": SizeKind.PER_WEEK,
}
_WORDS = {
    "load": "loads",
    "effort": "efforts",
    "variant": "variants",
    "hold": "holds",
    "rest": "rests between sets",
    "tempo": "tempos",
    "band": "bands",
}


def dose(node: Node, context: Context) -> Dose:
    """A dose, plain or with sides."""
    if node.data == "sided_dose":
        sides: dict[str, Dose] = {}
        for side in node.children:
            assert isinstance(side, Tree)
            plain = side.children[0]
            assert isinstance(plain, Tree)
            sides["left" if side.data == "left_dose" else "right"] = dose(plain, context)
        return Dose(left=sides.get("left"), right=sides.get("right"), span=span_of(node))
    size_node, *parts = node.children
    assert isinstance(size_node, Tree)
    made = _size(size_node, context)
    said: dict[str, Any] = {}
    for part in parts:
        for name, value in _part(part, context, said).items():
            if name in said:
                what = _WORDS.get(name, name.replace("_", " ") + "s")
                context.contradicts(f"This dose names two {what}.", span_of(part), "Keep one.")
            else:
                said[name] = value
    bout = said.pop("bout", None)
    if bout is not None and made.size is not None:
        made = evolve(made, size=evolve(made.size, bout=bout))
    if said.pop("tolerated", False) and made.size is not None:
        made = evolve(made, size=evolve(made.size, open_ended="as tolerated"))
    return Dose(size=made.size, measured=made.measured, set_at=made.set_at, span=span_of(node), **said)


def _size(node: Node, context: Context) -> Dose:
    kids = node.children
    if node.data == "sets":
        sets, amount = context.sets(_token(kids[0]))
        unit = _token(kids[1]).type if len(kids) > 1 else None
        kind = SizeKind.TIMED_SETS if unit else SizeKind.REPS
        return Dose(Size(kind, (amount,), UNIT_OF[unit] if unit else "reps", sets))
    if node.data == "sets_open":
        sets = context.some_sets(context.pair(str(kids[0])[:-1], _token(kids[0])), _token(kids[0]))
        most = context.count(_token(kids[1]), 1) if len(kids) > 1 else None
        return Dose(Size(SizeKind.OPEN, (), "reps", sets, open_ended="to fatigue", at_most=most))
    if node.data == "tolerated":
        return Dose(Size(SizeKind.OPEN, (), "", open_ended="as tolerated"))
    if node.data == "measured":
        week = context.count(_token(kids[3]), 1) if len(kids) > 3 else 1
        percent = context.number(_token(kids[0]))
        return Dose(measured=Measured(percent, str(kids[2]), week))
    if node.data == "set_at":
        return Dose(set_at=context.count(_token(kids[-1]), 1))
    amounts_node, unit_node = kids
    assert isinstance(amounts_node, Tree)
    assert isinstance(unit_node, Tree)
    amounts = tuple(context.range(_token(t)) for t in amounts_node.children)
    unit = _token(unit_node.children[0]).type
    for number in amounts_node.children:
        context.whole(_token(number), _token(unit_node.children[0]))
    kind = _AMOUNT_KIND[unit]
    if len(amounts) > 1:
        if kind in (SizeKind.PER_DAY, SizeKind.PER_WEEK, SizeKind.DISTANCE):
            context.cannot_read("One number is enough here.", span_of(amounts_node), "Write one number with its unit.")
            amounts = amounts[:1]
        elif kind is SizeKind.TIME:
            kind = SizeKind.TIMED_SETS
    if any(a.low <= 0 for a in amounts):
        context.cannot_read("A dose of nothing.", span_of(amounts_node), "Write how much, or leave the line out.")
    return Dose(Size(kind, amounts, UNIT_OF[unit], Range.of(len(amounts))))


def _part(part: Any, context: Context, said: dict[str, Any]) -> dict[str, Any]:
    if isinstance(part, Token):
        if part.type == "STRING":
            return {"variant": str(part)[1:-1]}
        if part.type == "EACH_SIDE":
            return {"each_side": True}
        return {"times_a_day": Range.of(2 if part.type == "TWICE_A_DAY" else 1)}
    kids = [k for k in part.children if isinstance(k, Token)]
    name = str(part.data)
    if name == "at_load":
        unit = kids[1].type
        of = str(kids[2]) if len(kids) > 2 else None
        basis = {"ONE_RM": "1RM", "PERCENT": "body weight"}.get(unit, "mass")
        if unit == "PERCENT" and of != "body-weight":
            context.cannot_read(
                f"A share of {of} is no load that is understood.",
                place(kids[2]),
                "Write `of body-weight`, or `%1RM of`.",
            )
        return {"load": Load(basis, context.range(kids[0]), UNIT_OF.get(unit, "%"), of if basis == "1RM" else None)}
    if name == "at_rm":
        return {"load": Load("RM", context.pair(str(kids[0])[:-2], kids[0]), "RM")}
    if name == "at_effort":
        rating, scale = context.rating(kids[0], (10, 20))
        return {"effort": Effort(rating, scale)}
    if name == "at_reserve":
        return {"reserve": context.range(kids[0])}
    if name == "at_heart":
        return {"easy_heart_rate" if "easy" in said else "heart_rate": context.range(kids[0])}
    if name == "easy":
        return {"easy": context.quantity(kids[0], kids[1])}
    if name == "hold":
        held = context.range(kids[0])
        unit_word = UNIT_OF[kids[1].type]
        upper = Quantity(held.high, unit_word) if held.high != held.low else None
        return {"hold": Quantity(held.low, unit_word)} | ({"hold_to": upper} if upper else {})
    if name == "climb":
        return {"climb": context.quantity(kids[0], kids[1])}
    if name == "band":
        return {"band": str(kids[0])[1:-1]}
    if name == "height":
        which = "step_height" if kids[0].type == "STEP" else "chair_height"
        return {which: context.quantity(kids[1], kids[2])}
    if name == "tempo":
        counts = str(kids[0]).split("-")
        if any(len(n) > 3 for n in counts):
            context.cannot_read(f"{kids[0]} counts longer than can be meant.", place(kids[0]), "Write it like 2-1-4.")
        up, hold, down = (int(n[:3]) for n in counts)
        return {"tempo": (up, hold, down)}
    if name == "resting":
        return {"rest": Rest(context.range(kids[0]), UNIT_OF[kids[1].type])}
    if name == "resting_set":
        return {"rest": Rest()}
    if name == "daily":
        if kids[0].type == "RANGE":
            return {"times_a_day": context.range(kids[0])}
        return {"times_a_day": Range(context.number(kids[0]), context.number(kids[-1]))}
    if name == "tolerated":
        return {"tolerated": True}
    assert name == "bouts", name
    return {"bout": context.quantity(kids[0], kids[1])}


def _token(value: Any) -> Token:
    assert isinstance(value, Token)
    return value


CARRIED = (
    "load",
    "effort",
    "reserve",
    "band",
    "step_height",
    "chair_height",
    "hold",
    "hold_to",
    "tempo",
    "rest",
    "variant",
)


def carry_on(before: Dose, written: Dose) -> Dose:
    """The whole dose of a step: what it does not say carries on from the step before.

    A step with a new variant carries nothing on; `each side` and times a day are said each time.
    """
    if written.left is not None or written.right is not None:
        return evolve(
            written,
            left=carry_on(before.left or before, written.left) if written.left else None,
            right=carry_on(before.right or before, written.right) if written.right else None,
        )
    if written.variant is not None and written.variant != before.variant:
        return written
    carried = {n: getattr(before, n) for n in CARRIED if getattr(written, n) is None and getattr(before, n) is not None}
    if written.hold is not None:
        carried.pop("hold_to", None)
    return evolve(written, **carried) if carried else written
