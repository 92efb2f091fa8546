"""Small words of the findings, and whether a line that couldn't be read might have said a thing."""

from __future__ import annotations

from planlang.model.plan import Plan


def counted(number: int, word: str) -> str:
    """`1 week`, `3 weeks`."""
    return f"{number} {word}" + ("" if number == 1 else "s")


def unread(plan: Plan, *names: str) -> bool:
    """True where an unreadable line could have been one of these statements or blocks."""
    return "?" in plan.unread or not plan.unread.isdisjoint(names)
