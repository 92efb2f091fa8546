"""The plan's own lines, screening, agreement, and where the person is today."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from attrs import evolve

from planlang.model.build.context import Context, place, span_of, texts
from planlang.model.build.lines import Lines
from planlang.model.build.training import joints
from planlang.model.plan import (
    Agreed,
    Baseline,
    Condition,
    JointState,
    Limit,
    Operation,
    Screening,
    Tested,
    Today,
)
from planlang.syntax.nodes import Statement

MOST_WEEKS = 520
"""Ten years: a longer plan is a slip, or wants blocks that follow one another."""

_STATE = {"HOT": "hot", "SWOLLEN": "swollen", "BEING_CHECKED": "being checked"}
_FLOOR = {"UP_ALONE": "gets up alone", "UP_WITH_HELP": "gets up with help", "CANNOT": "cannot"}
_BONES = {"NO_FRAGILITY": "no known fragility", "FRAGILE": "fragile", "FRACTURE": "fracture"}


def plan_lines(lines: Lines, context: Context) -> dict[str, Any]:
    """The fields of Plan that stand in the plan block."""
    said: dict[str, Any] = {"places": lines.places}
    person, about = lines.one("for_person"), lines.one("about")
    if person:
        said["code"] = str(person.all("CODE")[0])
        aged = person.all("NUMBER")
        said["aged"] = context.count(aged[0]) if aged else None
    if about:
        said["about"] = tuple(_condition(n) for n in about.parts if getattr(n, "data", "") == "condition")
    said |= _start(lines, context)
    last = lines.one("lasts")
    if last:
        weeks = context.count(last.all("NUMBER")[0], 1)
        if weeks > MOST_WEEKS:
            context.cannot_reckon(
                f"A plan of {weeks} weeks is too long to reckon.",
                last.span,
                f"At most {MOST_WEEKS} weeks; follow it with a next block.",
            )
        said["weeks"] = min(weeks, MOST_WEEKS)
    for name, kind, fieldname in (("zone", "ZONE_NAME", "zone"), ("language", "NAME", "language")):
        line = lines.one(name)
        if line:
            said[fieldname] = str(line.all(kind)[0])
    written, revision = lines.one("written"), lines.one("revision")
    if written:
        said["written"] = context.date(written.all("DATE")[0])
    if revision:
        said["revision"] = context.count(revision.all("NUMBER")[0])
    said["draft"] = lines.one("state") is not None
    said["continues"] = lines.text("continues")
    said["operations"] = _operations(lines, context)
    said["joints"] = tuple(s for line in lines.many("joints") for s in _joint_states(line, context))
    return said


def _start(lines: Lines, context: Context) -> dict[str, Any]:
    line = lines.one("starts")
    if line:
        return {"starts": context.date(line.all("DATE")[0])}
    line = lines.one("starts_after")
    if not line:
        return {}
    event = context.date(line.all("DATE")[0])
    if event is None:
        return {}
    weeks = context.count(line.all("NUMBER")[0])
    days = weeks if line.token("DAY") else weeks * 7
    said = texts(line.all("STRING"))
    try:
        starts = event + timedelta(days=days)
    except OverflowError:
        context.cannot_read(
            "This start lies past the end of the calendar.", line.span, "Check the number and the date."
        )
        return {}
    return {"starts": starts, "starts_after": (days, event, said[0] if said else None)}


def _condition(node: Any) -> Condition:
    words = [str(t) for t in node.children if t.type == "NAME"]
    side = next((str(t) for t in node.children if t.type == "SIDE"), None)
    return Condition(" ".join(words), side, span_of(node))


def _operations(lines: Lines, context: Context) -> tuple[Operation, ...]:
    made: list[Operation] = []
    for line in lines.many("operation", "weight_bearing", "limits"):
        if line.name == "operation":
            day = context.date(line.all("DATE")[0])
            side = line.token("SIDE")
            if day:
                made.append(Operation(day, line.text(), str(side) if side else None, span=line.span))
            continue
        if not made:
            context.contradicts(
                f"`{line.tokens[0]}` belongs to an operation, and none stands above it.",
                line.span,
                "Write the `operation` line first.",
            )
        elif line.name == "weight_bearing":
            if made[-1].weight_bearing is not None:
                context.contradicts("Weight-bearing is said twice for this operation.", line.span, "Keep one.")
            words = " ".join(str(t).strip('"') for t in line.tokens[1:])
            made[-1] = evolve(made[-1], weight_bearing=words)
        else:
            made[-1] = evolve(made[-1], limits=(*made[-1].limits, _limit(line, context)))
    return tuple(made)


def _limit(line: Statement, context: Context) -> Limit:
    said = texts(line.all("STRING"))
    until = line.all("DATE")
    return Limit(said[0], context.date(until[0]) if until else None, said[1] if len(said) > 1 else None, line.span)


def _joint_states(line: Statement, context: Context) -> list[JointState]:
    state = line.token(*_STATE)
    if state is None:
        context.contradicts(
            "This joint's state is missing.",
            line.span,
            "Write `hot`, `swollen` or `being checked` after it.",
            harmful=False,
        )
        return []
    return [JointState(j, _STATE[state.type], line.span) for j in joints(line, context)]


def screening(lines: Lines, context: Context) -> Screening | None:
    """The screening block; None where its date makes no sense."""
    header = lines.block.header
    assert header is not None
    day = context.date(header.all("DATE")[0])
    if day is None:
        return None
    by, clear, falls, unsteady = (lines.one(n) for n in ("by_staff", "clear", "falls", "unsteady"))
    floor, bones, pressure, good = (lines.one(n) for n in ("floor", "bones", "blood_pressure", "good_until"))
    takes = lines.one("takes")
    numbers = [context.count(n) for n in falls.all("NUMBER")] if falls else []
    return Screening(
        day,
        by=str(by.all("CODE")[0]) if by else None,
        clear=_clear(clear) if clear else None,
        asked=_asked(lines, context),
        falls=numbers[0] if numbers else None,
        falls_months=numbers[1] if numbers else None,
        unsteady=_yes(unsteady) if unsteady else None,
        floor=next(_FLOOR[t.type] for t in floor.all(*_FLOOR)) if floor else None,
        blood_pressure=_pressure(pressure, context) if pressure else None,
        bones=next(_BONES[t.type] for t in bones.all(*_BONES)) if bones else None,
        takes=tuple(str(n) for n in takes.all("NAME")) if takes else (),
        good_until=context.date(good.all("DATE")[0]) if good else None,
        span=header.span,
        places=lines.places,
    )


def _yes(line: Any) -> str:
    return "yes" if any(getattr(t, "type", "") == "YES" for t in getattr(line, "parts", line)) else "no"


def _clear(line: Statement) -> str:
    kinds = {t.type for t in line.parts}
    if "WAITING" in kinds:
        return "waiting"
    if "NO" in kinds:
        return "no"
    return "yes for vigorous" if "VIGOROUS" in kinds else "yes for moderate" if "MODERATE" in kinds else "yes"


def _asked(lines: Lines, context: Context) -> dict[str, str]:
    line = lines.one("asked")
    answers: dict[str, str] = {}
    for node in line.parts if line else ():
        name, answer = str(node.children[0]), _yes(node.children)
        if answers.get(name, answer) != answer:
            context.contradicts(f"`{name}` is answered yes and no.", span_of(node), "Keep one answer.")
        answers[name] = answer
    return answers


def _pressure(line: Statement, context: Context) -> tuple[int, int] | None:
    token = line.all("RATING")[0]
    upper, _, lower = str(token).partition("/")
    if not (upper.isdigit() and lower.isdigit() and 40 <= int(lower[:6]) < int(upper[:6]) <= 300):
        context.cannot_read(f"{token} is no blood pressure.", place(token), "Write it like 148/88 mmHg.")
        return None
    return int(upper), int(lower)


def agreed(line: Statement, context: Context) -> Agreed | None:
    """The `agreed` line."""
    day = context.date(line.all("DATE")[0])
    calendar = line.token("FULL", "DISCREET", "NONE")
    diary = line.token("YES", "NO")
    if day is None:
        return None
    return Agreed(day, str(calendar) if calendar else None, str(diary) if diary else None, line.span)


def today(lines: Lines, context: Context) -> Today:
    """The `today` block."""
    header = lines.block.header
    assert header is not None
    weights = lines.one("weights")
    return Today(
        measures=_baselines(lines, context),
        has=tuple(t for line in lines.many("has") for t in texts(line.all("STRING"))),
        base=tuple((str(b.all("NAME")[0]), context.amount(b.all("NUMBER")[0])) for b in lines.many("base")),
        tested=tuple(_tested(line, context) for line in lines.many("tested")),
        weights=tuple(context.quantity(n, weights.token("KG", "LB")) for n in weights.all("NUMBER")) if weights else (),
        span=header.span,
        places=lines.places,
    )


def _baselines(lines: Lines, context: Context) -> tuple[Baseline, ...]:
    made: dict[str, Baseline] = {}
    for line in lines.many("baseline"):
        name = context.measure(str(line.tokens[0]))
        node = line.node("value")
        assert node is not None
        value, scale = context.value(node)
        over = line.all("NUMBER")
        one = Baseline(
            name,
            value,
            scale,
            context.count(over[0], 1) if over else None,
            line.token("PRIVATE") is not None,
            line.span,
        )
        if name in made:
            context.contradicts(f"`{name}` stands here twice.", line.span, "Keep one.", made[name].span, harmful=False)
        else:
            made[name] = one
    return tuple(made.values())


def _tested(line: Statement, context: Context) -> Tested:
    load, reps = line.all("NUMBER")
    return Tested(
        str(line.all("NAME")[0]), context.quantity(load, line.token("KG", "LB")), context.count(reps, 1), line.span
    )
