"""The lines that stand on what a person reads: pain, flare, when to get help, which version, whose advice."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, timedelta
from fractions import Fraction

from planlang.model.carried import carried, new_replacement
from planlang.model.plan import Plan
from planlang.model.quantity import Quantity
from planlang.model.records import Sign
from planlang.model.rest import PainLevel
from planlang.model.say import quantity_words
from planlang.planning.telling.telling import Contacts as Contacts
from planlang.planning.telling.telling import Telling, as_number
from planlang.planning.weeks import review_days
from planlang.text.languages.line import Line, joined
from planlang.text.languages.words import Words

ACCEPTED = Fraction(
    5
)  # out of 10; printed where a plan has no pain block (pain-model-zones, see rule pain-rule-missing)
SCALE = 10
SMALL = re.compile(
    r"a|an|the|and|or|of|in|on|to|at|all|out|you|your|it|is|are|with|than|more|far|will|not|take|cannot|can|that|this"
    r"|any|has|have|when|very|new|newly|joint|knee|hip|leg"
)


def settle_words(plan: Plan, words: Words) -> tuple[Line, Line]:
    """By when pain is back to usual: said before a session, and said looking back on the last one."""
    settle = plan.pain.settle if plan.pain else None
    if plan.pain and plan.pain.settle_by_morning:
        return words.say("pain.by-morning"), words.say("pain.next-morning")
    if settle is None or settle == Quantity(Fraction(24), "h") or settle == Quantity(Fraction(1), "day"):
        return words.say("pain.by-tomorrow"), words.say("pain.next-morning")
    if settle.unit == "h":
        within = words.say("pain.within-hours", n=settle.value)
    else:
        within = words.say("pain.within", time=quantity_words(settle, words))
    return within, within


def limit_words(plan: Plan, words: Words) -> tuple[Line, Line]:
    """How much pain is accepted, and how to say that it was more."""
    pain = plan.pain
    accept = pain.accept if pain else ACCEPTED
    rise = pain.rise if pain else None
    if pain and accept is None and pain.accept_above_usual is not None:
        usual = plan.today.measure("usual-pain")
        if usual is not None:
            accept = min(Fraction(SCALE), usual.value.value + pain.accept_above_usual)
        elif rise is None:
            rise = pain.accept_above_usual
    if accept is None and rise is None:
        accept = ACCEPTED
    if accept is not None and rise is not None:
        over = [words.say("pain.over", most=accept, scale=SCALE), words.say("pain.over-rise", n=rise)]
        most = words.say("pain.both", n=rise, most=accept, scale=SCALE)
        return most, joined(words.say("pain.or"), over)
    if rise is not None:
        return words.say("pain.up-to-rise", n=rise), words.say("pain.over-rise", n=rise)
    accept = ACCEPTED if accept is None else accept
    return (
        words.say("pain.up-to", most=accept, scale=SCALE),
        words.say("pain.over", most=accept, scale=SCALE),
    )


def pain_line(telling: Telling) -> Line:
    """The pain rule."""
    plan, words = telling.plan, telling.words

    def said() -> Line:
        return words.say("pain.line", most=limit_words(plan, words)[0], settled=settle_words(plan, words)[0])

    return telling.once("pain", said)


def flare_line(telling: Telling, day: date) -> Line:
    """What to do in a flare, with the room that is left; for a new replacement: call first."""
    plan, words = telling.plan, telling.words
    replaced = new_replacement(plan, day)
    if replaced:
        return words.data(f"flare.{replaced.name}", replaced.flare)
    room, taken = plan.room, telling.course.rest_taken(day)
    if room == 0:
        return words.say("flare.no-room", us=telling.us)
    if taken == 0:
        return words.say("flare.room", n=room)
    if taken < room:
        return words.say("flare.taken", n=room, taken=taken)
    return words.say("flare.room-full", us=telling.us)


def flare_sentences(telling: Telling) -> list[Line]:
    """What a flare of each of the plan's conditions is."""
    known = (telling.plan.catalogue.condition(about.name) for about in telling.plan.about)
    with_flares = {c.name: c for c in known if c and c.has_flares}
    return [telling.words.data(f"flare.{c.name}", c.flare) for c in with_flares.values()]


