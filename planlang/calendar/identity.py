"""What makes an entry the same entry in the next version of the calendar: its UID.

It is a keyed hash (`planning/keyed.py`) and depends on nothing that a new version changes: no date,
time, text or line number. RFC 7986, 5.3 asks for UUIDs.
"""

from __future__ import annotations

from collections import Counter

from attrs import field

from planlang.model.plan import Plan
from planlang.planning.keyed import uid as uid
from planlang.text.data import define


@define
class Identities:
    """Gives the UIDs of one calendar; the same parts a second time are the second of their kind."""

    plan: Plan
    key: bytes | None = None
    _seen: Counter[tuple[object, ...]] = field(factory=Counter, init=False)

    def of(self, kind: str, title: str, week: int, place: int = 1) -> str:
        """The UID of an entry: its kind, title, week (training week of a session, else calendar week) and place."""
        parts = (kind, title, week, place)
        self._seen[parts] += 1
        return uid((self.plan.code, self.plan.title, *parts, self._seen[parts]), self.key)


def calendar_uid(plan: Plan, key: bytes | None) -> str:
    """The UID of the calendar itself (RFC 7986, 5.3): the same for every version of one person's one plan."""
    return uid((plan.code, plan.title), key)


def collection_uid(plan: Plan, key: bytes | None) -> str:
    """What the calendar on a server is known by: the same for all plans of one person, one after another."""
    return uid(("collection", plan.code or plan.title), key)
