"""Facts of operations and of a surgeon's limits."""

from __future__ import annotations

import re
from fractions import Fraction

from planlang.checking.expression.mentions import language_said, phrase_in
from planlang.checking.expression.types import DATE, TEXT, TEXTS, TRUTH, number, thing
from planlang.checking.facts.plan import operation, plan
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.model.carried import replaced
from planlang.model.catalogue import tags
from planlang.model.known import Catalogue
from planlang.model.plan import Limit, Operation, Plan
from planlang.model.quantity import UNITS
from planlang.text.data import frozen
from planlang.text.source import Span

JOINTS = ("knee", "hip", "ankle", "foot", "shoulder", "elbow", "wrist", "hand", "thumb", "back", "neck")


def joints_of(it: Operation, catalogue: Catalogue) -> tuple[str, ...]:
    """The joints of an operation, where its words tell."""
    known = replaced(it.text, catalogue)
    if known is not None:
        return known.joints
    words = re.findall(r"[a-z]+", it.text.lower())
    return tuple(name for name in JOINTS if name in words)


operation.fact("joints", TEXTS, "the joints that were operated on, where its words tell", "operation")(
    lambda f, it: joints_of(it, f.plan.catalogue)
)
operation.fact("replaced-joint", TEXT, "the replacement that it is, by the name that is known", "operation")(
    lambda f, it: known.name if (known := replaced(it.text, f.plan.catalogue)) else None
)
_PART = re.compile(r"(?:partial|touch|toe|feather|non|no weight|none|reduced|limited)")
_SHARE = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?%")
_MASS = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?(kg|lb)\b")


@operation.fact("weight-limited", TRUTH, "less than the whole weight may be put on the leg", "weight_bearing")
def _weight_limited(_: Facts, it: Operation) -> bool | None:
    said = it.weight_bearing
    if said is None:
        return None
    return bool(_PART.search(said.lower()) or _SHARE.search(said) or _MASS.search(said))


@operation.fact(
    "weight-allowed",
    number("kg"),
    "the weight that may be put on the leg, where a number says it",
    "weight_bearing baseline today",
)
def _weight_allowed(facts: Facts, it: Operation) -> Fraction | None:
    said = (it.weight_bearing or "").lower()
    if mass := _MASS.search(said):
        return Fraction(mass[1]) * UNITS[mass[2]].factor
    weight = facts.plan.today.measure("body-weight")
    if (share := _SHARE.search(said)) and weight is not None:
        return weight.value.base * Fraction(share[1]) / 100
    return Fraction(0) if re.search(r"\bnon\b|\bnone\b|no weight", said) else None


@frozen
class Limited:
    """A limit with the operation that it belongs to."""

    operation: Operation
    limit: Limit

    @property
    def span(self) -> Span:
        """Where the limit stands."""
        return self.limit.span


limit = subject("limit", "limits", lambda it: str(it.limit.text))
root_list(
    "limit",
    "limit",
    "what the surgeon limits, and until when",
    lambda f: (Limited(one, each) for one in f.plan.operations for each in one.limits),
    "limits operation",
)
limit.fact("text", TEXT, "the limit in its own words", "limits")(lambda _, it: it.limit.text)
limit.fact("until", DATE, "until when it holds; missing where no date is written", "limits")(
    lambda _, it: it.limit.until
)
limit.fact("in-full", TEXT, "its words in quotes, and until when it holds", "limits")(
    lambda _, it: f'"{it.limit.text}"' + (f", until {it.limit.until}" if it.limit.until else "")
)
limit.fact("from", TEXT, "who said it", "limits")(lambda _, it: it.limit.source)
limit.fact("operation", thing("operation"), "the operation that it belongs to", "limits")(lambda _, it: it.operation)


@limit.fact("tags", TEXTS, "the tags of exercises that its words mean", "limits")
def _tags(facts: Facts, it: Limited) -> tuple[str, ...]:
    language = language_said(facts)
    return tuple(
        tag.name
        for tag in tags().values()
        if tag.words and phrase_in(it.limit.text, {p.language: p.said for p in tag.words}, language)
    )


@plan.fact(
    "undated-replacements",
    TEXTS,
    "replaced joints that it is about, without a line that says when",
    "about operation",
    "about",
)
def _undated(facts: Facts, it: Plan) -> tuple[str, ...]:
    catalogue = facts.plan.catalogue
    dated = {known.name for one in it.operations if (known := replaced(one.text, catalogue))}
    named = [known.name for about in it.about if (known := catalogue.condition(about.name)) and known.operation]
    return tuple(name for name in dict.fromkeys(named) if name not in dated)
