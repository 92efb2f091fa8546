"""What is to be done: a FHIR ServiceRequest for each session, each activity, and what goes on in easier weeks."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from fractions import Fraction

from planlang.fhir.codes import UCUM, UNITS, number
from planlang.fhir.context import Context
from planlang.fhir.ladders import dose, ladder
from planlang.fhir.parts import Json, concept, narrative, notes, period, present, reference
from planlang.fhir.phases import Phase, phases
from planlang.fhir.timing import timing
from planlang.model.exercise import Exercise, WarmUp
from planlang.model.rest import StillDo
from planlang.planning.week import Weeks

WEEK = timedelta(weeks=1)
EASIER = "an easier week, taken when a flare comes"


def requests(context: Context, care_plan: str) -> list[Json]:
    """All ServiceRequests, based on the care plan of that identity."""
    plan = context.plan
    made = [_session(context, care_plan, phase) for phase in phases(context.weeks)]
    in_sessions = {name for session in plan.sessions for name in session.do}
    for exercise in plan.exercises:
        if exercise.activity and exercise.name not in in_sessions:
            made += _activity(context, care_plan, exercise)
    for one in plan.rest.still_do if plan.rest else ():
        made.append(_still_do(context, care_plan, one))
    return made


def _session(context: Context, care_plan: str, phase: Phase) -> Json:
    session, plan = phase.session, context.plan
    begun = {name for s in phase.sittings for name in s.exercises}
    names = [name for name in session.do if name in begun]
    place = next(i for i, s in enumerate(plan.sessions, 1) if s is session)
    called = f'"{session.name}"' if context.notes else f"{place}"
    what = ", ".join(names) or "a visit or a call, nothing to do beforehand"
    found = [(name, plan.exercise(name)) for name in names]
    return _resource(
        context,
        care_plan,
        context.identity("ServiceRequest", "session", session.name),
        f"Exercise session {called}: {what}",
        [ladder(exercise, context.notes) if exercise else name for name, exercise in found] + _round(context, phase),
        occurrenceTiming=timing(phase, plan.zone),
        locationCode=[concept(session.place)] if context.notes and session.place else None,
        patientInstruction="\n".join(_instructions(context, phase, [e for _, e in found if e])),
    )


def _round(context: Context, phase: Phase) -> list[str]:
    """What stands round the exercises."""
    session = phase.session
    said = []
    for name, part in (("warm-up", session.warm_up), ("cool-down", session.cool_down)):
        if part:
            said.append(f"{name} {_part(part, context.notes)}")
    if session.rounds > 1:
        said.append(f"{session.rounds} rounds")
    if session.between:
        said.append(f"resting {session.between} between exercises")
    if session.max_visits:
        said.append(f"at most {session.max_visits} visits")
    return said


def _part(part: WarmUp, notes: bool) -> str:
    effort = f" at effort {part.effort}/{part.scale}" if part.effort and part.scale else ""
    return f"{number(part.minutes)} min{effort}" + (f" ({part.text})" if notes and part.text else "")


def _instructions(context: Context, phase: Phase, exercises: list[Exercise]) -> Iterator[str]:
    """The plan's own words for the person, where they go along."""
    session = phase.session
    yield from (f"When: {text}" for text in context.said(session.cue))
    kit = [k.text + (f" (from step {k.from_step})" if k.from_step else "") for k in session.kit]
    if context.notes and kit:
        yield f"Have ready: {'; '.join(kit)}"
    yield from _how(context, exercises)


def _how(context: Context, exercises: list[Exercise]) -> Iterator[str]:
    for exercise in exercises:
        yield from (f"{exercise.name}: {text}" for text in context.said(exercise.how, exercise.careful))


