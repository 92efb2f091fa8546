"""Facts of the signs that a plan leaves out, of those that it adds."""

from __future__ import annotations

from planlang.checking.expression.types import TEXT, TRUTH
from planlang.checking.facts.registry import root_list, subject
from planlang.model.catalogue import signs

left_out = subject("left-out-sign", "left-out-signs", lambda it: str(it.name))

root_list(
    "left-out-sign",
    "left-out-sign",
    "the signs that stop the day which the plan leaves out, those only that are known",
    lambda f: (it for it in f.plan.signs_left_out if it.name in signs()),
    "leave_sign",
)
left_out.plain("name", TEXT, "what the sign is called", "leave_sign")
left_out.fact("words", TEXT, "what the sign is", "leave_sign")(lambda _, it: signs()[it.name].words)
left_out.fact("removable", TRUTH, "a plan may do without it, with a reason and a name", "leave_sign")(
    lambda _, it: signs()[it.name].removable
)
left_out.plain("because", TEXT, "why it is left out", "leave_sign")
left_out.plain("by", TEXT, "who leaves it out", "leave_sign")
