"""The goal and the targets, each a FHIR Goal with its due date."""

from __future__ import annotations

from planlang.fhir.codes import GOAL_CATEGORY, measure, quantity
from planlang.fhir.context import Context
from planlang.fhir.ladders import dose
from planlang.fhir.parts import Json, concept, narrative, notes, present
from planlang.model.plan import Goal, Measuring, Target
from planlang.planning.weeks import day_of


def goals(context: Context) -> list[Json]:
    """All Goals, the plan's own goal first."""
    plan = context.plan
    made = [_goal(context, plan.goal)] if plan.goal else []
    return made + [_target(context, target, number) for number, target in enumerate(plan.targets, 1)]


def _goal(context: Context, goal: Goal) -> Json:
    said = goal.title if context.notes else "The plan's goal (its words are in the plan)"
    measured = _measured(context, goal.measured)
    because = [f"Because: {text}" for text in context.said(goal.because)]
    changed = [f"Different now: {text}" for text in context.said(*goal.changed)]
    return _resource(context, "goal", said, goal, measured, because + changed)


def _target(context: Context, target: Target, number: int) -> Json:
    kinds: list[str] = []
    aim: Json = {}
    if target.reach:
        where = f" in {target.reach_in}" if target.reach_in else ""
        reached = dose(target.reach, context.notes)
        kinds.append(f"reach {reached}{where}")
        aim = {"measure": concept(f"dose reached{where}"), "detailString": reached}
    if target.keep is not None:
        often = f" {target.keep_days} days a week" if target.keep_days else ""
        habit = f'"{target.keep}"' if context.notes else "a habit"
        kinds.append(f"keep {habit}{often}")
        aim = aim or {"measure": concept("days a week on which the habit was kept"), **_days(target.keep_days)}
    if target.do is not None:
        kinds.append(f'do "{target.do}"' if context.notes else "do something once")
    measured = _measured(context, target.measured)
    if target.measured and measured:
        kinds.append(_measured_words(target.measured))
    what = "; ".join(kinds)
    said = (target.title if context.notes else f"Target {number}") + (f": {what}" if what else "")
    because = [f"Because: {text}" for text in context.said(target.because)]
    return _resource(context, "target", said, target, measured or aim, because)


def _days(days: int | None) -> Json:
    return {"detailInteger": days} if days else {"detailString": "every day"}


def _measured(context: Context, measured: Measuring | None) -> Json:
    """Where to with a measure; nothing of one that the plan marks as private, unless its words go along."""
    if measured is None:
        return {}
    baseline = context.plan.today.measure(measured.measure)
    if baseline and baseline.private and not context.notes:
        return {}
    known = context.plan.catalogue.measure(measured.measure)
    unit = known.unit if known and known.unit and not known.unit.startswith("/") else ""
    return {"measure": measure(measured.measure), "detailQuantity": quantity(measured.to, unit)}


def _measured_words(measured: Measuring) -> str:
    return f"{measured.measure} from {measured.start} to {measured.to}"


def _resource(context: Context, kind: str, said: str, goal: Goal | Target, aim: Json, texts: list[str]) -> Json:
    due = day_of(context.plan, goal.by)
    target = {**aim, **({"dueDate": due.isoformat()} if due else {})}
    starts, written = context.plan.starts, context.plan.written
    by = [f"By {due.isoformat()}."] if due else []
    return present(
        {
            "resourceType": "Goal",
            "id": context.identity("Goal", kind, goal.title),
            "text": narrative([f"{said}.", *by, *texts]),
            "lifecycleStatus": "active",
            "category": [
                {
                    "coding": [{"system": GOAL_CATEGORY, "code": "physiotherapy", "display": "Physiotherapy"}],
                    "text": "the goal" if kind == "goal" else "a target on the way",
                }
            ],
            "description": concept(said),
            "subject": context.patient,
            "startDate": starts.isoformat() if starts else None,
            "target": [target] if target else [],
            "statusDate": written.isoformat() if written else None,
            "note": notes(texts),
        }
    )