def help_lines(telling: Telling, day: date) -> list[Line]:
    """When to stop and whom to call: the urgent signs in one line, then what the plan itself adds."""
    found = [s for s in carried(telling.plan, day) if s.short]
    return telling.once(tuple(s.name for s in found), lambda: _help(telling, found))


def _help(telling: Telling, found: list[Sign]) -> list[Line]:
    plan, words = telling.plan, telling.words
    lines = []
    urgent = [_short(s, words) for s in found if s.do == "emergency"]
    soon = [_short(s, words) for s in found if s.do == "today"]
    if urgent or soon:
        parts = [words.say("help.stop")]
        if urgent:
            parts.append(words.say("help.signs", signs=joined("; ", urgent), whom=whom(telling, "emergency")))
        if soon:
            parts.append(words.say("help.signs", signs=_listed(soon, words), whom=whom(telling, "today")))
        if telling.on_sheet:
            parts.append(words.say("help.more-below", help=words.say("signs.title")))
        else:
            parts.append(words.say("help.more-on-sheet"))
        lines.append(joined(" ", parts))
    for own in plan.signs:
        known = [s for s in found if s.do == "emergency" or own.action == "today"]
        if not own.before and (own.action == "tell us" or not said_already(own.text, known)):
            lines.append(words.say("help.own", sign=own.text, whom=whom(telling, own.action)))
    return lines


def _short(sign: Sign, words: Words) -> Line:
    return words.data(f"sign.{sign.name}.short", sign.short or "")


def checks_first(telling: Telling) -> list[Line]:
    """What the plan asks to be looked at before beginning."""
    before = (sign for sign in telling.plan.signs if sign.before)
    return [telling.words.say("help.check-first", sign=sign.text, whom=whom(telling, sign.action)) for sign in before]


def whom(telling: Telling, action: str) -> Line:
    """Whom to call, and how soon."""
    words, contacts = telling.words, telling.contacts
    if action == "emergency":
        if contacts.emergency:
            return words.say("call.emergency", number=as_number(contacts.emergency))
        return words.say("call.emergency-local")
    if action == "today":
        if contacts.same_day:
            return words.say("call.today", number=as_number(contacts.same_day))
        return words.say("call.today-local")
    return words.say("call.us", us=telling.us)


def _listed(parts: list[Line], words: Words) -> Line:
    if len(parts) == 1:
        return parts[0].capital()
    return words.say("help.or", some=joined("; ", parts[:-1]), last=parts[-1]).capital()


def said_already(text: str, signs: Iterable[Sign]) -> bool:
    """True where every word of the plan's own sign stands in the carried ones; in doubt it is said again."""
    said = {word for s in signs for word in _stems(f"{s.words} {s.short}")}
    return _stems(text) <= said


def _stems(text: str) -> set[str]:
    words = re.findall(r"[^\W\d_]+", text.lower())
    return {re.sub(r"(s|ed|ing|less|lessness|ness)$", "", word)[:6] for word in words if not SMALL.fullmatch(word)}


def version_line(telling: Telling, day: date) -> Line:
    """Which plan this is, until when it holds, and whose advice it supports."""
    plan, words = telling.plan, telling.words
    version = plan.revision or 1
    parts = [words.say("plan.of", day=words.day(plan.written), version=version)] if plan.written else []
    parts = parts or [words.say("plan.version", version=version)]
    review = next((d for d in review_days(plan) if d >= day), None)
    if review:
        parts.append(words.say("plan.valid-until", day=words.day(review)))
    elif plan.starts and plan.weeks:  # no review is to come: never without an end
        last = plan.starts + timedelta(days=7 * plan.weeks - 1)
        parts.append(words.say("plan.valid-to-end", day=words.day(last)))
    return joined(", ", parts) + ". " + supports(words)


def supports(words: Words) -> Line:
    """Whose advice it is, and whom it is for."""
    return words.say("plan.supports")


def back_when(level: PainLevel | None, words: Words) -> Line | None:
    """When to start again after an easier week: `easing for two days`; None where nothing is said."""
    if level is None:
        return None
    if level.text:
        return words.plan(level.text)
    if level.usual:
        said = words.say("back.usual")
    elif level.rating is not None:
        said = words.say("back.rating", most=level.rating, scale=SCALE)
    elif level.points is not None:
        said = words.say("back.points", n=level.points)
    else:
        return None
    return words.say("back.for-days", n=level.days, back=said) if level.days else said
