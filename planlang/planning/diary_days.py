"""What a diary's lines say of days that can't be so: outside the plan, one thing twice, over before it began."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planlang.model.diary import SESSIONS, STRETCHES, Diary, Entry, What
from planlang.model.plan import Plan
from planlang.planning.past import Past
from planlang.planning.weeks import DAY, Calendar
from planlang.planning.wording import counted
from planlang.text.finding import Finding, Related, contradiction, unreckonable


def day_faults(plan: Plan, diary: Diary, today: date | None = None) -> Iterator[Finding]:
    """Lines whose days can't be so. `today`: the caller's, for what lies ahead of it."""
    yield from _dates(diary, today)
    yield from _ends(diary)
    yield from _sessions_twice(plan, diary)
    if plan.starts is not None and plan.weeks is not None:
        calendar = Calendar(plan)
        yield from _outside(plan, calendar, diary)
        yield from _away(calendar, diary)
        yield from _habits_twice(calendar, diary)
    yield from _steps_twice(diary)


def past_faults(past: Past) -> tuple[Finding, ...]:
    """Lines of sessions where none was due: said not to be done, or moved from a day on which there is none."""
    plan, diary = past.plan, past.diary
    calendar = Calendar(plan)
    names = {s.name for s in plan.sessions}
    inside = calendar.starts, calendar.start_of(calendar.length + 1)
    told = {(e.name, e.day) for e in diary.of(What.DONE, What.PART)}
    due: set[tuple[str | None, date | None]] = {(e.name, e.to) for e in diary.of(What.MOVED)}
    due |= {(s.name, s.moved_from or s.day) for week in past.weeks.weeks for s in week.sittings}
    found = []
    for entry in (*past.unmatched, *(e for e in diary.of(What.MOVED) if e.day <= past.as_of)):
        moved = entry.what is What.MOVED
        if entry.name not in names or not inside[0] <= entry.day < inside[1] or entry.day in past.looking.stilled:
            continue
        if _week(calendar, entry.day) in past.rest or (moved and (entry.name, entry.day) in due):
            continue
        if not moved and (entry.name, entry.day) in told:
            continue  # told twice: said already
        where = ", so nothing is moved" if moved else " or on another day of its week, so the line counts nowhere"
        message = f'"{entry.name}" was not due on {entry.day}{where}.'
        help = "Is it another day, or another session? What was due stands in: planlang weeks"
        found.append(_fault(diary, entry, message, help))
    return tuple(found)


def _fault(diary: Diary, entry: Entry, message: str, help: str) -> Finding:
    return unreckonable(message, entry.span, diary.source, help)


def _week(calendar: Calendar, day: date) -> int:
    return (day - calendar.starts).days // 7 + 1


def _dates(diary: Diary, today: date | None) -> Iterator[Finding]:
    for entry in diary.entries:
        if today is not None and entry.day > today:
            yield _fault(diary, entry, f"{entry.day} has not come yet on {today}.", "Check the date.")
        if entry.reported is not None and entry.reported < entry.day:
            message = f"Reported on {entry.reported}, before the day itself."
            yield _fault(diary, entry, message, "Check the two dates.")
    for entry in diary.of(What.MOVED):
        if entry.to is not None and entry.to == entry.day:
            yield _fault(diary, entry, "Moved to the day that it was on.", "Check the two dates.")


def _outside(plan: Plan, calendar: Calendar, diary: Diary) -> Iterator[Finding]:
    """Lines of days before the plan or after it, one finding for each; before one that continues another, none."""
    first, last = calendar.starts, calendar.start_of(calendar.length + 1) - DAY
    before = [] if plan.continues else [e for e in diary.entries if e.day < first]
    for entries in (before, [e for e in diary.entries if e.day > last]):
        if entries:
            start = entries[0]
            lines = "This line is" if len(entries) == 1 else f"{counted(len(entries), 'line')} from here on are"
            message = f"{lines} of {start.day}"
            message += "" if entries[-1].day == start.day else f" to {entries[-1].day}"
            message += f", outside the plan, which runs from {first} to {last}."
            help = "Is the date right? What belongs to another block is told beside the plan of that block."
            yield _fault(diary, start, message, help)
    for entry in diary.of(What.MOVED):
        if entry.to is not None and first <= entry.day <= last and not first <= entry.to <= last:
            message = f"{entry.to} is outside the plan, which runs from {first} to {last}."
            yield _fault(diary, entry, message, "Check the day that it was moved to.")


def _away(calendar: Calendar, diary: Diary) -> Iterator[Finding]:
    for entry in diary.of(What.REST):
        if entry.joint is None and _week(calendar, entry.day) in calendar.away_weeks:
            message = f"The week of {entry.day} is away; an easier week is never placed on it."
            yield _fault(diary, entry, message, "Leave the line out: the week takes nothing from the room there is.")


def _ends(diary: Diary) -> Iterator[Finding]:
    """What is over without having begun, or over already."""
    for what, ending in STRETCHES.items():
        begun = [e.day for e in diary.of(what)]
        last: date | None = None
        for end in diary.of(ending):
            before = [day for day in begun if day <= end.day and (last is None or day >= last)]
            if not before and last is not None:
                message = f"The {what} that is over here was over on {last} already."
                yield _fault(
                    diary, end, message, f"Keep one of the two, or write when it began again: {end.day} {what}"
                )
            elif not before:
                message = f"Nothing says when the {what} that is over here began."
                yield _fault(diary, end, message, f"Write a line such as: {end.day} {what}")
            last = end.day


def _sessions_twice(plan: Plan, diary: Diary) -> Iterator[Finding]:
    """One session of a day told as done and as not done, or told more often than it was held."""
    told: dict[tuple[str, date], list[Entry]] = {}
    for entry in diary.of(*SESSIONS - {What.MOVED}):
        told.setdefault((entry.name or "", entry.day), []).append(entry)
    for (name, day), entries in told.items():
        session = plan.session(name)
        most = max(1, len(session.times)) if session else 1
        most += sum(e.to == day != e.day and e.name == name for e in diary.of(What.MOVED)) if len(entries) > most else 0
        for entry in entries[most:]:
            both = len({e.what is What.NOT_DONE for e in entries}) > 1
            said = "told as done and as not done" if both else "told more often than it stands in the plan"
            related = (Related("the other is here", entries[0].span, diary.source),)
            help = "Keep the line that is right." if both else "Keep one, or write what came on top as `extra`."
            yield contradiction(f'"{name}" of {day} is {said}.', entry.span, diary.source, help, related)


def _habits_twice(calendar: Calendar, diary: Diary) -> Iterator[Finding]:
    """A habit told for one calendar week with two numbers of days."""
    told: dict[tuple[str | None, int], Entry] = {}
    for entry in diary.of(What.KEPT):
        if entry.days is None:
            continue
        first = told.setdefault((entry.text, _week(calendar, entry.day)), entry)
        if first.days != entry.days:
            message = f'"{entry.text}" is told twice for one week, {first.days} and {entry.days} days.'
            related = (Related("the other is here", first.span, diary.source),)
            help = f"Weeks of this plan begin on {calendar.starts:%A}s. Keep one line a week."
            yield contradiction(message, entry.span, diary.source, help, related)


def _steps_twice(diary: Diary) -> Iterator[Finding]:
    """A day's steps told with two numbers, in lines of the diary."""
    told: dict[date, Entry] = {}
    for entry in diary.of(What.WALKED):
        if entry.value is None or entry.value.unit != "steps":
            continue
        first = told.setdefault(entry.day, entry)
        if first.value != entry.value:
            message = f"The steps of {entry.day} are told twice, with two numbers; the higher one counts."
            related = (Related("the other is here", first.span, diary.source),)
            yield contradiction(message, entry.span, diary.source, "Keep the total of the day.", related)
