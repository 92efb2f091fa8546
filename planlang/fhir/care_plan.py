"""The CarePlan that holds the rest together."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from planlang.fhir.cautions import cautions
from planlang.fhir.context import Context
from planlang.fhir.parts import Json, concept, narrative, notes, period, present, reference
from planlang.model.plan import Condition, Plan
from planlang.model.rest import PainLevel, Rest, Return
from planlang.planning.weeks import day_of, review_days


def care_plan(context: Context, identity: str, goals: list[Json], requests: list[Json]) -> Json:
    """The CarePlan of this identity, with its goals and what is to be done."""
    plan = context.plan
    last = plan.starts + timedelta(days=7 * (plan.weeks or 0) - 1) if plan.starts else None
    title = plan.title if context.notes else "Exercise plan"
    words = cautions(context)
    return present(
        {
            "resourceType": "CarePlan",
            "id": identity,
            "text": narrative([f"{title}, revision {plan.revision or 1}.", *words]),
            "identifier": [{"system": "urn:ietf:rfc:3986", "value": f"urn:uuid:{identity}"}],
            "status": context.status,
            "intent": "plan",
            "category": [concept("Exercise plan")],
            "title": title,
            "subject": context.patient,
            "period": period(plan.starts, last),
            "created": plan.written.isoformat() if plan.written else None,
            "addresses": [{"display": said} for said in _conditions(context)],
            "goal": [reference(goal["id"]) for goal in goals],
            "activity": [
                *({"reference": reference(request["id"])} for request in requests),
                *({"detail": present(detail)} for detail in _details(context)),
            ],
            "note": notes([*words, *_own_words(context)]),
        }
    )


def _conditions(context: Context) -> Iterator[str]:
    """What the plan is about; words that no data know are the plan's own."""
    for one in context.plan.about:
        if context.notes or context.plan.catalogue.condition(one.name):
            yield _condition(one)


def _condition(one: Condition) -> str:
    return f"{one.name}, {one.side}" if one.side else one.name


def _details(context: Context) -> Iterator[Json]:
    """What has dates or bounds of its own and is no service asked for."""
    plan = context.plan
    if plan.rest:
        yield {"code": concept("Easier weeks"), "status": "not-started", "description": easier_weeks(plan, plan.rest)}
    days = review_days(plan)
    if days:
        yield {
            "kind": "Appointment",
            "code": concept("Review"),
            "status": "not-started",
            "scheduledTiming": {"event": [day.isoformat() for day in days]},
        }
    for line in plan.away:
        if line.last >= line.first:
            yield {
                "code": concept("Sessions as usual"),
                "status": "not-started",
                "doNotPerform": True,
                "scheduledPeriod": period(line.first, line.last),
                "description": "; ".join(["Away", *context.said(line.why)]),
            }
    for prepare in plan.prepares:
        yield {
            "kind": "Task",
            "code": concept("Something to prepare"),
            "status": "not-started",
            "scheduledPeriod": period(plan.starts, day_of(plan, prepare.by)),
            "description": "; ".join(context.said(prepare.text)),
        }


def easier_weeks(plan: Plan, rest: Rest) -> str:
    """The `rest` block in one line, without its quoted words."""
    room = f"{plan.room} easier {'week' if plan.room == 1 else 'weeks'} in {plan.weeks} weeks"
    parts = [f"room for {room}" if plan.room else "no room for easier weeks"]
    for name, level in (("when", rest.starts_when), ("back when", rest.back_when)):
        said = _level(level)
        if said:
            parts.append(f"{name} {said}")
    if rest.first:
        parts.append(f"first {rest.first} as little as needed")
    parts += [_return(line) for line in rest.returns]
    if rest.lighter:
        steps = "1 step" if rest.lighter.lower == 1 else f"{rest.lighter.lower} steps"
        parts.append(f"lighter by {steps} every {rest.lighter.every} weeks")
    if rest.leave:
        parts.append(f"left out: {', '.join(rest.leave)}")
    return "; ".join(parts)


def _level(level: PainLevel | None) -> str:
    if level is None or level.text:
        return ""
    if level.usual:
        said = "pain is as usual"
    elif level.rating is not None:
        said = f"pain is {level.rating} out of 10"
    elif level.points is not None:
        said = f"pain is {level.points} points above usual"
    else:
        return ""
    return said + (f" for {level.days} {'day' if level.days == 1 else 'days'}" if level.days else "")


def _return(line: Return) -> str:
    if not line.lower:
        return "back at the same step"
    steps = "1 step" if line.lower == 1 else f"{line.lower} steps"
    weeks = "1 week" if line.weeks == 1 else f"{line.weeks} weeks"
    after = f" after {line.after} weeks" if line.after > 1 else ""
    return f"back {steps} lower for {weeks}{after}"


def _own_words(context: Context) -> Iterator[str]:
    """The plan's own words that have no place elsewhere."""
    plan = context.plan
    yield from (f"The person is told: {text}" for text in context.said(*plan.tells))
    for operation in plan.operations:
        for limit in operation.limits:
            until = f" until {limit.until.isoformat()}" if limit.until else ""
            source = f" ({limit.source})" if limit.source else ""
            yield from (f"Limit: {text}{until}{source}" for text in context.said(limit.text))
    if plan.rest:
        for name, level in (("Easier week when", plan.rest.starts_when), ("Back when", plan.rest.back_when)):
            yield from (f"{name}: {text}" for text in context.said(level.text if level else None))
        yield from (f"In an easier week, tell us if: {text}" for text in context.said(*plan.rest.tell_us_if))
    yield from (f"After this plan: {text}" for text in context.said(*plan.after))
