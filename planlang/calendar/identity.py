"""What makes an entry the same entry in the next version of the calendar: its UID.

A UID must not tell whose it is, and a hash of `P-014` alone can be guessed from a list of a
thousand codes: so the hash is keyed (HMAC, RFC 2104, with SHA-256) where the clinic has a key. It
depends on nothing that a new version changes: no date, time, text or line number. Written as a UUID
of version 8, the version for values of one's own making (RFC 9562, 5.8; RFC 7986, 5.3 asks for UUIDs).
"""

from __future__ import annotations

import hashlib
import hmac
import json
from collections import Counter
from uuid import UUID

from attrs import field

from planlang.model.plan import Plan
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


def uid(parts: tuple[object, ...], key: bytes | None) -> str:
    """A UID from parts that tell entries apart, hashed with the key, or plainly without one."""
    # JSON keeps ("a", "bc") and ("ab", "c") apart.
    message = json.dumps(parts, ensure_ascii=False, separators=(",", ":")).encode("utf-8", "surrogatepass")
    digest = hmac.new(key, message, hashlib.sha256).digest() if key else hashlib.sha256(message).digest()
    number = int.from_bytes(digest[:16], "big")
    number = number & ~(0xF << 76) & ~(0x3 << 62) | 8 << 76 | 2 << 62
    return str(UUID(int=number))
