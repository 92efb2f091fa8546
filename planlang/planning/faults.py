"""What can't be reckoned as written: the findings that the plan alone shows, and those of one placement of rest."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from planlang.model.compare import not_compared
from planlang.model.dose import Dose
from planlang.model.exercise import Exercise, Window
from planlang.model.plan import Plan
from planlang.model.session import Days, Session
from planlang.model.show import dose_text
from planlang.planning.clock import change_days, is_double, is_missing
from planlang.planning.ladder import LONGEST_RUN, ladder_of
from planlang.planning.reach import aim
from planlang.planning.slots import Timetable, can_be_met, line_in_force, visits_in, within
from planlang.planning.week import Week, WeekKind
from planlang.planning.weeks import LONGEST_PLAN, Calendar
from planlang.planning.zones import zone
from planlang.text.finding import Finding, Related, contradiction, unreckonable
from planlang.text.meant import did_you_mean
from planlang.text.source import Span

DAY = timedelta(days=1)


def plan_faults(plan: Plan, timetable: Timetable | None) -> tuple[Finding, ...]:
    """The findings that hold wherever the rest falls. Without a timetable the plan is too long to be reckoned."""
    if timetable is None:
        message = f"A plan of {plan.weeks} weeks from {plan.starts} is not reckoned: it is too long or too far off."
        help = f"Write at most {LONGEST_PLAN} weeks, and follow them with a next block."
        return (unreckonable(message, plan.places.get("lasts", plan.span), plan.source, help),)
    calendar = timetable.calendar
    found = [*_room(plan, calendar), *_returns(plan), *_away(plan, calendar)]
    for exercise in plan.exercises:
        found += [*_ladder(plan, exercise), *_start(plan, exercise)]
        found += _late_window(plan, calendar, exercise.window, f"`{exercise.name}`")
    for session in plan.sessions:
        found += [*_session(plan, session), *_days(plan, session, calendar), *_visits(plan, session, timetable)]
    found += [*_turns(plan, timetable), *_targets(plan), *_clock(plan, timetable)]
    return tuple(found)


def placement_faults(
    plan: Plan, calendar: Calendar, weeks: tuple[Week, ...], dropped: int, begins: dict[str, int | None]
) -> tuple[Finding, ...]:
    """The findings of the one placement of rest that was reckoned."""
    found = [*_dropped(plan, dropped), *_long_rest(plan, weeks)]
    if calendar.training_weeks:
        for exercise in plan.exercises:
            found += [*_never_begins(plan, exercise, begins), *_window_closes(plan, calendar, exercise, weeks)]
    return tuple(found)


def _room(plan: Plan, calendar: Calendar) -> Iterator[Finding]:
    left = calendar.length - calendar.room - len(calendar.away_weeks)
    if left < 1:
        away = len(calendar.away_weeks)
        besides = f" and {_weeks(away)} away" if away else ""
        message = (
            f"With room for {_weeks(calendar.room)}{besides} no training week is left of {_weeks(calendar.length)}."
        )
        place = plan.rest.places.get("room") if plan.rest else None
        place = place or (plan.away[0].span if plan.away else plan.span)
        yield unreckonable(message, place, plan.source, "Make the plan longer, or the room smaller.")


def _returns(plan: Plan) -> Iterator[Finding]:
    for line in plan.rest.returns if plan.rest else ():
        if line.after > LONGEST_RUN:
            message = f"A return after {_weeks(line.after)} never holds: 4 easier weeks or more are reckoned like 3."
            help = "After so long a rest see the person first; say so in a `tell us if` line, and drop this one."
            yield unreckonable(message, line.span, plan.source, help)


def _away(plan: Plan, calendar: Calendar) -> Iterator[Finding]:
    last = calendar.starts + timedelta(days=7 * calendar.length - 1)
    for line in plan.away:
        if line.last < calendar.starts or line.first > last:
            message = f"These days away lie outside the plan, which runs from {calendar.starts} to {last}."
            yield unreckonable(message, line.span, plan.source, "Check the year.")
        elif line.session and plan.session(line.session) and not _fills_a_week(line.first, line.last, calendar):
            message = f'"{line.session}" is not placed: these days away fill no whole week of the plan, so sessions on them are left out.'
            help = "Let the line run over whole weeks, from the weekday on which the plan starts, or write `if not done move within the week`."
            yield unreckonable(message, line.span, plan.source, help)


def _fills_a_week(first: object, last: object, calendar: Calendar) -> bool:
    return any(
        line.first == first and line.last == last for week in calendar.away_weeks for line in calendar.lines_of(week)
    )


def _ladder(plan: Plan, exercise: Exercise) -> Iterator[Finding]:
    steps = exercise.steps
    reachable = len(ladder_of(exercise, None).begins)
    if reachable < len(steps) and exercise.pace is None and not _unread(plan, "progress", "progress_deed", "rise"):
        kept = "first step" if reachable == 1 else f"step {reachable}"
        message = f"`{exercise.name}` has {len(steps)} steps and no pace, so it stays on its {kept}."
        help = "Add a line: `progress every 2 weeks`, say, or `for 2 weeks` to the step."
        yield unreckonable(message, exercise.span, plan.source, help)
    for n, (one, other) in enumerate(zip(steps, steps[1:], strict=False), 1):
        if one.dose == other.dose:
            message = f"Steps {n} and {n + 1} of `{exercise.name}` are the same."
            weeks = one.weeks or (exercise.pace.weeks if exercise.pace else None) or 1
            help = f"To stay longer on a step write it once, with `for {_weeks(2 * weeks)}` behind it."
            yield unreckonable(message, other.span, plan.source, help)


def _start(plan: Plan, exercise: Exercise) -> Iterator[Finding]:
    start = exercise.start
    if start is None or start.of is None:
        return
    names = [e.name for e in plan.exercises]
    if start.reach is not None:
        other = plan.exercise(start.of)
        if other is None:
            if not _unread(plan, "exercise", "activity"):
                message = f"There is no exercise `{start.of}`, so `{exercise.name}` never begins."
                yield unreckonable(message, start.span, plan.source, did_you_mean(start.of, names))
        else:
            yield from _reach(plan, start.reach, other, start.span)
        return
    if not any(start.of in (e.kind, e.name) for e in plan.exercises) and not _unread(
        plan, "exercise", "activity", "kind"
    ):
        kinds = [e.kind for e in plan.exercises if e.kind]
        if sum(weeks for kind, weeks in plan.today.base if kind == start.of) < (start.weeks or 0):
            message = f"Nothing in this plan is `{start.of}`, so `{exercise.name}` never begins."
            yield unreckonable(message, start.span, plan.source, did_you_mean(start.of, [*names, *kinds]))


def _reach(plan: Plan, dose: Dose, exercise: Exercise, span: Span) -> Iterator[Finding]:
    """What is wrong with a dose that is to be reached in an exercise."""
    for words in not_compared(dose):
        message = f"No two doses are compared by {words}, so it can't be reached."
        yield unreckonable(message, span, plan.source, "Name sets, repetitions, time, load, hold or height instead.")
    if dose.to_be_set or any(step.dose.to_be_set for step in exercise.steps):
        return  # open until it is set
    if exercise.steps and not aim(exercise, dose, plan.today).comparable:
        shown = "; ".join(_shown(step.dose) for step in exercise.steps)
        message = f"`{_shown(dose)}` can't be compared with any step of `{exercise.name}`."
        yield unreckonable(message, span, plan.source, f"Its ladder is: {shown}. Write the target the same way.")


def _shown(dose: Dose) -> str:
    return dose_text(dose) + (f' "{dose.variant}"' if dose.variant else "")


def _targets(plan: Plan) -> Iterator[Finding]:
    for target in plan.targets:
        exercise = plan.exercise(target.reach_in) if target.reach_in else None
        if target.reach is not None and exercise is not None:
            yield from _reach(plan, target.reach, exercise, target.places.get("reach", target.span))


def _late_window(plan: Plan, calendar: Calendar, window: Window | None, what: str) -> Iterator[Finding]:
    last = calendar.training_weeks
    if window and last and all(first > last for first, _ in window.ranges):
        message = f"The training weeks of {what} never come: the plan holds {last} training weeks."
        yield unreckonable(message, window.span, plan.source, "Write earlier training weeks, or make the plan longer.")


def _session(plan: Plan, session: Session) -> Iterator[Finding]:
    if _unread(plan, "exercise", "activity"):
        return
    names = [e.name for e in plan.exercises]
    for name in session.do:
        if name not in names:
            message = f'"{session.name}" does `{name}`, and there is no exercise of that name.'
            place = session.places.get("do_exercises", session.span)
            help = did_you_mean(name, names) or "Add an `exercise` block for it."
            yield unreckonable(message, place, plan.source, help)


def _days(plan: Plan, session: Session, calendar: Calendar) -> Iterator[Finding]:
    yield from _late_window(plan, calendar, session.window, f'"{session.name}"')
    for line in session.days:
        yield from _late_window(plan, calendar, line.window, f'this line of "{session.name}"')
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
            return f"With {_days_between(line.between)} between, {most} a week can be placed."
    return f"There are {days} days to choose from."


def _asking(line: Days, count: int) -> Days:
    return Days(low=count, among=line.among, between=line.between)


def _days_between(count: int) -> str:
    return f"{count} day" + ("" if count == 1 else "s")


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
    lead = timetable.leads[session.name]
    line = next((d for d in (line_in_force(lead, t) for t in timetable.calendar.may_be(week)) if d), None)
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
        if not group.lead.days and not _unread(plan, "days"):
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


def _dropped(plan: Plan, dropped: int) -> Iterator[Finding]:
    if dropped > 0:
        is_are = "falls" if dropped == 1 else "fall"
        message = f"There is more rest here than room for it: the last {_training(dropped)} {is_are} outside the plan."
        help = f"The dates need to move: make the plan {_weeks(dropped)} longer, or the room for rest larger."
        place = plan.rest.places.get("room", plan.rest.span) if plan.rest else plan.span
        yield unreckonable(message, place, plan.source, help)


def _long_rest(plan: Plan, weeks: tuple[Week, ...]) -> Iterator[Finding]:
    run: list[int] = []
    runs: list[list[int]] = []
    for week in weeks:
        if week.kind is WeekKind.REST:
            run.append(week.number)
        elif week.kind is not WeekKind.AWAY:
            runs.append(run)
            run = []
    for run in [*runs, run]:
        if len(run) > LONGEST_RUN:
            message = f"Weeks {run[0]} to {run[-1]} hold {len(run)} easier weeks with no training between: see the person first."
            help = "They are reckoned like 3; no return is planned by itself after so long a rest."
            place = plan.rest.span if plan.rest else plan.span
            yield unreckonable(message, place, plan.source, help)


def _never_begins(plan: Plan, exercise: Exercise, begins: dict[str, int | None]) -> Iterator[Finding]:
    start = exercise.start
    if start is None or begins.get(exercise.name, 0) is not None:
        return
    if not exercise.activity and not any(exercise.name in s.do for s in plan.sessions):
        return  # it stands in no session, whenever it starts
    if start.of is not None and not any(start.of in (e.kind, e.name) for e in plan.exercises):
        return  # said already: nothing of the plan is what it waits for
    if start.reach is not None:
        other = plan.exercise(start.of or "")
        if other is None or not aim(other, start.reach, plan.today).comparable:
            return  # said already
    message = f"`{exercise.name}` never begins: the start that it waits for does not come within the plan."
    yield unreckonable(message, start.span, plan.source, "Let it start earlier, or make the plan longer.")


def _window_closes(plan: Plan, calendar: Calendar, exercise: Exercise, weeks: tuple[Week, ...]) -> Iterator[Finding]:
    window = exercise.window
    if window is None or not exercise.steps:
        return
    ends = [last for _, last in window.ranges if last is not None]
    if len(ends) < len(window.ranges) or max(ends) >= calendar.training_weeks:
        return
    top = len(ladder_of(exercise, None).begins) - 1
    own = [
        done.step
        for week in weeks
        for done in (week.exercises.get(exercise.name), week.activities.get(exercise.name))
        if done and done.own and done.step is not None
    ]
    trained = max((week.training_week or 0 for week in weeks), default=0)
    if own and max(own) < top and trained > max(ends):
        message = (
            f"The training weeks of `{exercise.name}` end before its step {top + 1}; it comes to step {max(own) + 1}."
        )
        help = "Let it stand in more training weeks, go up sooner, or drop the steps that are not reached."
        yield unreckonable(message, window.span, plan.source, help)


def _unread(plan: Plan, *names: str) -> bool:
    """True where an unreadable line could have said one of these."""
    return "?" in plan.unread or not plan.unread.isdisjoint(names)


def _weeks(count: int) -> str:
    return f"{count} week" + ("" if count == 1 else "s")


def _training(count: int) -> str:
    return f"{count} training week" + ("" if count == 1 else "s") if count != 1 else "training week"
