"""The lines that stand on what a person reads: pain, flare, when to get help, which version, whose advice."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from planlang.model.carried import carried, new_replacement
from planlang.model.plan import Plan
from planlang.model.quantity import Quantity, number_text
from planlang.model.records import Sign
from planlang.model.rest import PainLevel
from planlang.model.say import day_text
from planlang.planning.telling.course import Course
from planlang.planning.weeks import review_days
from planlang.text.data import frozen

ACCEPTED = Fraction(
    5
)  # out of 10; printed where a plan has no pain block (pain-model-zones, see rule pain-rule-missing)
SCALE = 10
SMALL = re.compile(
    r"a|an|the|and|or|of|in|on|to|at|all|out|you|your|it|is|are|with|than|more|far|will|not|take|cannot|can|that|this"
    r"|any|has|have|when|very|new|newly|joint|knee|hip|leg"
)


@frozen
class Contacts:
    """Whom to call, as the clinic's own file gives it; absent numbers are said in words, never guessed."""

    emergency: str | None = None
    same_day: str | None = None
    clinic: str | None = None

    @property
    def us(self) -> str:
        """How to reach the clinic."""
        return self.clinic or "number on your sheet"


def settle_words(plan: Plan) -> tuple[str, str]:
    """By when pain is back to usual: said before a session, and said looking back on the last one."""
    settle = plan.pain.settle if plan.pain else None
    if plan.pain and plan.pain.settle_by_morning:
        return "by next morning", "next morning"
    if settle is None or settle == Quantity(Fraction(24), "h") or settle == Quantity(Fraction(1), "day"):
        return "by tomorrow", "next morning"
    within = f"within {number_text(settle.value)} hours" if settle.unit == "h" else f"within {settle}"
    return within, within


def limit_words(plan: Plan) -> tuple[str, str]:
    """How much pain is accepted, and how to say that it was more."""
    pain = plan.pain
    accept = pain.accept if pain else ACCEPTED
    rise = pain.rise if pain else None
    if accept is None and rise is None:
        accept = ACCEPTED
    most, over = [], []
    if accept is not None:
        most.append(f"up to {number_text(accept)} out of {SCALE}")
        over.append(f"went over {number_text(accept)} out of {SCALE}")
    if rise is not None:
        points = f"{number_text(rise)} {'point' if rise == 1 else 'points'} above your usual"
        most.append(f"no more than {points}" if most else f"up to {points}")
        over.append(f"went more than {points}")
    return ", and ".join(most) + ("," if len(most) > 1 else ""), " or ".join(over)


def pain_line(plan: Plan) -> str:
    """The pain rule."""
    most, _ = limit_words(plan)
    return (
        f"Pain {most} is fine if it is back to usual {settle_words(plan)[0]}. Sore muscles for a day or two are normal."
    )


def flare_line(plan: Plan, course: Course, contacts: Contacts, day: date) -> str:
    """What to do in a flare, with the room that is left; for a new replacement: call first."""
    replaced = new_replacement(plan, day)
    if replaced:
        return replaced.flare
    room, taken = plan.room, course.rest_taken(day)
    if room == 0:
        return f"A flare? Go easier, and call us: {contacts.us}."
    if taken == 0:
        return f"A flare? Take an easier week whenever you need one. The plan has room for {room}."
    if taken < room:
        return f"A flare? Take an easier week whenever you need one. {taken} of {room} easier weeks taken."
    return f"A flare? Take an easier week all the same. The dates then need to move: call us, {contacts.us}."


def help_lines(plan: Plan, contacts: Contacts, day: date) -> list[str]:
    """When to stop and whom to call: the urgent signs in one line, then what the plan itself adds."""
    signs = [s for s in carried(plan, day) if s.short]
    whom = _whom(contacts)
    lines = []
    urgent = [s.short for s in signs if s.do == "emergency" and s.short]
    soon = [s.short for s in signs if s.do == "today" and s.short]
    if urgent or soon:
        first = f"{'; '.join(urgent)}: {whom['emergency']}." if urgent else ""
        then = f"{_listed(soon)}: {whom['today']}." if soon else ""
        lines.append(" ".join(part for part in ("Stop and get help:", first, then, "More on your sheet.") if part))
    for own in plan.signs:
        known = [s for s in signs if s.do == "emergency" or own.action == "today"]
        if not own.before and (own.action == "tell us" or not _said_already(own.text, known)):
            lines.append(f"Stop if: {own.text}. Then {whom[own.action]}.")
    return lines


def checks_first(plan: Plan, contacts: Contacts) -> list[str]:
    """What the plan asks to be looked at before beginning."""
    return [f"Check first. Not today if: {s.text}. Then {_whom(contacts)[s.action]}." for s in plan.signs if s.before]


def _whom(contacts: Contacts) -> dict[str, str]:
    return {
        "emergency": f"emergency number {contacts.emergency}" if contacts.emergency else "your local emergency number",
        "today": "be seen today" + (f", {contacts.same_day}" if contacts.same_day else ""),
        "tell us": f"call us, {contacts.us}",
    }


def _listed(parts: list[str]) -> str:
    text = "; ".join(parts[:-1]) + ("; or " if len(parts) > 1 else "") + parts[-1]
    return text[:1].upper() + text[1:]


def _said_already(text: str, signs: Iterable[Sign]) -> bool:
    """True where every word of the plan's own sign stands in the carried ones; in doubt it is said again."""
    said = {word for s in signs for word in _stems(f"{s.words} {s.short}")}
    return _stems(text) <= said


def _stems(text: str) -> set[str]:
    words = re.findall(r"[^\W\d_]+", text.lower())
    return {re.sub(r"(s|ed|ing|less|lessness|ness)$", "", word)[:6] for word in words if not SMALL.fullmatch(word)}


def version_line(plan: Plan, day: date) -> str:
    """Which plan this is, until when it holds, and whose advice it supports."""
    written = f"of {day_text(plan.written)}, " if plan.written else ""
    review = next((d for d in review_days(plan) if d >= day), None)
    until = f", valid until your review on {day_text(review)}" if review else ""
    return f"Plan {written}version {plan.revision or 1}{until}. {SUPPORTS}"


SUPPORTS = (
    "Made for the person it was given to. It supports your physiotherapist's advice and does not replace it;"
    " local rules come first."
)


def back_when(level: PainLevel | None) -> str | None:
    """When to start again after an easier week: `easing for two days`; None where nothing is said."""
    if level is None:
        return None
    if level.text:
        return level.text
    if level.usual:
        words = "your pain is back to usual"
    elif level.rating is not None:
        words = f"your pain is down to {number_text(level.rating)} out of {SCALE}"
    elif level.points is not None:
        points = "point" if level.points == 1 else "points"
        words = f"your pain is no more than {number_text(level.points)} {points} above usual"
    else:
        return None
    return words + (f" for {level.days} {'day' if level.days == 1 else 'days'}" if level.days else "")
