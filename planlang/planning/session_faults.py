"""What can't be reckoned of the sessions: day rules, phases, visits, turns, clock changes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from planlang.model.composing.placed import of_libraries
from planlang.model.exercise import Window
from planlang.model.plan import Plan
from planlang.model.session import Days, Session
from planlang.planning.clock import change_days, is_double, is_missing
from planlang.planning.dayrules import can_be_met, within
from planlang.planning.load import A_DAY, longest_minutes
from planlang.planning.slot import visits_in
from planlang.planning.slots import Timetable
from planlang.planning.weeks import Calendar
from planlang.planning.wording import counted, unread
from planlang.planning.zones import zone
from planlang.text.finding import Finding, Related, contradiction, unreckonable
from planlang.text.meant import did_you_mean
from planlang.text.source import Span


def session_faults(plan: Plan, timetable: Timetable) -> Iterator[Finding]:
    """The findings of a plan's sessions, wherever the rest falls."""
    for session in plan.sessions:
        yield from _session(plan, session)
        yield from _too_long(plan, session)
        yield from _days(plan, session, timetable.calendar)
        yield from _visits(plan, session, timetable)
    yield from _turns(plan, timetable)
    yield from _clock(plan, timetable)


def _session(plan: Plan, session: Session) -> Iterator[Finding]:
    if unread(plan, "exercise", "activity"):
        return
    names = [e.name for e in plan.exercises]
    for name in session.do:
        if name not in names:
            message = f'"{session.name}" does `{name}`, and there is no exercise of that name.'
            place = session.places.get("do_exercises", session.span)
            help = did_you_mean(name, (*names, *of_libraries(plan.source))) or "Add an `exercise` block for it."
            yield unreckonable(message, place, plan.source, help)


def _too_long(plan: Plan, session: Session) -> Iterator[Finding]:
    if (
        session.minutes is None
        and longest_minutes(session, (e for e in plan.exercises if e.name in session.do)) > A_DAY
    ):
        message = f'"{session.name}" comes to more than a day by its doses; it has no end in the calendar.'
        place = session.places.get("do_exercises", session.span)
        yield unreckonable(message, place, plan.source, "Check the sets, minutes and rounds of what it does.")


def late_window(plan: Plan, calendar: Calendar, window: Window | None, what: str) -> Iterator[Finding]:
    """The finding that all of a window's training weeks lie past the plan's last one."""
    last = calendar.training_weeks
    if window and last and all(first > last for first, _ in window.ranges):
        message = f"The training weeks of {what} never come: the plan holds {last} training weeks."
        yield unreckonable(message, window.span, plan.source, "Write earlier training weeks, or make the plan longer.")


def _days(plan: Plan, session: Session, calendar: Calendar) -> Iterator[Finding]:
    yield from late_window(plan, calendar, session.window, f'"{session.name}"')
    for line in session.days:
        yield from late_window(plan, calendar, line.window, f'this line of "{session.name}"')
        if not can_be_met(line):
            message = f'No week holds these days; "{session.name}" is left out while the line holds.'
            yield contradiction(message, line.span, plan.source, _days_help(line))
    weeks = range(1, calendar.training_weeks + 1)
    for with_window in (True, False):
        lines = [d for d in session.days if bool(d.window) is with_window]
        for n, line in enumerate(lines):
            earlier = [d for d in lines[:n] if any(within(d.window, w) and within(line.window, w) for w in weeks)]
            if earlier:
                related = (Related("the other is here", earlier[0].span, plan.source),)
                message = f'Two `days` lines of "{session.name}" hold in the same training weeks; the first is taken.'
                help = "Give each its own training weeks, or make them two sessions."
                yield contradiction(message, line.span, plan.source, help, related)


def _days_help(line: Days) -> str:
    if line.fixed:
        return "Write days further apart, or fewer whole days between them."
    days = len(line.among) or 7
    if line.between and line.low:
        most = next((n for n in range(min(line.low, 6), 0, -1) if can_be_met(_asking(line, n))), 0)
        if most:
            return f"Write fewer days: with {counted(line.between, 'day')} between, {most} a week can be placed."
    return f"There are {days} days to choose from. Write fewer a week."


