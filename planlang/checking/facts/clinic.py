"""Facts of the clinic's own file: whom a person can call."""

from __future__ import annotations

from collections.abc import Mapping

from planlang.checking.expression.types import TEXT, TEXTS
from planlang.checking.facts.registry import Facts, root, subject
from planlang.text.data import frozen

WANTED = ("emergency", "same-day", "clinic")


@frozen
class Contacts:
    """The contacts of a clinic's file; it may name none."""

    named: Mapping[str, str]


clinic = subject("clinic", title=lambda _: "the clinic")


def _clinic(facts: Facts, _: object) -> Contacts | None:
    return None if facts.contacts is None else facts.once("clinic", lambda: Contacts(facts.contacts or {}))


root("clinic", "clinic", "whom the clinic's file names to call; missing where no clinic's file was looked for", _clinic)
for _name, _who in zip(WANTED, ("emergency help", "being seen the same day", "the clinic itself"), strict=True):
    clinic.fact(_name, TEXT, f"whom to call for {_who}")(
        lambda _, it, name=_name: it.named.get(name, "").strip() or None
    )
clinic.fact("unnamed-contacts", TEXTS, "which of emergency, same-day and clinic no contact stands for")(
    lambda _, it: tuple(name for name in WANTED if not it.named.get(name, "").strip())
)
