"""Blanks filled: each value checked against what its template asks for, and put in its places."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import partial
from math import floor

from attrs import evolve

from planlang.model.composing import expression
from planlang.model.composing.blanks import COUNTED, WHOLE_IF_SO, BlankLine, factor, same_dimension
from planlang.model.composing.expression import Blank, Expr, Number, Product, Rounded, Sum, Written
from planlang.model.quantity import UNITS, Quantity, number_text, said_exactly
from planlang.syntax.blanks import Spot
from planlang.text.data import frozen
from planlang.text.meant import did_you_mean
from planlang.text.source import Span

_BESIDE = ("x", "X", "×")
_NUMBERS_OWN = ("", "reps")


@frozen
class Filled:
    """A blank with its value in its own unit, or its text. None of both: it isn't filled.

    `shown`: the line of the plan's own file that fills it. `written`: the value as written there, in another
    unit. `expr`: what it comes from, over the blanks of the outermost template.
    """

    blank: BlankLine
    value: Fraction | None = None
    text: str | None = None
    shown: Span | None = None
    written: str | None = None
    expr: Expr | None = None

    @property
    def amount(self) -> Fraction:
        """Its value; 0 where it has none."""
        return Fraction(0) if self.value is None else self.value

    @property
    def there(self) -> bool:
        """Whether it is filled."""
        return self.value is not None or self.text is not None


@frozen
class Put:
    """What takes a spot's place. `fault`: what is wrong, and `help`; None for text where nothing can take it."""

    text: str | None
    fault: str = ""
    help: str | Callable[[], str] = ""
    value: Fraction | None = None
    unit: str = ""
    expr: Expr | None = None


def put(spot: Spot, filled: Mapping[str, Filled], beside: str, symbolic: bool = False) -> Put:
    """What takes the place of a spot. `beside`: the characters before and behind it.

    In a text nothing is left open: where nothing can take its place the spot stays as it is.
    """
    made = _put(spot, filled, beside, symbolic)
    return evolve(made, text=f"<{spot.text}>") if made.text is None and spot.quoted else made


def _declare(name: str, declared: tuple[str, ...]) -> str:
    """Which blank was most likely meant, or how to declare it; asked only where it is shown."""
    return did_you_mean(name, declared) or f"Declare it: blank {name} 4 to 12"


def _put(spot: Spot, filled: Mapping[str, Filled], beside: str, symbolic: bool) -> Put:
    written = expression.read(spot.text)
    if isinstance(written, str):
        if spot.quoted and not any(name in spot.text for name in filled):
            return Put(f"<{spot.text}>")
        return Put(None, f"`<{spot.text}>` is no value that is understood: {written}.", _EXAMPLES)
    unknown = next((name for name in written.blanks if name not in filled), None)
    if unknown is not None:
        said = f"`<{spot.text}>` names the blank {unknown}, which is not declared here."
        return Put(None, said, partial(_declare, unknown, tuple(filled)))
    used = [filled[name] for name in written.blanks]
    if any(one.blank.text for one in used):
        return _text(spot, written, used)
    if not all(one.there for one in used):
        return Put(None)
    return _number(spot, written, filled, beside, symbolic)


_EXAMPLES = "For example <reps-now>, <reps-now - 2>, <2 x reps-now>, <80 % of steps-now rounded to 100>."


def _text(spot: Spot, written: Written, used: list[Filled]) -> Put:
    name = next(one.blank.name for one in used if one.blank.text)
    if not spot.quoted:
        return Put(None, f"`<{spot.text}>` stands where an amount is asked for, and {name} is a text.", _IN_QUOTES)
    if not written.plain:
        return Put(None, f"{name} is a text, and can't be reckoned with.", f'Write it alone: "<{name}>"')
    return Put(used[0].text)


_IN_QUOTES = "A text stands inside quotes; for an amount, declare the blank with a range: blank reps-now 4 to 12"