def _activity(context: Context, care_plan: str, exercise: Exercise) -> Iterator[Json]:
    """An activity that stands in no session; nothing of one that the plan never comes to."""
    done = [week for week in context.weeks.weeks if exercise.name in week.activities]
    if not done:
        return
    bounds = {"boundsPeriod": period(done[0].starts, done[-1].starts + WEEK - timedelta(days=1))}
    size = exercise.steps[0].dose.size
    if exercise.weekly:
        bout = size.bout if size else None
        length = {"duration": number(bout.value), "durationUnit": UNITS[bout.unit]} if bout else {}
        rule, said = length, "so much in a week, on days that the person chooses"
    else:
        rule, said = _a_day(exercise)
    yield _resource(
        context,
        care_plan,
        context.identity("ServiceRequest", "activity", exercise.name),
        f"Activity: {exercise.name}",
        [ladder(exercise, context.notes)],
        quantityRange=_amounts(exercise),
        occurrenceTiming={"repeat": {**bounds, **rule}, "code": concept(said)},
        patientInstruction="\n".join(_how(context, [exercise])),
    )


def _a_day(exercise: Exercise) -> tuple[Json, str]:
    times = [step.dose.times_a_day for step in exercise.steps if step.dose.times_a_day]
    low = min((int(t.low) for t in times), default=1)
    high = max((int(t.high) for t in times), default=1)
    rule: Json = {"frequency": low, "period": 1, "periodUnit": "d"}
    if high > low:
        rule["frequencyMax"] = high
    return rule, "every day" if high == 1 else f"{low} to {high} times a day" if high > low else f"{low} times a day"


def _amounts(exercise: Exercise) -> Json | None:
    """From the least to the most that the ladder asks, where each step is one amount of the same unit."""
    if not (exercise.daily or exercise.weekly):
        return None
    sizes = [step.dose.size for step in exercise.steps if step.dose.size and len(step.dose.size.amounts) == 1]
    units = {size.unit for size in sizes}
    if len(sizes) < len(exercise.steps) or len(units) != 1:
        return None
    unit = units.pop()
    return {
        "low": _simple(min(size.amounts[0].low for size in sizes), unit),
        "high": _simple(max(size.amounts[0].high for size in sizes), unit),
    }


def _simple(value: Fraction, unit: str) -> Json:
    return {"value": number(value), "unit": unit, "system": UCUM, "code": UNITS[unit]}


def _still_do(context: Context, care_plan: str, one: StillDo) -> Json:
    times = one.dose.times_a_day
    repeat: Json = {"frequency": max(int(times.low), 1) if times else 1, "period": 1, "periodUnit": "d"}
    if times and times.high > times.low:
        repeat["frequencyMax"] = int(times.high)
    exercise = context.plan.exercise(one.name)
    return _resource(
        context,
        care_plan,
        context.identity("ServiceRequest", "easier week", one.name),
        f"In an easier week, gently: {one.name}",
        [f"{one.name}: {dose(one.dose, context.notes)}"],
        asNeededCodeableConcept=concept(EASIER),
        occurrenceTiming={"repeat": repeat},
        patientInstruction="\n".join(_how(context, [exercise] if exercise else [])),
    )


def _resource(context: Context, care_plan: str, identity: str, code: str, details: list[str], **parts: object) -> Json:
    """A ServiceRequest; the ladders stand in `orderDetail`, which needs a `code` (R4, prr-1)."""
    plan = context.plan
    said = parts.get("occurrenceTiming")
    when = said.get("code", {}).get("text", "") if isinstance(said, dict) else ""
    told = parts.get("patientInstruction")
    lines = [f"{code}.", when, *details, *(str(told).splitlines() if told else [])]
    return present(
        {
            "resourceType": "ServiceRequest",
            "id": identity,
            "text": narrative(line for line in lines if line),
            "basedOn": [reference(care_plan)],
            "status": context.status,
            "intent": "plan",
            "category": [concept("Exercise")],
            "code": concept(code),
            "orderDetail": [concept(text) for text in details],
            "subject": context.patient,
            "authoredOn": plan.written.isoformat() if plan.written else None,
            "performer": [context.patient],
            "note": notes(()),
            **parts,
        }
    )


def sessions_held(weeks: Weeks) -> int:
    """How many sessions the plan has where no rest falls."""
    return sum(sitting.count for week in weeks.weeks for sitting in week.sittings)
