"""A plan's weeks for what is given to its person: as planned, with the easier weeks of --rest, or as a diary tells."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import click

from planlang.cli.console import findings_data
from planlang.cli.refusing import looked_back
from planlang.text.data import frozen

if TYPE_CHECKING:
    from planlang.cli.refusing import Case
    from planlang.planning.past import Past
    from planlang.planning.week import Weeks
    from planlang.report.result import Result


@frozen
class Reckoned:
    """The weeks; with a diary also what it says of them, and what was found in it."""

    weeks: Weeks
    past: Past | None = None
    told: Result | None = None

    def findings(self) -> list[dict[str, Any]]:
        """What was found in the diary, as JSON data."""
        return findings_data(self.told) if self.told else []


def reckoned(case: Case, rest: str, diary: str | None, today: date | None) -> Reckoned | Result:
    """The weeks of a plan, or what stands against giving anything out. Both options at once are a wrong call."""
    from planlang.planning.reckon import reckon

    if diary is None:
        return Reckoned(reckon(case.plan(), case.placed(rest)))
    if rest:
        raise click.UsageError("--rest and --diary both say where easier weeks fell: give one of them")
    past, told = looked_back(case, diary, today)
    return told if past is None else Reckoned(past.weeks, past, told)
