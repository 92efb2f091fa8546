"""What can't be reckoned as written, wherever the rest falls: findings that the plan alone shows."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import pairwise

from planlang.model.compare import not_compared
from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.plan import Away, Plan
from planlang.model.quantity import only_shown
from planlang.model.show import dose_text
from planlang.planning.ladder import LONGEST_RUN, ladder_of
from planlang.planning.reach import aim
from planlang.planning.session_faults import late_window, session_faults
from planlang.planning.slots import Timetable
from planlang.planning.weeks import LONGEST_PLAN, Calendar
from planlang.planning.wording import counted, unread
from planlang.text.finding import Finding, unreckonable
from planlang.text.meant import did_you_mean
from planlang.text.source import Span

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def too_long(plan: Plan) -> Finding:
    """A plan whose weeks are not reckoned at all."""
    message = f"A plan of {plan.weeks} weeks from {plan.starts} is not reckoned: it is too long, or too far off."
    help = f"Write at most {LONGEST_PLAN} weeks, and follow them with a next block."
    return unreckonable(message, plan.places.get("lasts", plan.span), plan.source, help)


def plan_faults(plan: Plan, timetable: Timetable) -> tuple[Finding, ...]:
    """The findings that hold wherever the rest falls."""
    calendar = timetable.calendar
    found = [*_room(plan, calendar), *_returns(plan), *_away(plan, calendar)]
    for exercise in plan.exercises:
        found += [*_ladder(plan, exercise), *_start(plan, exercise)]
        found += late_window(plan, calendar, exercise.window, f"`{exercise.name}`")
    found += [*session_faults(plan, timetable), *_targets(plan)]
    return tuple(found)


def _room(plan: Plan, calendar: Calendar) -> Iterator[Finding]:
    left = calendar.length - calendar.room - len(calendar.away_weeks)
    if left < 1:
        away = len(calendar.away_weeks)
        besides = f" and {counted(away, 'week')} away" if away else ""
        room, length = counted(calendar.room, "week"), counted(calendar.length, "week")
        message = f"With room for {room}{besides} no training week is left of {length}."
        place = plan.rest.places.get("room") if plan.rest else None
        place = place or (plan.away[0].span if plan.away else plan.span)
        yield unreckonable(message, place, plan.source, "Make the plan longer, or the room smaller.")


def _returns(plan: Plan) -> Iterator[Finding]:
    for line in plan.rest.returns if plan.rest else ():
        if line.after > LONGEST_RUN:
            message = f"A return after {line.after} weeks never holds: 4 easier weeks or more are reckoned like 3."
            help = "After so long a rest see the person first; say so in a `tell us if` line, and drop this one."
            yield unreckonable(message, line.span, plan.source, help)


def _away(plan: Plan, calendar: Calendar) -> Iterator[Finding]:
    last = calendar.starts + timedelta(days=7 * calendar.length - 1)
    for line in plan.away:
        if line.last < calendar.starts or line.first > last:
            message = f"These days away lie outside the plan, which runs from {calendar.starts} to {last}."
            yield unreckonable(message, line.span, plan.source, "Check the year.")
        elif line.session and plan.session(line.session) and not _touches_an_away_week(line, calendar):
            message = f'"{line.session}" is not placed: it is done in weeks that are wholly away, and none is here.'
            weekday = WEEKDAYS[calendar.starts.weekday()]
            help = f"Let the line run over whole weeks of the plan, which begin on a {weekday}."
            yield unreckonable(message, line.span, plan.source, help)


def _touches_an_away_week(line: Away, calendar: Calendar) -> bool:
    return any(line is other for week in calendar.away_weeks for other in calendar.lines_of(week))


def _ladder(plan: Plan, exercise: Exercise) -> Iterator[Finding]:
    steps = exercise.steps
    reachable = len(ladder_of(exercise, None).begins)
    if reachable < len(steps) and exercise.pace is None and not unread(plan, "progress", "progress_deed", "rise"):
        kept = "first step" if reachable == 1 else f"step {reachable}"
        message = f"`{exercise.name}` has {len(steps)} steps and no pace, so it stays on its {kept}."
        help = "Add a line: `progress every 2 weeks`, say, or `for 2 weeks` to the step."
        yield unreckonable(message, exercise.span, plan.source, help)
    for n, (one, other) in enumerate(pairwise(steps), 1):
        if one.dose == other.dose:
            message = f"Steps {n} and {n + 1} of `{exercise.name}` are the same."
            weeks = one.weeks or (exercise.pace.weeks if exercise.pace else None) or 1
            help = f"To stay longer on a step write it once, with `for {counted(2 * weeks, 'week')}` behind it."
            yield unreckonable(message, other.span, plan.source, help)


def _start(plan: Plan, exercise: Exercise) -> Iterator[Finding]:
    start = exercise.start
    if start is None or start.of is None:
        return
    names = [e.name for e in plan.exercises]
    if start.reach is not None:
        other = plan.exercise(start.of)
        if other is None:
            if not unread(plan, "exercise", "activity"):
                message = f"There is no exercise `{start.of}`, so `{exercise.name}` never begins."
                help = did_you_mean(start.of, names) or "Name an exercise of this plan."
                yield unreckonable(message, start.span, plan.source, help)
        else:
            yield from _reach(plan, start.reach, other, start.span)
        return
    if not any(start.of in (e.kind, e.name) for e in plan.exercises) and not unread(
        plan, "exercise", "activity", "kind"
    ):
        kinds = [e.kind for e in plan.exercises if e.kind]
        if sum(weeks for kind, weeks in plan.today.base if kind == start.of) < (start.weeks or 0):
            message = f"Nothing in this plan is `{start.of}`, so `{exercise.name}` never begins."
            help = did_you_mean(start.of, [*names, *kinds]) or "Name a kind that an exercise here has, or an exercise."
            yield unreckonable(message, start.span, plan.source, help)


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
    return only_shown(lambda: dose_text(dose)) + (f' "{dose.variant}"' if dose.variant else "")


def _targets(plan: Plan) -> Iterator[Finding]:
    for target in plan.targets:
        exercise = plan.exercise(target.reach_in) if target.reach_in else None
        if target.reach is not None and exercise is not None:
            yield from _reach(plan, target.reach, exercise, target.places.get("reach", target.span))
