"""On which days of a calendar week an exercise is done: sessions on fixed days, activities."""

from __future__ import annotations

from datetime import date
from itertools import combinations

from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.model.session import Session
from tests.oracle.chooser import chosen_days, muscles, rank
from tests.oracle.kinds import Kind, is_away


def planned_days(plan: Plan, session: Session, week: Kind, training_week: int) -> list[date]:
    """The days of one session in a calendar week. A line that leaves days open is a session's only one."""
    if session.window is not None and training_week not in session.window:
        return []
    planned: set[date] = set()
    for line in session.days:
        if line.window is not None and training_week not in line.window:
            continue
        # "`every second` counts from the plan's first day and runs on through every kind of week"
        if line.every_second:
            planned |= {day for day in week.days if (day - plan.starts).days % 2 == 0}
        else:
            weekdays = line.fixed or chosen_days(plan, training_week)[session.name] or ()
            planned |= {day for day in week.days if day.weekday() in weekdays}
    return sorted(planned)


def session_days(plan: Plan, session: Session, week: Kind, training_week: int) -> list[date]:
    """The days left of one session in a calendar week.

    "In a week partly away, sessions on those days are left out, or moved within the week if the
    session says so"; "moving never puts two on one day": in the order of the file, each to the best
    days that are free, as the day chooser reckons best.
    """
    planned = {one.name: planned_days(plan, one, week, training_week) for one in plan.sessions}
    days = {name: [day for day in these if not is_away(plan, day)] for name, these in planned.items()}
    for one in plan.sessions:
        missing = len(planned[one.name]) - len(days[one.name])
        if one.if_not_done == "move within the week" and missing:
            taken = [day for others in days.values() for day in others]
            free = [day for day in week.days if not is_away(plan, day) and day not in taken]
            near = [
                day.weekday()
                for other in plan.sessions
                if other is not one and muscles(plan, other) & muscles(plan, one)
                for day in days[other.name]
            ]
            kept = days[one.name]
            choices = list(combinations(free, min(missing, len(free))))
            best = max(choices, key=lambda moved: rank([day.weekday() for day in (*kept, *moved)], near))
            days[one.name] = sorted([*kept, *best])
    return days[session.name]


def sessions_of(plan: Plan, name: str) -> list[Session]:
    """The sessions that hold an exercise."""
    return [session for session in plan.sessions if name in session.do]


def exercise_days(plan: Plan, exercise: Exercise, week: Kind, training_week: int) -> list[date]:
    """The days on which an exercise is due in a calendar week, one entry a session.

    An exercise is done in its sessions; an activity that stands in none is done every day ("daily
    activity: day"), one with a weekly quota counts on the last day of the week.
    "`training weeks 5 to 10`": outside its training weeks it is not done.
    """
    if exercise.window is not None and training_week not in exercise.window:
        return []
    inside = sessions_of(plan, exercise.name)
    if exercise.activity and not inside:
        here = [day for day in week.days if not is_away(plan, day)]
        return list(week.days[-1:]) if exercise.weekly and here else here
    return sorted(day for session in inside for day in session_days(plan, session, week, training_week))