def _asking(line: Days, count: int) -> Days:
    return Days(low=count, among=line.among, between=line.between)


def _visits(plan: Plan, session: Session, timetable: Timetable) -> Iterator[Finding]:
    calendar = timetable.calendar
    total = sum(count for visit in session.visits for _, count in visit.weeks)
    if session.max_visits is not None and total > session.max_visits:
        place = session.places.get("at_most_visits", session.span)
        message = f'"{session.name}" has {total} visits and at most {session.max_visits}.'
        yield contradiction(message, place, plan.source, "Take out a visit, or raise the number.")
    for visit in session.visits:
        for week, _ in visit.weeks:
            if not 1 <= week <= calendar.length:
                message = f"There is no week {week} for this visit: the plan has {calendar.length}."
                yield contradiction(message, visit.span, plan.source, "Write a week of the plan.")
            elif week in calendar.away_weeks:
                message = f"The visit in week {week} falls into days away, and is left out."
                yield contradiction(message, visit.span, plan.source, "Move the visit to another week.")
            else:
                yield from _too_many_visits(plan, session, week, timetable, visit.span)


def _too_many_visits(plan: Plan, session: Session, week: int, timetable: Timetable, span: Span) -> Iterator[Finding]:
    group = timetable.groups[timetable.group_of(session)]
    line = next((d for d in (group.line(t) for t in timetable.calendar.may_be(week)) if d), None)
    if line is None:
        return
    times = max(len(session.times), 1)
    held = line.low or 1 if line.you_choose else len(timetable.possible_days(session, week)) * times
    due = visits_in(session, week)
    if held and due > held:
        message = f'Week {week} has {due} visits and at most {held} of "{session.name}"; a visit adds none.'
        yield contradiction(message, span, plan.source, "Plan as many sessions as visits in that week.")


def _turns(plan: Plan, timetable: Timetable) -> Iterator[Finding]:
    for group in timetable.groups:
        if len(group.members) == 1:
            session = group.lead
            if session.in_turn_with == session.name:
                message = f'"{session.name}" is in turn with itself.'
                yield contradiction(
                    message, session.places.get("in_turn", session.span), plan.source, "Name the other."
                )
            continue
        later = [s for s in group.members[1:] if s.days]
        for session in later:
            related = (Related("these days are shared", group.lead.days[0].span, plan.source),)
            message = (
                f'"{session.name}" takes turns with "{group.lead.name}" and has days of its own, which are not used.'
            )
            yield contradiction(message, session.days[0].span, plan.source, "Take out one `days` line.", related)
        if not group.lead.days and not unread(plan, "days"):
            names = " and ".join(f'"{s.name}"' for s in group.members)
            message = f"{names} take turns, and none of them has a `days` line to share."
            place = group.lead.places.get("in_turn", group.lead.span)
            yield unreckonable(message, place, plan.source, "Add a `days` line to the one that comes first.")


def _clock(plan: Plan, timetable: Timetable) -> Iterator[Finding]:
    if plan.zone is None:
        return
    here = zone(plan.zone)
    if here is None:
        message = f"`{plan.zone}` is no time zone that is known."
        help = "Write its IANA name: Europe/London, Australia/Hobart."
        yield unreckonable(message, plan.places.get("zone", plan.span), plan.source, help)
        return
    calendar = timetable.calendar
    first = calendar.starts
    for day in sorted(change_days(here, first, 7 * calendar.length)):
        week, offset = divmod((day - first).days, 7)
        if day < first or offset in calendar.away_days.get(week + 1, ()):
            continue
        for session in plan.sessions:
            if not session.times or offset not in timetable.possible_days(session, week + 1):
                continue
            for at in session.times:
                local = datetime.combine(day, at, here)
                fault = "does not exist" if is_missing(local) else "comes twice" if is_double(local) else None
                if fault:
                    message = (
                        f'The clock changes on {day}: {at:%H:%M}, when "{session.name}" could fall, {fault} that day.'
                    )
                    place = session.places.get("at_times", session.span)
                    yield unreckonable(message, place, plan.source, "Choose another time of day.")
