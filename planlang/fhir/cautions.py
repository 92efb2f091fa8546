"""What always stands beside a plan in a record: whose judgement it is, what was left out, what the person was told."""

from __future__ import annotations

from attrs import evolve

from planlang.fhir.context import Context
from planlang.planning.telling.standing import checks_first, flare_line, help_lines, pain_line, version_line
from planlang.planning.telling.telling import Telling
from planlang.text.languages.words import in_english

JUDGEMENT = (
    "This plan supports a clinician's judgement and does not replace it. Local rules and licensed practice come first. "
    "No finding does not mean safe. Free text is not understood."
)
LEFT_OUT = "The plan's own words (goal, reasons, instructions, how each exercise is done) are not in this record."


def cautions(context: Context) -> list[str]:
    """The notes of a care plan, in English; what the plan itself adds to them only where its words go along."""
    plan = context.plan
    weeks = context.weeks if context.notes else evolve(context.weeks, plan=evolve(plan, signs=()))
    told = Telling(weeks, context.contacts, in_english())
    day = plan.starts
    lines = [JUDGEMENT]
    if not context.notes:
        lines.append(LEFT_OUT + _own_signs(len(plan.signs)))
    if plan.room:
        lines.append("The dates hold for no easier week taken; each one moves what comes after it by a week.")
    if day is None:
        return lines
    said = [
        pain_line(told),
        flare_line(told, day),
        *checks_first(told),
        *help_lines(told, day),
        version_line(told, day),
    ]
    return [*lines, *(f"The person is told: {line}" for line in said)]


def _own_signs(count: int) -> str:
    if count == 0:
        return ""
    which = "1 more sign" if count == 1 else f"{count} more signs"
    return f" It names {which} to stop for or to check before beginning: read them there."
