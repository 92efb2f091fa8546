"""Stretches of weeks in which a session keeps to one `days` line: each is a request of its own."""

from __future__ import annotations

from datetime import date, timedelta

from planlang.model.plan import Plan
from planlang.model.session import Days, Session
from planlang.planning.dayrules import groups_of, within
from planlang.planning.week import Sitting, Week, WeekKind, Weeks
from planlang.text.data import frozen


@frozen
class Phase:
    """A session in such a stretch: its line, its weeks, and its sittings where no rest falls.

    `line`: None for visits and days away, which keep to none. `turns`: how many sessions take turns on these days.
    """

    session: Session
    line: Days | None
    weeks: tuple[Week, ...]
    sittings: tuple[Sitting, ...]
    turns: int = 1

    @property
    def first(self) -> date:
        """The first day."""
        return self.weeks[0].starts

    @property
    def last(self) -> date:
        """The last day."""
        return self.weeks[-1].starts + timedelta(days=6)


def phases(weeks: Weeks) -> list[Phase]:
    """The phases of all sessions, in the order of the plan; a session that is never held has none."""
    plan = weeks.plan
    return [phase for session in plan.sessions for phase in _of(session, weeks) if phase.sittings]


def _of(session: Session, weeks: Weeks) -> list[Phase]:
    lead, turns = _group(weeks.plan, session)
    runs: list[tuple[Days | None, list[Week]]] = []
    elsewhere: list[tuple[Days | None, list[Week]]] = []  # days away keep to no line
    trained = 1
    for week in weeks.weeks:
        held = week.kind in (WeekKind.TRAINING, WeekKind.SPARE)
        trained = week.training_week or trained
        line = _line(lead, trained) if held and within(session.window, trained) else None
        sits = any(s.name == session.name for s in week.sittings)
        if held and (line is not None or sits):
            if runs and runs[-1][0] is line and _adjoins(runs[-1][1][-1], week, weeks):
                runs[-1][1].append(week)
            else:
                runs.append((line, [week]))
        elif sits:
            elsewhere.append((None, [week]))
    return [
        Phase(
            session,
            line,
            tuple(its),
            tuple(s for week in its for s in week.sittings if s.name == session.name),
            turns,
        )
        for line, its in (*runs, *elsewhere)
    ]


def _adjoins(before: Week, week: Week, weeks: Weeks) -> bool:
    """True where nothing but days away lies between two weeks."""
    between = weeks.weeks[before.number : week.number - 1]
    return all(w.kind is WeekKind.AWAY for w in between)


def _line(session: Session, training_week: int) -> Days | None:
    """The line in force; one of `once every n weeks` in the weeks between as well."""
    with_window = next((d for d in session.days if d.window and training_week in d.window), None)
    return with_window or next((d for d in session.days if not d.window), None)


def _group(plan: Plan, session: Session) -> tuple[Session, int]:
    for group in groups_of(plan):
        if any(one is session for one in group.members):
            return group.lead, len(group.members)
    return session, 1
