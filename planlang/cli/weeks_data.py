"""A reckoned plan as JSON data; its fields are promised to scripts."""

from __future__ import annotations

from typing import Any

from planlang.cli.console import number
from planlang.model.dose import SizeKind
from planlang.model.show import dose_text
from planlang.planning.week import Done, Sitting, Week, Weeks

_IN_SETS = (SizeKind.REPS, SizeKind.TIMED_SETS, SizeKind.OPEN)


def as_data(weeks: Weeks) -> dict[str, Any]:
    """The object of `weeks --json`, but for its findings."""
    plan = weeks.plan
    return {
        "plan": plan.title,
        "starts": plan.starts.isoformat() if plan.starts else None,
        "dropped": weeks.dropped,
        "weeks": [_week(week, weeks) for week in weeks.weeks],
    }


def _week(week: Week, weeks: Weeks) -> dict[str, Any]:
    return {
        "week": week.number,
        "starts": week.starts.isoformat(),
        "kind": week.kind.value,
        "training_week": week.training_week,
        "exercises": {name: _exercise(done, weeks) for name, done in week.exercises.items()},
        "activities": {name: _activity(done, weeks) for name, done in week.activities.items()},
        "sessions": [_sitting(sitting) for sitting in week.sittings],
        "minutes": number(week.minutes),
        "sets": dict(week.sets),
        "load": None if week.load is None else number(week.load),
    }


def step_number(done: Done) -> int | None:
    """The step as people count: from 1, the easier step 0, None for what stands on no step."""
    return None if done.step is None else done.step + 1


def _exercise(done: Done, weeks: Weeks) -> dict[str, Any]:
    return {
        "step": step_number(done),
        **_dose(done, weeks),
        "variant": done.dose.variant,
        "easing": done.easing,
        "lighter": done.lighter,
        "gentle": done.gentle,
    }


def _dose(done: Done, weeks: Weeks) -> dict[str, Any]:
    if done.dose.to_be_set:
        measured = done.dose.measured
        return {"dose": None, "set_at": done.dose.set_at if measured is None else measured.week}
    return {"dose": dose_text(done.dose, weeks.plan.today, done.name)}


def _activity(done: Done, weeks: Weeks) -> dict[str, Any]:
    size = done.dose.size
    answer: dict[str, Any] = {"step": step_number(done)}
    if done.dose.to_be_set:
        answer |= {"value": None, "unit": None, **_dose(done, weeks)}
    elif size is None or size.kind in _IN_SETS or len(size.amounts) > 1:
        answer |= _dose(done, weeks)
    else:
        answer |= {"value": number(size.amounts[0].low), "unit": size.unit}
        if size.bout:
            answer |= _dose(done, weeks)
    at_most = None if done.at_most is None else number(done.at_most)
    return {**answer, "easing": done.easing, "lighter": done.lighter, "at_most": at_most}


def _sitting(sitting: Sitting) -> dict[str, Any]:
    return {
        "name": sitting.name,
        "starts": sitting.starts.isoformat() if sitting.starts else None,
        "ends": sitting.ends.isoformat() if sitting.ends else None,
        "minutes": sitting.minutes,
        "exercises": list(sitting.exercises),
        "day": sitting.day.isoformat(),
        "count": sitting.count,
        "visit": sitting.visit,
    }
