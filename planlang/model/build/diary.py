"""Diary lines read into entries."""

from __future__ import annotations

from datetime import date
from typing import Any

from planlang.model.build.context import Context, place
from planlang.model.build.doses import dose
from planlang.model.build.writings import writings
from planlang.model.diary import Diary, Entry, Steps, What
from planlang.model.exercise import Joint
from planlang.model.known import Catalogue
from planlang.model.quantity import Quantity
from planlang.syntax.blocks import blocks, misplaced_finding
from planlang.syntax.nodes import Script, Statement
from planlang.text.finding import Finding
from planlang.text.source import Span

WALKED = {"STEP": "steps", "MIN": "min", "KM": "km", "MILE": "mile", "METRE": "m"}
MARKS = ("mark_before", "mark_during", "mark_morning", "mark_effort", "mark_reported", "mark_by")


def diary(script: Script, catalogue: Catalogue) -> tuple[Diary | None, tuple[Finding, ...]]:
    """The diary of a script, or None where none begins in it; with what was found on the way."""
    context = Context(script.source, list(script.findings), catalogue)
    made = blocks(script)
    found = made.of("diary")
    if not found:
        if not any(b.kind == "diary" for b in made.blocks):
            context.findings.clear()  # what else its lines may be is of no use to anybody
            context.cannot_read(
                "This file holds no diary.", _first(script), "Begin with a line such as: diary for P-014"
            )
        return None, tuple(context.findings)
    for line, block in (*made.misplaced, *((line, None) for line in made.loose)):
        context.findings.append(misplaced_finding(line, block, script))
    header = found[0].header
    assert header is not None
    code = str(header.all("CODE")[0])
    for other in found[1:]:
        context.contradicts("A file holds one diary.", other.span, "Put the lines under one.", found[0].span)
    lines = [line for block in found for line in block.lines]
    entries = [e for line in lines if line.name != "steps_from" and (e := entry(line, context))]
    steps = tuple(Steps(line.text(), span=line.span) for line in lines if line.name == "steps_from")
    return (
        Diary(
            code,
            script.source,
            tuple(sorted(entries, key=in_order)),
            steps,
            bool(made.unread or made.misplaced),
            writings(script),
            catalogue,
            header.span,
        ),
        tuple(context.findings),
    )


def in_order(entry: Entry) -> tuple[Any, ...]:
    """By day, then by what is told: the order of a file's lines makes no difference."""
    return entry.day, _ORDER[entry.what], entry.name or "", entry.text or "", repr(entry)


_ORDER = {what: i for i, what in enumerate(What)}


def entry(line: Statement, context: Context) -> Entry | None:
    """One line; None where its day can't be told."""
    day = context.date(line.all("DATE")[0])
    if day is None:
        return None
    what = _what(line)
    said: dict[str, Any] = _MAKE[what](line, context) if what in _MAKE else {}
    return Entry(day, what, **{**said, **_marks(line, context)}, span=line.span)


def _what(line: Statement) -> What:
    words = line.name.removeprefix("diary_").replace("_", " ")
    return What(words)


def _marks(line: Statement, context: Context) -> dict[str, Any]:
    """What may stand at the end of any line."""
    said: dict[str, Any] = {}
    for node in line.parts:
        name = getattr(node, "data", "")
        if name not in MARKS:
            continue
        token = node.children[0]
        key = name.removeprefix("mark_")
        if key in said:
            context.contradicts(f"`{key}` is said twice here.", place(token), "Keep one.", harmful=False)
            continue
        if key == "reported":
            said[key] = context.date(token)
        elif key == "by":
            said[key] = str(token)
        else:
            scales = (10, 20) if key == "effort" else (10,)
            rating, scale = context.rating(token, scales)
            said[key] = rating.low
            if key == "effort":
                said["effort_of"] = scale
    return said


def _session(line: Statement, _: Context) -> dict[str, Any]:
    return {"name": line.text(), "names": _names(line)}


