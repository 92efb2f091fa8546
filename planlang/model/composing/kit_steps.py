"""From which step on a thing is needed, where only a part of a ladder is taken, or none of it."""

from __future__ import annotations

from functools import lru_cache

from planlang.model.build.context import Context
from planlang.model.build.training import kit_items
from planlang.model.composing.body import Out
from planlang.model.composing.composed import Piece
from planlang.model.exercise import Kit
from planlang.syntax.nodes import Statement
from planlang.syntax.read import read
from planlang.text.source import Source


def on_other_steps(lines: list[Out], steps: tuple[int, int] | None) -> list[Out]:
    """Lines of a block below, each `kit ... from step` counted on the steps that are taken of its ladder.

    `steps`: the first and last of them; None: the ladder is another, and what is for a step of this one falls away.
    """
    made = []
    for line in lines:
        said = _anew(line.said, steps) if line.name == "kit" and " from " in line.said else line.said
        if said == line.said:
            made.append(line)
        elif said:
            first = line.pieces[0]
            made.append(Out("kit", (Piece(f"{said}\n", first.source, first.span, first.shown, same=False),)))
    return made


@lru_cache(maxsize=1024)
def _anew(line: str, steps: tuple[int, int] | None) -> str:
    """A `kit` line with other steps; empty where nothing of it is left, as it is where it can't be read."""
    source = Source("", f"{line}\n")
    statement = next((one for one in read(source).lines if isinstance(one, Statement) and one.name == "kit"), None)
    if statement is None:
        return line
    kept = [moved for item in kit_items(statement, Context(source)) if (moved := _moved(item, steps))]
    return f"kit {', '.join(kept)}" if kept else ""


def _moved(item: Kit, steps: tuple[int, int] | None) -> str:
    if item.from_step is None:
        return f'"{item.text}"'
    if steps is None or item.from_step > steps[1]:
        return ""
    step = item.from_step - steps[0] + 1
    return f'"{item.text}"' + (f" from step {step}" if step > 1 else "")