def _number(spot: Spot, written: Written, filled: Mapping[str, Filled], beside: str, symbolic: bool) -> Put:
    first = filled[written.blanks[0]].blank
    unit = first.unit
    total, terms = Fraction(0), list[Expr]()
    for term in written.terms:
        other = filled[term.blank].blank.unit if term.blank else term.unit_word
        if term.blank is None and not term.unit and unit not in _NUMBERS_OWN:
            number = number_text(abs(term.factor))
            help = f"Write its unit: {number} {unit}"
            return Put(None, f"`<{spot.text}>`: {first.name} is in {unit}, and {number} has no unit.", help)
        if other is None or not same_dimension(other, unit):
            return Put(None, *_mixed(spot, term.blank, term.unit, first))
        share = term.factor * factor(other, unit)
        total += share * filled[term.blank].amount if term.blank else share
        if symbolic:
            terms.append(_scaled(share, filled[term.blank].expr or Blank(term.blank)) if term.blank else Number(share))
    expr: Expr | None = (terms[0] if len(terms) == 1 else Sum(tuple(terms))) if symbolic else None
    grain = written.rounded_to
    if grain is not None:
        total = grain * floor(total / grain)
        expr = Rounded(expr, grain) if expr is not None else None
    return _shown(spot, written, filled, total, beside, expr)


def _scaled(share: Fraction, expr: Expr) -> Expr:
    return expr if share == 1 else Product((Number(share), expr))


def _mixed(spot: Spot, blank: str | None, unit: str | None, first: BlankLine) -> tuple[str, str]:
    other = f"{blank} is in another" if blank else f"{unit} is another" if unit in UNITS else f"{unit} is no unit"
    own = first.unit or "a plain count"
    return f"`<{spot.text}>`: {first.name} is in {own}, and {other}.", "Reckon with one kind of unit at a time."


def _shown(
    spot: Spot, written: Written, filled: Mapping[str, Filled], total: Fraction, beside: str, expr: Expr | None
) -> Put:
    used = [filled[name].blank for name in written.blanks]
    unit = used[0].unit
    whole = unit in COUNTED or (unit in WHOLE_IF_SO and all(one.whole for one in used)) or _in_sets(beside)
    fault = help = ""
    if total < 0:
        return Put(None, f"`<{spot.text}>` comes to {number_text(total)}, less than nothing.", _named(written, filled))
    if whole and total.denominator != 1:
        fault = f"`<{spot.text}>` comes to {number_text(total)}, and what it stands for is counted whole."
        help = f"Write `<{spot.text} rounded to 1>` in the template, or fill in what comes out whole."
        total = Fraction(floor(total))
    elif not said_exactly(total):
        fault = f"`<{spot.text}>` comes to {number_text(total)}..., which no decimal says exactly."
        help = f"Write `<{spot.text} rounded to 0.1>` in the template."
        total = Fraction(number_text(total))
    bare = spot.bare
    if beside[:1] in _BESIDE and not spot.followed and unit not in _NUMBERS_OWN:
        if UNITS[unit].dimension != "time" and not fault:
            fault = f"`<{spot.text}>`: {used[0].name} is in {unit}, and a set holds repetitions or a time."
            return Put(None, fault, "Take a blank without a unit here: blank reps-now 4 to 12")
        bare = False  # 2x10 s: without its unit it would be ten repetitions
    one = filled[written.blanks[0]]
    if written.plain and one.written is not None and not spot.bare:
        return Put(one.written, fault, help, total, unit, expr)
    text = number_text(total) if bare else str(Quantity(total, unit))
    return Put(text, fault, help, total, unit, expr)


def _in_sets(beside: str) -> bool:
    return any(char in _BESIDE for char in beside)


def _named(written: Written, filled: Mapping[str, Filled]) -> str:
    said = ", ".join(
        f"{name} is {filled[name].blank.quantity(filled[name].value or Fraction(0))}" for name in written.blanks
    )
    return f"Here {said}."
