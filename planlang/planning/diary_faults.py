"""Lines of a diary that do not go with the plan: names it doesn't have, days it doesn't hold, two things at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from planlang.model.catalogue import signs
from planlang.model.diary import SESSIONS, STRETCHES, Diary, Entry, What
from planlang.model.plan import Plan
from planlang.planning.weeks import DAY, Calendar
from planlang.text.finding import Finding, Level, Related, contradiction, unreckonable
from planlang.text.meant import did_you_mean, listed
from planlang.text.source import Span


def diary_faults(plan: Plan, diary: Diary, today: date | None = None) -> tuple[Finding, ...]:
    """What is wrong with a diary beside its plan, by place. `today`: the caller's, for what lies ahead of it."""
    found = [*_names(plan, diary), *_days(plan, diary, today), *_twice(plan, diary), *_ends(diary)]
    return tuple(sorted(found, key=lambda f: (f.span or Span(0, 0), f.message)))


def _fault(diary: Diary, entry: Entry, message: str, help: str) -> Finding:
    return unreckonable(message, entry.span, diary.source, help)


def _names(plan: Plan, diary: Diary) -> Iterator[Finding]:
    sessions = [s.name for s in plan.sessions]
    exercises = [e.name for e in plan.exercises]
    habits = [t.keep for t in plan.targets if t.keep]
    once = [t.do for t in plan.targets if t.do] + [p.text for p in plan.prepares]
    for entry in diary.entries:
        if entry.what in SESSIONS:
            yield from _no_such(diary, entry, "session", entry.name, sessions)
            yield from _not_in_it(plan, diary, entry)
        elif entry.what is What.EXTRA and entry.name not in (*sessions, *exercises):
            yield from _no_such(diary, entry, "session or exercise", entry.name, (*sessions, *exercises))
        elif entry.what is What.DID_EXERCISE:
            yield from _no_such(diary, entry, "exercise", entry.name, exercises)
        elif entry.what is What.KEPT:
            yield from _no_such(diary, entry, "habit among the targets", entry.text, habits)
        elif entry.what is What.DID:
            yield from _no_such(diary, entry, "one-off among the targets and tasks", entry.text, once)
        elif entry.what is What.SIGN:
            yield from _no_such(diary, entry, "sign", entry.name, tuple(signs()))
        elif entry.what is What.MEASURED and not _known(plan, entry.name or ""):
            help = did_you_mean(entry.name or "", plan.catalogue.measures) or "Nothing is reckoned with it."
            message = f'"{entry.name}" is no measure that is known.'
            yield Finding("unknown-word", Level.ADVICE, message, entry.span, diary.source, help)


def _known(plan: Plan, measure: str) -> bool:
    return plan.catalogue.measure(measure) is not None or plan.today.measure(measure) is not None


def _no_such(diary: Diary, entry: Entry, what: str, name: str | None, known: Iterable[str]) -> Iterator[Finding]:
    names = list(known)
    if name is not None and name not in names:
        some = f"The plan has {listed(names[:4])}." if names else f"The plan has no {what}."
        help = did_you_mean(name, names) or some
        yield _fault(diary, entry, f'The plan has no {what} "{name}"; the line counts nowhere.', help)


def _not_in_it(plan: Plan, diary: Diary, entry: Entry) -> Iterator[Finding]:
    session = plan.session(entry.name or "")
    for name in entry.names if session else ():
        if session is not None and name not in session.do:
            help = did_you_mean(name, session.do) or f"It holds {listed(list(session.do))}."
            yield _fault(diary, entry, f'`{name}` is not part of the session "{session.name}".', help)


def _days(plan: Plan, diary: Diary, today: date | None) -> Iterator[Finding]:
    if plan.starts is None or plan.weeks is None:
        return
    calendar = Calendar(plan)
    first, last = calendar.starts, calendar.start_of(calendar.length + 1) - DAY
    for entry in diary.entries:
        if today is not None and entry.day > today:
            yield _fault(diary, entry, f"{entry.day} has not come yet on {today}.", "Check the date.")
        if entry.reported is not None and entry.reported < entry.day:
            message = f"Reported on {entry.reported}, before the day itself."
            yield _fault(diary, entry, message, "Check the two dates.")
        held = entry.what in SESSIONS or entry.what is What.REST
        if held and not first <= entry.day <= last:
            message = f"{entry.day} is outside the plan, which runs from {first} to {last}."
            yield _fault(diary, entry, message, "Is the date right, or does the line belong to another block?")
        elif entry.what is What.REST and entry.joint is None and _week(calendar, entry.day) in calendar.away_weeks:
            message = f"The week of {entry.day} is away; an easier week is never placed on it."
            yield _fault(diary, entry, message, "Leave the line out: the week takes nothing from the room there is.")


def _week(calendar: Calendar, day: date) -> int:
    return (day - calendar.starts).days // 7 + 1


def _twice(plan: Plan, diary: Diary) -> Iterator[Finding]:
    """One session of a day told as done and as not done, or told more often than it was held."""
    told: dict[tuple[str, date], list[Entry]] = {}
    for entry in diary.of(What.DONE, What.PART, What.NOT_DONE):
        told.setdefault((entry.name or "", entry.day), []).append(entry)
    for (name, day), entries in told.items():
        session = plan.session(name)
        most = max(1, len(session.times)) if session else 1
        for entry in entries[most:]:
            both = len({e.what is What.NOT_DONE for e in entries}) > 1
            said = "told as done and as not done" if both else "told more often than it stands in the plan"
            related = (Related("the other is here", entries[0].span, diary.source),)
            help = "Keep the line that is right." if both else "Keep one, or write what came on top as `extra`."
            yield contradiction(f'"{name}" of {day} is {said}.', entry.span, diary.source, help, related)


def _ends(diary: Diary) -> Iterator[Finding]:
    """What is over without having begun, and begins again before it was over."""
    for what, ending in STRETCHES.items():
        begun = diary.of(what)
        for end in diary.of(ending):
            if not any(entry.day <= end.day for entry in begun):
                message = f"Nothing says when the {what} that is over here began."
                yield _fault(diary, end, message, f"Write a line such as: {end.day} {what}")
    for entry in diary.of(What.MOVED):
        if entry.to is not None and entry.to == entry.day:
            yield _fault(diary, entry, "Moved to the day that it was on.", "Check the two dates.")
