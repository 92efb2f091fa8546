"""What somebody answers to a template's blank, as the `fill` line of a plan."""

from __future__ import annotations

import re

from planlang.model.composing.blanks import BlankLine
from planlang.model.composing.expand import Expansion, View
from planlang.model.composing.fills import fill
from planlang.model.composing.saying import Findings
from planlang.model.composing.sheet import Sheet, sheet
from planlang.text.data import frozen
from planlang.text.source import Source

_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_UNTYPED = re.compile(r"[\x00-\x1f\x7f]")


@frozen
class Answer:
    """A `fill` line, or in words why the answer can't be taken."""

    line: str = ""
    fault: str = ""


def answer(blank: BlankLine, base: Sheet, said: str) -> Answer:
    """The line that fills a blank with what was said; a number without a unit is taken in the blank's own."""
    said = _UNTYPED.sub(" ", said).strip()
    if not said:
        return Answer(fault=f"{blank.name} needs an answer: {blank.range}.")
    if blank.text:
        if '"' in said.strip('"'):
            return Answer(fault="A text holds no double quotes.")
        words = said.strip('"').strip()
        return Answer(f'fill {blank.name} "{words}"') if words else Answer(fault=f"{blank.name} needs a text.")
    if _NUMBER.fullmatch(said) and blank.unit:
        said = blank.quantity_text(said)
    line = f"fill {blank.name} {said}"
    return Answer(line, _fault(blank, base, line))


def _fault(blank: BlankLine, base: Sheet, line: str) -> str:
    source = Source("", f'plan ""\n{line}\n')
    own = sheet(source)
    read = own.lines("fill")
    if len(read) != 1 or own.said(read[0]) != " ".join(line.split()):
        return f"That is no amount: {blank.range}."
    making = Expansion(Findings(source))
    fill(blank, own, base, read[0], View(), {}, making)
    found = next(iter(making.findings.found.values()), None)
    return f"{found.message} {found.advice}".strip() if found else ""
