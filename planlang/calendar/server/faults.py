"""What can go wrong between us and a server, in words that hold no password and nothing of a person."""

from __future__ import annotations


class ServerFault(Exception):
    """The server can't be used, or stopped being usable; says why and what to do."""


class Conflict(Exception):
    """Something on the server is not as it was when we looked: it has been left alone. Says what happened."""
