"""A calendar on a server."""

from __future__ import annotations

from urllib.parse import unquote

from planlang.text.data import frozen


@frozen
class Place:
    """Its address, and its name as people see it."""

    url: str
    name: str

    @property
    def id(self) -> str:
        """The last part of its address."""
        return unquote(self.url.rstrip("/").rsplit("/", 1)[-1])
