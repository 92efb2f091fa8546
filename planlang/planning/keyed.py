"""Identities made from what a thing is: the same thing again has the same one, and it tells nobody whose it is.

A hash of `P-014` alone can be guessed from a list of a thousand codes: so the hash is keyed (HMAC, RFC 2104, with
SHA-256) where the clinic has a key. Written as a UUID of version 8, the version for values of one's own making
(RFC 9562, 5.8).
"""

from __future__ import annotations

import hashlib
import hmac
import json
from uuid import UUID


def uid(parts: tuple[object, ...], key: bytes | None) -> str:
    """A UUID from parts that tell things apart, hashed with the key, or plainly without one."""
    # JSON keeps ("a", "bc") and ("ab", "c") apart.
    message = json.dumps(parts, ensure_ascii=False, separators=(",", ":")).encode("utf-8", "surrogatepass")
    digest = hmac.new(key, message, hashlib.sha256).digest() if key else hashlib.sha256(message).digest()
    number = int.from_bytes(digest[:16], "big")
    number = number & ~(0xF << 76) & ~(0x3 << 62) | 8 << 76 | 2 << 62
    return str(UUID(int=number))
