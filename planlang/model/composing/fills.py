"""The `fill` lines of a file against the blanks of its template."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from math import floor

from attrs import evolve

from planlang.model.build.context import LARGEST, MOST_DIGITS, UNIT_OF
from planlang.model.composing.blanks import BadBlank, BlankLine, blank_lines, factor, same_dimension
from planlang.model.composing.expand import Expansion, View
from planlang.model.composing.expression import Number
from planlang.model.composing.filling import Filled, put
from planlang.model.composing.saying import called
from planlang.model.composing.sheet import Line, Sheet
from planlang.model.quantity import Known, Quantity, number_text
from planlang.syntax.words import Token
from planlang.text.finding import Related
from planlang.text.meant import meant
from planlang.text.source import Span

MOST_RELATED = 8


def declared(sheet: Sheet, place: Span, making: Expansion) -> dict[str, BlankLine]:
    """The blanks of a template; what is wrong with one is said at `place`, or at its line in the template itself."""
    made: dict[str, BlankLine] = {}
    own = sheet.source is making.findings.own
    for one in blank_lines(sheet):
        if isinstance(one, BadBlank):
            related = () if own else (Related("the template says it here", one.span, sheet.source),)
            making.findings.cannot_read(
                f"A blank can't be filled: {one.why}.", one.span if own else place, one.help, related
            )
        else:
            made[one.name] = one
    return made


def fillings(
    own: Sheet, base: Sheet, view: View, outer: Mapping[str, Filled], place: Span, making: Expansion
) -> dict[str, Filled]:
    """Each blank of a template with what its file fills in, checked; what isn't filled is said once.

    `outer`: the blanks of the file itself, where that is a template; `place`: its `from template` line.
    """
    blanks = declared(base, place, making)
    made: dict[str, Filled] = {}
    first: dict[str, Line] = {}
    tried: set[str] = set()
    for line in own.lines("fill"):
        assert line.statement is not None
        name = str(line.statement.all("NAME")[0])
        tried.add(name)
        shown = view.via or line.words
        if name not in blanks:
            tried.add(_unknown(name, blanks, shown, making, base, own, view, line))
        elif name in first:
            _twice(name, own, first[name], line, shown, making)
        else:
            first[name] = line
            made[name] = fill(blanks[name], own, base, line, view, outer, making)
    unread = {own.said(line).partition(" ")[2].partition(" ")[0] for line in own.unread("fill")}
    tried |= unread if unread <= set(blanks) else set(blanks)  # which of them is filled there can't be told
    _unfilled([blank for name, blank in blanks.items() if name not in tried], base, place, making)
    return {name: made.get(name) or Filled(blank) for name, blank in blanks.items()}


def _unknown(
    name: str,
    blanks: Mapping[str, BlankLine],
    shown: Span,
    making: Expansion,
    base: Sheet,
    own: Sheet,
    view: View,
    line: Line,
) -> str:
    """Says so, and gives the blank that was most likely meant: it isn't asked for once more."""
    near = (meant(name, blanks) if making.findings.meant() else None) or ""
    related = () if view.own else (Related("the template says it here", line.words, own.source),)
    known = f"Its blanks are {', '.join(list(blanks)[:12])}." if blanks else "It has no blanks: take the line out."
    help = f'Did you mean "{near}"?' if near else known
    making.findings.cannot_read(f'"{called(base.source)}" has no blank {name}.', shown, help, related)
    return near


def _twice(name: str, own: Sheet, first: Line, line: Line, shown: Span, making: Expansion) -> None:
    one, other = own.said(first), own.said(line)
    message = f"{name} is filled twice{'' if one == other else f': `{one}` and `{other}`'}."
    making.findings.contradicts(
        message,
        shown,
        "Keep one of the two lines.",
        (Related("the other is here", first.words, own.source),),
        harmful=one != other,
    )


def _unfilled(blanks: list[BlankLine], base: Sheet, place: Span, making: Expansion) -> None:
    if not blanks:
        return
    listed = ", ".join(f"{blank.name} ({blank.range})" for blank in blanks[:MOST_RELATED])
    more = f" and {len(blanks) - MOST_RELATED} more" if len(blanks) > MOST_RELATED else ""
    one = blanks[0]
    example = '"..."' if one.text else one.quantity(one.low)
    making.findings.cannot_read(
        f'"{called(base.source)}" has {"a blank" if len(blanks) == 1 else "blanks"} that '
        f"{'is' if len(blanks) == 1 else 'are'} not filled here: {listed}{more}.",
        place,
        f"Add a line for each, with this person's own value: fill {one.name} {example}",
        tuple(Related("the template asks for it here", one.span, base.source) for one in blanks[:MOST_RELATED]),
    )


def fill(
    blank: BlankLine, own: Sheet, base: Sheet, line: Line, view: View, outer: Mapping[str, Filled], making: Expansion
) -> Filled:
    """A blank with the value of one `fill` line, checked against what the template asks for."""
    return _Fill(blank, own, base, line, view, outer, making).filled()


