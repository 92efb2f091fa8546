"""Where a server is, and to whom a password may be told."""

from __future__ import annotations

import ipaddress
from urllib.parse import SplitResult, urljoin, urlsplit

from planlang.text.data import frozen

PORTS = {"http": 80, "https": 443}


class BadAddress(Exception):
    """What was given can't be a server's address, or a password must not be sent there; says which and what to do."""


@frozen
class Address:
    """A server's address: `url` in full, `origin` without its path (`https://calendar.example:8443`)."""

    url: str
    origin: str
    loopback: bool


def address(text: str) -> Address:
    """An address as it was typed. Raises BadAddress; its text never repeats a password."""
    parts = _split(text)
    if parts.username is not None or parts.password is not None:
        raise BadAddress("an address holds no name and no password: give the name with --user")
    if parts.query or parts.fragment:
        raise BadAddress("an address ends before any ? or #")
    inside = _is_loopback(parts.hostname or "")
    if parts.scheme == "http" and not inside:
        raise BadAddress("a password is never sent without encryption: the address begins with https://")
    url = text.strip()
    return Address(url if url.endswith("/") else f"{url}/", origin(url), inside)


def origin(url: str) -> str:
    """Scheme, host and port of a URL, which tell one server from another. Raises BadAddress."""
    parts = _split(url)
    host = parts.hostname or ""
    shown = f"[{host}]" if ":" in host else host
    port = parts.port or PORTS[parts.scheme]
    return f"{parts.scheme}://{shown}" + ("" if port == PORTS[parts.scheme] else f":{port}")


def sent_on(url: str, location: str) -> str:
    """Where a server sends us on to: at the same server only. Raises BadAddress."""
    there = urljoin(url, location)
    if origin(there) != origin(url):
        raise BadAddress(
            f"the server sends us on to {origin(there)}, and the password is for {origin(url)} only; give the other"
            " address with --to if you trust it"
        )
    return there


def _split(text: str) -> SplitResult:
    try:
        parts = urlsplit(text.strip())
        _ = parts.port
    except ValueError:
        raise BadAddress("that is no address") from None
    if parts.scheme not in PORTS or not parts.hostname:
        raise BadAddress("an address looks like https://calendar.example/ and begins with https://")
    return parts


def _is_loopback(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
