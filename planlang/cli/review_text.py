"""A review as text for the clinician: the first minute of a visit on one screen, all else below it."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.cli.wrapping import wrapped
from planlang.planning.review import wording as words
from planlang.planning.review.below import parts
from planlang.planning.review.data import Review
from planlang.planning.review.screen import first_lines

LABEL = 14
"""Columns of the words in front of a line."""
NARROW = 60


def text(review: Review, width: int, written: str | None = None) -> str:
    """Both parts, in at most `width` columns. written: the file that the proposal was written to."""
    lines = [*first_screen(review, width), "", *_below(review, width, written)]
    return "\n".join(lines) + "\n"


def first_screen(review: Review, width: int) -> Iterator[str]:
    """What is looked at first, and nothing else."""
    plan = review.past.plan
    whose = f", {plan.code}" if plan.code else ""
    yield from wrapped(f"{plan.title}{whose}: {words.through_text(review)}. {words.UNWATCHED}", width)
    for label, said in first_lines(review):
        yield from _labelled(label, said, width)


def _below(review: Review, width: int, written: str | None) -> Iterator[str]:
    for title, lines in parts(review):
        yield title
        for line in lines:
            yield from wrapped(line, width, "  ")
        yield ""
    yield "The next block, as a draft"
    if review.proposal is None:
        yield from wrapped("None: the plan has no start or no length.", width, "  ")
    elif written is not None:
        yield from wrapped(f"Written to {written}: it continues this plan, and lies beside it.", width, "  ")
    else:
        yield from wrapped(
            "--next-block FILE writes it as a plan of its own, `state draft`: read it, change it, sign it.", width, "  "
        )


def _labelled(label: str, said: str, width: int) -> list[str]:
    """The words in front, and the lines after them hanging."""
    if width < NARROW:
        return wrapped(f"{label}: {said}" if label else said, width, "  ", first="")
    return wrapped(said, width, " " * LABEL, first=label.ljust(LABEL))
