"""What one placement of rest shows: weeks pushed out, starts that never come, windows that close too soon."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.planning.ladder import LONGEST_RUN, ladder_of
from planlang.planning.reach import aim
from planlang.planning.week import Week, WeekKind
from planlang.planning.weeks import Calendar
from planlang.planning.wording import counted
from planlang.text.finding import Finding, unreckonable


def placement_faults(
    plan: Plan, calendar: Calendar, weeks: tuple[Week, ...], dropped: int, begins: dict[str, int | None]
) -> tuple[Finding, ...]:
    """The findings of the one placement of rest that was reckoned."""
    found = [*_dropped(plan, dropped), *_long_rest(plan, weeks)]
    if calendar.training_weeks:
        for exercise in plan.exercises:
            found += [*_never_begins(plan, exercise, begins), *_window_closes(plan, calendar, exercise, weeks)]
    return tuple(found)


def _dropped(plan: Plan, dropped: int) -> Iterator[Finding]:
    if dropped > 0:
        what = "training week falls" if dropped == 1 else f"{dropped} training weeks fall"
        message = f"There is more rest here than room for it: the last {what} outside the plan."
        help = f"The dates need to move: make the plan {counted(dropped, 'week')} longer, or the room for rest larger."
        place = plan.rest.places.get("room", plan.rest.span) if plan.rest else plan.span
        yield unreckonable(message, place, plan.source, help)


def _long_rest(plan: Plan, weeks: tuple[Week, ...]) -> Iterator[Finding]:
    runs: list[list[int]] = [[]]
    for week in weeks:
        if week.kind is WeekKind.REST:
            runs[-1].append(week.number)
        elif week.kind is not WeekKind.AWAY:
            runs.append([])
    for run in runs:
        if len(run) > LONGEST_RUN:
            message = f"Weeks {run[0]} to {run[-1]} hold {len(run)} easier weeks in a row: see the person first."
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
