"""Requests with limits: of time and size, to one server only, with its certificate checked."""

from __future__ import annotations

import time
from collections.abc import Mapping
from typing import Any

import niquests
from attrs import define as attrs_define

from planlang.calendar.server.address import Address, BadAddress, origin, sent_on
from planlang.calendar.server.faults import ServerFault

LARGEST = 1 << 26  # bytes of an answer; twenty years of daily sessions are less
MOVED = (301, 302, 307, 308)
HOPS = 5
PIECE = 1 << 16


@attrs_define
class Limits:
    """Seconds: for a connection, between two signs of life, for a whole answer."""

    connect: float = 10
    silence: float = 30
    whole: float = 120


@attrs_define
class Answer:
    """What a server answered, as the library reads it."""

    status_code: int
    reason: str
    headers: Mapping[str, str]
    content: bytes
    url: str

    @property
    def text(self) -> str:
        """The body as words."""
        return self.content.decode("utf-8", "replace")


class OneServer:
    """Stands where the library has its session. Raises ServerFault; follows the server only to itself."""

    def __init__(self, address: Address, limits: Limits) -> None:
        self.address, self.limits = address, limits
        # No question to a certificate's maker on the side, and no second way to the server.
        self.session = niquests.Session(retries=0, disable_http3=True, revocation_configuration=None)
        # A stored password of another program is not ours to send (a .netrc file is read where nobody signs in yet).
        self.session.auth = _as_it_is
        # What is sent in the clear goes through no proxy.
        self.session.trust_env = address.origin.startswith("https://")

    def request(self, method: str, url: str, **parts: Any) -> Answer:
        """One question and its answer."""
        try:
            if origin(url) != self.address.origin:
                raise BadAddress(
                    f"the server's answer points to {origin(url)}, and the password is for {self.address.origin} only;"
                    " give the other address with --to if you trust it"
                )
            for _ in range(HOPS):
                answer = self._asked(method, url, parts)
                if answer.status_code not in MOVED or not answer.headers.get("Location"):
                    return answer
                url = sent_on(url, answer.headers["Location"])
        except BadAddress as fault:
            raise ServerFault(str(fault)) from None
        raise ServerFault("the server sends us round in a circle")

    def _asked(self, method: str, url: str, parts: Mapping[str, Any]) -> Answer:
        limits = self.limits
        until = time.monotonic() + limits.whole
        found = self.session.request(
            method,
            url,
            data=parts.get("data"),
            headers=parts.get("headers"),
            auth=parts.get("auth"),
            timeout=(limits.connect, limits.silence),
            allow_redirects=False,
            stream=True,
        )
        try:
            body = b""
            for piece in found.iter_content(PIECE):
                body += piece
                if len(body) > LARGEST:
                    raise ServerFault("the server's answer is larger than any calendar")
                if time.monotonic() > until:
                    raise ServerFault("the server takes too long to answer")
        finally:
            found.close()
        return Answer(found.status_code or 0, found.reason or "", found.headers, body, url)

    def close(self) -> None:
        """Lets go of the connection."""
        self.session.close()


def _as_it_is(request: Any) -> Any:
    return request
