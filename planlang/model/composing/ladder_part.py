"""A part of a ladder: its first step becomes `begin`, the one before it `easier`."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from planlang.model.build.context import Context
from planlang.model.build.ladders import steps
from planlang.model.build.lines import Lines
from planlang.model.composing.body import Block, Out
from planlang.model.composing.composed import Piece
from planlang.model.composing.saying import Findings
from planlang.model.dose import Dose
from planlang.model.exercise import Rise, Step
from planlang.model.quantity import Quantity, number_text
from planlang.model.show import dose_text
from planlang.syntax.blocks import blocks
from planlang.syntax.nodes import Statement
from planlang.syntax.read import read
from planlang.text.data import frozen
from planlang.text.source import Source, Span

LADDER = frozenset(("easier", "begin", "then", "rise"))
ENDLESS = 10**9


def part_of(block: Block, below: list[Out], findings: Findings) -> tuple[Out, ...] | None:
    """The part of the ladder below that a block's `ladder` line takes; None where it takes none."""
    line = next((line for line in block.lines if line.name == "ladder"), None)
    if line is None or line.statement is None:
        return None
    begin = next((line for line in block.lines if line.name == "begin"), None)
    if begin is not None:
        findings.contradicts(
            f"`{line.said}` takes a ladder, and `{begin.said}` begins another.",
            line.words,
            "Keep one of the two lines.",
        )
        return None
    made = part(block.kind, below, *wanted(line.statement), line.words)
    if made.fault:
        help = "Name steps of the ladder, counted from 1."
        if not any(one.name in LADDER for one in below):
            help = "Write the ladder here, beginning with a line: begin 2x6"
        findings.cannot_read(f"`{line.said}`: {made.fault}.", line.words, help)
        return tuple(one for one in below if one.name in LADDER) or None
    return made.lines


@frozen
class Part:
    """The lines of a part of a ladder, or in words why there is none."""

    lines: tuple[Out, ...] = ()
    fault: str = ""


def wanted(line: Statement) -> tuple[int, int]:
    """The first and last step that a `ladder` line names; a last one that is left open is very large."""
    tokens = [t for t in line.tokens if t.type in ("NUMBER", "RANGE", "ON")]
    numbers = [int(Fraction(n[:9])) for t in tokens if t.type != "ON" for n in str(t).split("-")]
    first = numbers[0]
    if tokens[-1].type == "ON":
        return first, ENDLESS
    return first, numbers[-1]


def part(kind: str, below: list[Out], first: int, last: int, shown: Span) -> Part:
    """Steps `first` to `last` of the ladder in lines of a block. `shown`: the line that takes the part."""
    lines = [line for line in below if line.name in LADDER]
    if any(piece.expr is not None for line in lines for piece in line.pieces):
        return Part(fault="it is a part of a ladder with blanks in it, which is another one for each person")
    made = steps_of(kind, "".join(line.text for line in lines), first, last)
    if isinstance(made, str):
        return Part(fault=made)
    begin = next(line for line in lines if line.name == "begin")
    start, end = begin.pieces[0], begin.pieces[-1]
    span = Span(start.span.start, max(start.span.end, end.span.end))
    kept = [Out(name, (Piece(f"{words}\n", start.source, span, shown, same=False),)) for name, words in made.written]
    kept += [line for line in lines if line.name == "then"][made.first : made.last]
    return Part(tuple(kept))


@frozen
class Steps:
    """Lines by name and words that are written anew, and which of the `then` lines (from, to) go on behind them."""

    written: tuple[tuple[str, str], ...]
    first: int = 0
    last: int = 0


@lru_cache(maxsize=1024)
def steps_of(kind: str, ladder: str, first: int, last: int) -> Steps | str:
    """Steps `first` to `last` of the ladder in a text, or in words why there are none; plans take the same few."""
    source = Source("", f"{kind} ladder\n{ladder}")
    block = blocks(read(source)).of(kind)[0]
    context = Context(source)
    easier, made, rise = steps(Lines(block, context), context)
    if not made:
        return "there is no ladder to take steps of"
    if first < 1 or first > last:
        return f"there are no steps {first} to {last}; a ladder is taken upwards, from step 1 on"
    if first > len(made) or (last > len(made) and last != ENDLESS):
        return f"the ladder has {len(made)} steps"
    last = min(last, len(made))
    before = made[first - 2] if first > 1 else easier
    start = made[first - 1]
    written = [("easier", f"easier {whole_text(before.dose)}")] if before is not None else []
    written.append(("begin", f"begin {whole_text(start.dose)}{_for(start)}"))
    if rise is None:
        return Steps(tuple(written), first - 1, last - 1)
    if last > first:
        begin = next(line for line in block.lines if line.name == "begin")
        to = _raised(made[last - 1].dose, rise) if last < len(made) else rise.to
        written.append(("rise", rise_text(rise, to, _grain(begin, rise))))
    return Steps(tuple(written))


def whole_text(dose: Dose) -> str:
    """A dose with its variant, as the language writes it."""
    if dose.left or dose.right:
        sides = (("left", dose.left), ("right", dose.right))
        return " ".join(f"{word} {whole_text(side)}" for word, side in sides if side)
    return dose_text(dose) + (f' "{dose.variant}"' if dose.variant is not None else "")


def _for(step: Step) -> str:
    if step.weeks is None:
        return ""
    return f" for {step.weeks} {'week' if step.weeks == 1 else 'weeks'}"


def rise_text(rise: Rise, to: Quantity, grain: Fraction | None) -> str:
    """A `rise` line."""
    every = "every week" if rise.weeks == 1 else f"every {rise.weeks} weeks"
    rounded = f" rounded to {number_text(grain)}" if grain is not None else ""
    return f"rise {rise.amount} {every} to {to}{rounded}{' by date' if rise.by_date else ''}"


def _raised(dose: Dose, rise: Rise) -> Quantity:
    """What a rise has raised a dose to."""
    for side in (dose.size, dose.load):
        amount, unit = (None, "")
        if side is not None and side is dose.size:
            amount, unit = (dose.size.amounts[0].low if dose.size.amounts else None), dose.size.unit
        elif dose.load is not None:
            amount, unit = dose.load.amount.low, dose.load.unit
        if amount is not None and _measures(unit, rise):
            return Quantity(amount, unit)
    for held in (dose.hold, dose.step_height):
        if held is not None and _measures(held.unit, rise):
            return held
    return rise.to


def _measures(unit: str, rise: Rise) -> bool:
    try:
        return Quantity(Fraction(0), unit).dimension == rise.to.dimension
    except KeyError:
        return False


def _grain(begin: Statement, rise: Rise) -> Fraction | None:
    """What the rise is cut down to, where another `begin` could change what is unsaid."""
    if rise.rounded_to is not None or rise.amount.unit != "%":
        return rise.rounded_to
    decimals = [str(n).partition(".")[2] for n in begin.tokens if n.type == "NUMBER"]
    return Fraction(1, 10 ** max((len(d) for d in decimals), default=0))
