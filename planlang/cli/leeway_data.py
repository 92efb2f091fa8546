"""A leeway as the data of `leeway --json`."""

from __future__ import annotations

from datetime import date
from typing import Any

from planlang.cli.console import number
from planlang.planning.leeway.data import Assumption, Chance, Leeway, Standing

PLACES = 4


def as_data(leeway: Leeway) -> dict[str, Any]:
    """One object with the fields that are fixed for scripts; chances rounded to four places."""
    rest = leeway.rest
    return {
        "plan": leeway.plan.title,
        "as_of": _day(leeway.as_of),
        "allowance": leeway.allowance,
        "rest_used": leeway.rest_used,
        "rest_left": leeway.rest_left,
        "expect": _expect(leeway.assumption) if leeway.assumption else None,
        "enough_rest": _round(rest.enough) if rest else None,
        "rest_weeks_used": [_round(likely) for likely in rest.weeks] if rest else None,
        "room_needed": {str(share): weeks for share, weeks in rest.needed} if rest else None,
        "targets": [
            target_data(standing, chance) for standing, chance in zip(leeway.standings, leeway.chances, strict=True)
        ],
    }


def target_data(standing: Standing, chance: Chance | None) -> dict[str, Any]:
    """One target. Without chances its chance is null, and so is every `met_by`."""
    worst = standing.worst_rest
    return {
        "name": standing.target.title,
        "by": _day(standing.by),
        "verdict": standing.verdict.value,
        "reason": standing.reason,
        "earliest": _day(standing.earliest),
        "latest": _day(standing.latest),
        "worst_rest": None if worst is None else list(worst),
        "margin": standing.margin,
        "chance": None if chance is None else _round(chance.by_its_date),
        "met_by": {str(share): None if chance is None else _day(dict(chance.met_by)[share]) for share in (50, 80, 95)},
    }


def _expect(assumed: Assumption) -> dict[str, Any]:
    said: dict[str, Any] = {
        "flares": number(assumed.flares),
        "weeks": assumed.weeks,
        "lasting": number(assumed.lasting),
        "varies": assumed.varies,
        "default": assumed.default,
    }
    return {**said, "note": assumed.note} if assumed.note else said


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _round(chance: float) -> float:
    return round(chance, PLACES)
