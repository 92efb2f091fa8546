"""A template read as a plan, with chosen values in its blanks."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from planlang.model.composing.blanks import BadBlank, BlankLine, blank_lines
from planlang.model.composing.composed import Composed
from planlang.model.composing.expand import Expansion
from planlang.model.composing.expression import Blank
from planlang.model.composing.files import Files
from planlang.model.composing.filling import Filled
from planlang.model.composing.fills import declared
from planlang.model.composing.library import template
from planlang.model.composing.saying import Findings
from planlang.model.composing.together import Composing
from planlang.text.source import Source, Span


def blanks_of(source: Source) -> tuple[BlankLine, ...]:
    """The blanks that a template declares, those that make no sense left out; none where it is no template."""
    sheet = template(source)
    return tuple(one for one in blank_lines(sheet) if not isinstance(one, BadBlank)) if sheet else ()


FIRST_DAY = date(2024, 1, 1)
"""A Monday: on which a template is begun where nobody says when."""


def lowest(source: Source, files: Files | None) -> Composed:
    """A template as a plan for the lowest of all that may be filled in."""
    fills: dict[str, Fraction | str] = {
        blank.name: (blank.ask or blank.name) if blank.text else blank.low for blank in blanks_of(source)
    }
    return instance(source, files, fills, FIRST_DAY)


def instance(
    source: Source, files: Files | None, fills: Mapping[str, Fraction | str], starts: date | None = None
) -> Composed:
    """A template as the plan that it gives for these values, each place shown in the template's own file.

    `fills`: exact numbers in the blank's own unit, or texts; they are not checked against the blank's range.
    `symbols` of what comes back says, by the offset of each substituted number's first digit in the composed
    text, which expression of which blanks it is. A text that is no template comes back as it is.
    """
    sheet = template(source)
    making = Expansion(Findings(source), symbolic=True, instance=True, starts=starts)
    if sheet is None or sheet.head is None:
        return Composed(source.name, source.text, source, ())
    filled: dict[str, Filled] = {}
    for name, blank in declared(sheet, Span(0, 0), making).items():
        value = fills.get(name)
        if isinstance(value, str) and blank.text:
            filled[name] = Filled(blank, text=value)
        elif value is not None and not isinstance(value, str) and not blank.text:
            filled[name] = Filled(blank, value=value, expr=Blank(name))
        else:
            filled[name] = Filled(blank, text=blank.ask or name) if blank.text else Filled(blank)
    return Composing(files, making).plan(sheet, filled)
