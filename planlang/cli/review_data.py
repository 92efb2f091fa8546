"""A review as the data of `review --json`."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

from planlang.cli.console import number
from planlang.cli.leeway_data import target_data
from planlang.model.diary import Entry
from planlang.planning.review.data import Attained, Change, ExerciseStands, Review, Tally, TargetStands, WeekHeld

NOTHING: dict[str, Any] = {
    "plan": None,
    "as_of": None,
    "flags": [],
    "sessions": {"done": 0, "due": 0, "blank": 0},
    "rest": {"taken": 0, "left": 0},
    "exercises": [],
    "measures": [],
    "targets": [],
    "goal_score": None,
    "ask": [],
}
"""What is said of a plan that can't be reckoned, in the fields that are fixed for scripts."""


def as_data(review: Review) -> dict[str, Any]:
    """One object: the fields that are fixed for scripts first, then further ones."""
    past, said = review.past, review.news
    return {
        "plan": past.plan.title,
        "as_of": review.as_of.isoformat(),
        "flags": [_entry(one) for one in said.open],
        "sessions": {
            **_tally(review.tally),
            "by_session": [{"name": name, **_tally(one)} for name, one in review.sessions],
            "by_block": [
                {"first_week": b.first, "last_week": b.last, **_tally(b.tally), "easier_weeks": b.easier}
                for b in review.blocks
            ],
        },
        "rest": {"taken": review.rest_taken, "left": review.rest_left},
        "exercises": [_exercise(one) for one in review.exercises],
        "measures": [_change(one) for one in review.changes],
        "targets": [_target(one) for one in review.targets],
        "goal_score": None if review.t_score is None else round(review.t_score, 1),
        "ask": list(review.ask),
        "decide": review.decide,
        "next": None if review.next_date is None else {"date": _day(review.next_date[0]), "what": review.next_date[1]},
        "last_entry": _day(said.last_entry),
        "since": _day(said.since),
        "answered": [_entry(one) for one in said.answered],
        "falls": [_entry(one) for one in said.falls],
        "gave_way": [_entry(one) for one in said.gave_way],
        "new": [_entry(one) for one in said.new],
        "worries": [_entry(one) for one in said.worries],
        "goal": past.plan.goal and past.plan.goal.title,
        "confidence": {
            "then": _number(review.confidence.then),
            "now": _number(review.confidence.now),
            "on": _day(review.confidence.on),
        },
        "weeks": [_week(one) for one in review.weeks],
        "pain": _pain(review),
        "goals_scored": [_attained(one) for one in review.attained],
        "rules": review.ran.rules,
        "not_judged": list(review.ran.not_judged),
        "next_block": review.proposal,
    }


def _tally(one: Tally) -> dict[str, int]:
    return {"done": one.done, "due": one.due, "blank": one.blank, "part": one.part, "not_done": one.not_done}


def _entry(one: Entry) -> dict[str, Any]:
    return {"date": _day(one.day), "what": one.what.value, "name": one.name, "text": one.text, "by": one.by}


def _exercise(one: ExerciseStands) -> dict[str, Any]:
    found = one.next
    return {
        "name": found.name,
        "step": _step(found.step),
        "next": found.next.value,
        "why": found.why,
        "steps": one.steps,
        "dose": one.dose,
        "next_step": _step(found.ahead),
        "next_dose": one.ahead,
        "condition": found.ask,
    }


def _step(step: int | None) -> int | None:
    """Steps are numbered from 1; the easier one is 0."""
    return None if step is None else step + 1


def _change(one: Change) -> dict[str, Any]:
    return {
        "name": one.name,
        "from": _number(one.start),
        "to": _number(one.to),
        "error": _number(one.error),
        "beyond_error": one.beyond,
        "unit": one.unit,
        "on": _day(one.on),
        "better": one.better,
        "source": one.source,
    }


def _target(one: TargetStands) -> dict[str, Any]:
    best = None if one.best is None else {"week": one.best[0], "days": one.best[1]}
    return {**target_data(one.standing, one.chance), "met": _day(one.met), "most_kept": best}


def _week(one: WeekHeld) -> dict[str, Any]:
    return {
        "week": one.number,
        "starts": _day(one.starts),
        "kind": one.kind.value,
        **_tally(one.tally),
        "ahead": one.tally.ahead,
        "extra": one.extra,
        "reasons": list(one.reasons),
        "minutes": one.minutes,
        "load": _number(one.load),
        "rated": one.rated,
    }


def _pain(review: Review) -> dict[str, Any]:
    found = review.pain
    return {
        "usual": _number(found.limit.usual),
        "limit": _number(found.limit.during),
        "mornings": [{"date": _day(day), "pain": _number(value)} for day, value in found.mornings],
        "flare_now": found.flare is not None,
        "flares_told": [{"first": _day(f.first), "days": f.days, "over": f.over} for f in found.told],
        "flares_by_pain": [{"first": _day(first), "last": _day(last)} for first, last in found.counted],
    }


def _attained(one: Attained) -> dict[str, Any]:
    return {"name": one.title, "level": one.level, "value": _number(one.value), "on": _day(one.on)}


def _number(value: Fraction | None) -> int | float | None:
    return None if value is None else number(value)


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None