def _names(line: Statement) -> tuple[str, ...]:
    return tuple(str(n) for n in line.all("NAME"))


def _extra(line: Statement, context: Context) -> dict[str, Any]:
    name = line.token("NAME")
    node = line.node("plain_dose", "sided_dose")
    return {"name": str(name) if name else line.text(), "dose": dose(node, context) if node else None}


def _not_done(line: Statement, _: Context) -> dict[str, Any]:
    cause = line.node("cause")
    texts = line.all("STRING")
    because = {"FLARE": "flare", "ILLNESS": "illness", "LIFE": "life"}[cause.children[0].type] if cause else None
    return {"name": line.text(), "because": because, "text": line.text(1) if len(texts) > 1 else None}


def _moved(line: Statement, context: Context) -> dict[str, Any]:
    to: date | None = context.date(line.all("DATE")[1])
    return {"name": line.text(), "to": to}


def _joint(line: Statement, _: Context) -> dict[str, Any]:
    name, side = line.token("NAME"), line.token("SIDE")
    return {"joint": Joint(str(name), str(side) if side else None) if name else None}


def _text(line: Statement, _: Context) -> dict[str, Any]:
    return {"text": line.text() if line.all("STRING") else None}


def _rating(line: Statement, context: Context) -> dict[str, Any]:
    rating, scale = context.rating(line.all("RATING")[0])
    return {"value": Quantity(rating.low), "scale": scale}


def _walked(line: Statement, context: Context) -> dict[str, Any]:
    number, unit = line.all("NUMBER")[0], line.token(*WALKED)
    assert unit is not None
    context.whole(number, unit)
    return {"value": Quantity(context.number(number), WALKED[unit.type])}


def _did_exercise(line: Statement, context: Context) -> dict[str, Any]:
    node = line.node("plain_dose", "sided_dose")
    assert node is not None
    return {"name": str(line.all("NAME")[0]), "dose": dose(node, context)}


def _kept(line: Statement, context: Context) -> dict[str, Any]:
    number = line.token("NUMBER")
    days = context.count(number, 0) if number else None
    if days is not None and number is not None and days > 7:
        context.cannot_read(f"A week has no {days} days.", place(number), "Write how many of its seven days.")
        days = 7
    return {"text": line.text(), "days": days}


def _measured(line: Statement, context: Context) -> dict[str, Any]:
    name, node = line.token("NAME"), line.node("value")
    assert node is not None
    value, scale = context.value(node)
    return {"name": context.measure(str(name) if name else "pain"), "value": value, "scale": scale}


def _sign(line: Statement, _: Context) -> dict[str, Any]:
    return {"name": str(line.all("NAME")[0]), "text": line.text() if line.all("STRING") else None}


def _new(line: Statement, _: Context) -> dict[str, Any]:
    return {"name": "medicine" if line.token("MEDICINE") else "operation", "text": line.text()}


_MAKE = {
    What.DONE: _session,
    What.PART: _session,
    What.EXTRA: _extra,
    What.NOT_DONE: _not_done,
    What.MOVED: _moved,
    What.REST: _joint,
    What.FLARE: _joint,
    What.ILLNESS: _text,
    What.PAUSE: _text,
    What.PAIN: _rating,
    What.MORNING: _rating,
    What.WALKED: _walked,
    What.DID: _text,
    What.DID_EXERCISE: _did_exercise,
    What.KEPT: _kept,
    What.MEASURED: _measured,
    What.TOLD: _text,
    What.ACTED: _text,
    What.SIGN: _sign,
    What.FELL: _text,
    What.GAVE_WAY: _text,
    What.CONFIDENCE: _rating,
    What.WORRY: _text,
    What.NOTE: _text,
    What.NEW: _new,
}


def _first(script: Script) -> Span:
    return script.lines[0].span if script.lines else Span(0, min(1, len(script.source.text)))
