"""Proposals for a plan that is put together from several files: only its own file is changed."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import evolve

from planlang.model.composing.composed import Composed
from planlang.planning.mend.edits import Edit, Edits
from planlang.planning.mend.proposal import Proposal


def in_own_file(found: Iterable[Proposal], source: Composed) -> tuple[tuple[Proposal, ...], int]:
    """The proposals whose changes all fall into the plan's own file, at their places there; how many don't.

    What is given has its places in the composed text.
    """
    kept: list[Proposal] = []
    elsewhere = 0
    for one in found:
        edits = _own(one.edits, source)
        if edits is None:
            elsewhere += 1
        else:
            kept.append(evolve(one, edits=edits))
    return tuple(kept), elsewhere


def _own(edits: Edits, source: Composed) -> Edits | None:
    made: list[Edit] = []
    for edit in edits:
        span = source.own_span(edit.span)
        if span is None:
            return None
        made.append(Edit(span, edit.text))
    return tuple(made)
