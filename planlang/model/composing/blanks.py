"""The blanks of a template: what each may be filled with."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor

from planlang.model.build.context import MOST_DIGITS, UNIT_OF
from planlang.model.composing.sheet import Line, Sheet
from planlang.model.quantity import UNITS, Quantity, number_text
from planlang.text.data import frozen
from planlang.text.source import Span

MOST_BLANKS = 100
"""No template has more; one with more is a slip, or no template."""
COUNTED = ("steps/day", "steps", "reps")
"""Units whose numbers are whole."""
WHOLE_IF_SO = ("", "day", "week", "point")
"""Units whose numbers are whole where the blank's own are."""


@frozen
class BlankLine:
    """A blank as a template declares it: a quantity from `low` to `high` in steps of `grain`, or a text.

    `unit`: a word of UNITS, empty for a plain count and for text. `ask`: what to ask for it.
    """

    name: str
    span: Span
    low: Fraction = Fraction(0)
    high: Fraction = Fraction(0)
    unit: str = ""
    grain: Fraction = Fraction(1)
    text: bool = False
    ask: str = ""

    @property
    def whole(self) -> bool:
        """Whether all that it may be filled with is whole."""
        return self.unit in COUNTED or (self.low.denominator == 1 and self.grain.denominator == 1)

    @property
    def range(self) -> str:
        """`1000 to 6000 steps/day`, `text`."""
        return "text" if self.text else f"{number_text(self.low)} to {self.quantity(self.high)}"

    @property
    def step(self) -> str:
        """The grain, where it is another than 1; empty where it need not be said."""
        return "" if self.text or self.grain == 1 else number_text(self.grain)

    def quantity(self, value: Fraction) -> str:
        """A value with the blank's unit."""
        return str(Quantity(value, self.unit))

    def quantity_text(self, number: str) -> str:
        """A number as it was written, with the blank's unit."""
        return f"{number} {str(Quantity(Fraction(number), self.unit)).rpartition(' ')[2]}"

    def on_grain(self, value: Fraction) -> bool:
        """Whether a value lies on a step of the grain, counted from the low end."""
        return ((value - self.low) / self.grain).denominator == 1

    def nearest(self, value: Fraction) -> Fraction:
        """The step of the grain at or below a value, within the range."""
        steps = floor((min(value, self.high) - self.low) / self.grain)
        return self.low + self.grain * max(0, steps)


@frozen
class BadBlank:
    """A `blank` line that makes no sense, and why."""

    name: str
    span: Span
    why: str
    help: str = ""


def blank_lines(sheet: Sheet) -> Iterator[BlankLine | BadBlank]:
    """The blanks that a template declares, in order; one beyond the most is said once, and the rest left out."""
    seen: set[str] = set()
    for count, line in enumerate(sheet.lines("blank"), 1):
        made = _blank(line)
        if count > MOST_BLANKS:
            why = f"a template has at most {MOST_BLANKS} blanks, and this is one more"
            yield BadBlank(made.name, line.words, why, "Fill what is the same for everybody in the template itself.")
            return
        if made.name in seen:
            yield BadBlank(made.name, line.words, f"`{made.name}` is declared twice", "Keep one of the two lines.")
            continue
        seen.add(made.name)
        yield made


def _blank(line: Line) -> BlankLine | BadBlank:
    said = line.statement
    assert said is not None
    name = str(said.all("NAME")[0])
    ask = said.text() if said.all("STRING") else ""
    if said.token("TEXT") is not None:
        return BlankLine(name, line.words, text=True, ask=ask)
    written = [str(token) for token in said.all("NUMBER")]
    if any(len(number) > MOST_DIGITS for number in written):
        return BadBlank(name, line.words, "a number is too long to be meant", "Check the numbers.")
    numbers = [Fraction(number) for number in written]
    unit = next((UNIT_OF[p.type] for p in said.parts if getattr(p, "type", "") in UNIT_OF), "")
    low, high = numbers[:2]
    grain = numbers[2] if len(numbers) > 2 else min(_last_place(written[0]), _last_place(written[1]))
    if low > high:
        help = f"Write {number_text(high)} to {number_text(low)}."
        return BadBlank(name, line.words, f"the range {written[0]} to {written[1]} runs downwards", help)
    if grain <= 0:
        return BadBlank(name, line.words, "nothing goes by 0", "Write the step that its values keep to: by 100")
    if unit in COUNTED and any(number.denominator != 1 for number in (low, high, grain)):
        return BadBlank(name, line.words, f"{unit} are counted whole", "Write whole numbers.")
    return BlankLine(name, line.words, low, high, unit, grain, ask=ask)


def _last_place(number: str) -> Fraction:
    return Fraction(1, 10 ** len(number.partition(".")[2]))


def same_dimension(unit: str, other: str) -> bool:
    """Whether two units measure the same; a plain count and repetitions do."""
    one, two = (UNITS[word].dimension for word in (unit, other))
    return one == two or {one, two} == {"number", "count"}


def factor(unit: str, to: str) -> Fraction:
    """How many of `to` one of a unit is; both measure the same."""
    return UNITS[unit].factor / UNITS[to].factor
