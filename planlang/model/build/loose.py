"""The lines that may stand anywhere: agreement, signs, away, tasks, reviews, waivers."""

from __future__ import annotations

from typing import Any

from planlang.model.build import people, resting
from planlang.model.build.context import Context, texts
from planlang.model.build.goals import when
from planlang.model.plan import Away, Pause, Prepare, Review, Waiver
from planlang.syntax.nodes import Statement


def loose_lines(lines: list[Statement], context: Context) -> dict[str, Any]:
    """The fields of Plan that stand anywhere."""
    named: dict[str, list[Statement]] = {}
    for line in lines:
        named.setdefault(line.name, []).append(line)
    for name in ("agreed", "pause_all"):
        for other in named.get(name, [])[1:]:
            context.contradicts(f"`{other.tokens[0]}` is said twice.", other.span, "Keep one.", named[name][0].span)
    agreements = [a for a in (people.agreed(line, context) for line in named.get("agreed", [])[:1]) if a]
    pauses = [p for p in (_pause(line, context) for line in named.get("pause_all", [])[:1]) if p]
    signs = sorted(named.get("stop", []) + named.get("not_today", []), key=lambda s: s.span)
    reviews = sorted(named.get("review_every", []) + named.get("review_at", []), key=lambda s: s.span)
    return {
        "agreed": agreements[0] if agreements else None,
        "tells": tuple(line.text() for line in named.get("tell", [])),
        "away": tuple(a for a in (_away(line, context) for line in named.get("away", [])) if a),
        "signs": tuple(resting.sign(line) for line in signs),
        "signs_left_out": tuple(resting.sign_left_out(line, context) for line in named.get("leave_sign", [])),
        "prepares": tuple(_prepare(line, context) for line in named.get("prepare", [])),
        "reviews": tuple(_review(line, context) for line in reviews),
        "after": tuple(line.text() for line in named.get("after", [])),
        "pause": pauses[0] if pauses else None,
        "waivers": tuple(_waiver(line, context) for line in named.get("waive", [])),
    }


def _away(line: Statement, context: Context) -> Away | None:
    first, last = (context.date(t) for t in line.all("DATE"))
    if first is None or last is None:
        return None
    if last < first:
        context.contradicts(f"Away from {first} to {last} runs backwards.", line.span, f"Write {last} to {first}.")
        first, last = last, first
    session = next((i for i, t in enumerate(line.tokens) if t.type == "_SESSION"), None)
    said = texts(line.all("STRING"))
    named = said[-1] if session is not None else None
    why = said[0] if len(said) > (1 if named else 0) else None
    return Away(first, last, why, named, line.span)


def _prepare(line: Statement, context: Context) -> Prepare:
    node = line.node("when")
    return Prepare(line.text(), when(node, context) if node else None, line.span)


def _review(line: Statement, context: Context) -> Review:
    if line.name == "review_every":
        return Review(every_weeks=context.count(line.all("NUMBER")[0], 1), span=line.span)
    days = (when(node, context) for node in line.parts if getattr(node, "data", "") == "when")
    return Review(at=tuple(d for d in days if d), span=line.span)


def _pause(line: Statement, context: Context) -> Pause | None:
    day = context.date(line.all("DATE")[0])
    said = texts(line.all("STRING"))
    return Pause(day, said[0] if said else None, line.span) if day else None


def _waiver(line: Statement, context: Context) -> Waiver:
    because, by, until = resting.reasons(line, context)
    return Waiver(str(line.all("NAME")[0]), by, because, context.date(until) if until is not None else None, line.span)