class _Fill:
    """One `fill` line and its blank."""

    def __init__(
        self,
        blank: BlankLine,
        own: Sheet,
        base: Sheet,
        line: Line,
        view: View,
        outer: Mapping[str, Filled],
        making: Expansion,
    ) -> None:
        self.blank, self.own, self.base, self.line, self.view = blank, own, base, line, view
        self.outer, self.making = outer, making
        self.shown = view.via or line.words
        assert line.statement is not None
        self.said = line.statement

    def filled(self) -> Filled:
        """The blank with its value; unfilled, with a finding, where there is none."""
        strings = self.said.all("STRING")
        if strings and not self.blank.text:
            self._wrong(f"{self.blank.name} asks for an amount, {self.blank.range}, and here is a text.")
            return Filled(self.blank, shown=self.shown)
        if self.blank.text and not strings:
            help = f'Write it in quotes: fill {self.blank.name} "..."'
            self._wrong(f"{self.blank.name} asks for a text, and here is an amount.", help)
            return Filled(self.blank, shown=self.shown)
        return self._text() if strings else self._amount()

    def _wrong(self, message: str, help: str | Callable[[], str] = "") -> None:
        self.making.findings.cannot_read(message, self.shown, help, self._asked_for())

    def _contradicts(self, message: str, help: str) -> None:
        self.making.findings.contradicts(message, self.shown, help, self._asked_for())

    def _asked_for(self) -> tuple[Related, ...]:
        return (Related("the template asks for it here", self.blank.span, self.base.source),)

    def _text(self) -> Filled:
        if not self.line.spots:
            return Filled(self.blank, text=self.said.text(), shown=self.shown)
        text = self.own.text
        inside = text[self.line.words.start : self.line.words.end]
        opened = self.line.words.start + inside.index('"') + 1
        closed = self.line.words.start + inside.rindex('"')
        parts, at, shown = [], opened, self.shown
        for spot in self.line.spots:
            made = put(spot, self.outer, "")
            if made.fault:
                self._wrong(made.fault, made.help)
            if made.text is None:
                return Filled(self.blank, shown=self.shown)
            parts += [text[at : spot.span.start], made.text]
            at = spot.span.end
        return Filled(self.blank, text="".join([*parts, text[at:closed]]), shown=shown)

    def _amount(self) -> Filled:
        number = self.said.all("NUMBER")[0]
        unit_token = next((p for p in self.said.parts if isinstance(p, Token) and p.type in UNIT_OF), None)
        spot = next((s for s in self.line.spots if not s.quoted), None)
        expr, shown = None, self.shown
        if spot is not None:
            made = put(spot, self.outer, "", self.making.symbolic)
            if made.fault:
                self._wrong(made.fault, made.help)
            if made.value is None:
                return Filled(self.blank, shown=self.shown)
            value, expr = made.value, made.expr
            if isinstance(value, Known) and not made.fault:
                value.unsaid()
            unit = UNIT_OF[unit_token.type] if unit_token is not None and spot.bare else made.unit
            if not self.view.own:
                named = (self.outer[name] for name in self.outer if name in spot.text)
                shown = next((one.shown for one in named if one.shown is not None), shown)
        else:
            if len(number) > MOST_DIGITS or Fraction(str(number)) > LARGEST:
                self._wrong(f"{str(number)[:12]} is too large a number to be meant here.", "Check the number.")
                return Filled(self.blank, shown=self.shown)
            value = Fraction(str(number))
            unit = UNIT_OF[unit_token.type] if unit_token is not None else ""
        written = None if spot is not None else f"{number} {str(Quantity(value, unit)).rpartition(' ')[2]}"
        return self._checked(value, unit, Filled(self.blank, shown=shown, written=written, expr=expr))

    def _checked(self, value: Fraction, unit: str, made: Filled) -> Filled:
        blank = self.blank
        if not same_dimension(unit, blank.unit):
            if not unit:
                help = f"Write fill {blank.name} {blank.quantity(value)}"
                self._wrong(f"{blank.name} is in {blank.unit}, and this number has no unit.", help)
                unit = blank.unit
            else:
                own = blank.unit or "a plain count"
                self._wrong(f"{blank.name} is in {own}, and this is in {unit}.", f"It may be {blank.range}.")
                return made
        share = factor(unit, blank.unit)
        converted = value * share
        if not blank.low <= converted <= blank.high:
            said = _said(value, unit, converted, blank)
            self._contradicts(
                f"{blank.name} is {said} here, and the template is made for {blank.range}.",
                "Take the template for where the person is now, or write the plan without it.",
            )
        elif not blank.on_grain(converted):
            said = _said(value, unit, converted, blank)
            near = blank.nearest(converted)
            by = number_text(blank.grain)
            self._contradicts(
                f"{blank.name} is {said} here, and the template counts by {by} from {blank.quantity(blank.low)}.",
                f"Write {blank.quantity(near)}"
                + (f" or {blank.quantity(near + blank.grain)}." if near + blank.grain <= blank.high else "."),
            )
            if blank.whole:
                converted = Fraction(floor(converted))
        written = made.written if share != 1 else None
        expr = made.expr
        if expr is None and self.making.symbolic:
            expr = Number(converted)
        elif expr is not None and share != 1:
            from planlang.model.composing.expression import Product

            expr = Product((Number(share), expr))
        return evolve(made, value=converted, written=written, expr=expr)


def _said(value: Fraction, unit: str, converted: Fraction, blank: BlankLine) -> str:
    """A value as it is written, and what it is in the blank's own unit where that is another."""
    same = factor(unit, blank.unit) == 1
    return str(Quantity(value, unit)) + ("" if same else f" (that is {blank.quantity(converted)})")
