"""The `days` lines of sessions: which one holds in a training week, and whether it can be met."""

from __future__ import annotations

from attrs import field

from planlang.model.exercise import Window
from planlang.model.plan import Plan
from planlang.model.session import Days, Session
from planlang.planning.chooser import choose, spaced
from planlang.text.data import frozen

WEEK = tuple(range(7))


@frozen
class Group:
    """Sessions that share days in turn; the first has the `days` lines. Most hold one session."""

    members: tuple[Session, ...]
    works: frozenset[str] = field(eq=False)

    @property
    def lead(self) -> Session:
        """The session whose days they are."""
        return self.members[0]

    def active(self, training_week: int) -> list[bool]:
        """Which members stand in a training week, by their own `training weeks` line."""
        return [within(s.window, training_week) for s in self.members]

    def line(self, training_week: int) -> Days | None:
        """The `days` line that holds; None where no member stands, or none that week."""
        return line_in_force(self.lead, training_week) if any(self.active(training_week)) else None

    def any_line(self, training_week: int) -> Days | None:
        """A line for a week in which none need hold: that of the training week, else the first."""
        return line_in_force(self.lead, training_week) or next(iter(self.lead.days), None)


def within(window: Window | None, training_week: int) -> bool:
    """True where there is no window or the training week lies in it."""
    return window is None or training_week in window


def line_in_force(session: Session, training_week: int) -> Days | None:
    """The `days` line for a training week: one with training weeks of its own goes before one without.

    None in the weeks between of `once every n weeks`, which counts from the line's first training week.
    """
    lines = session.days
    line = next((d for d in lines if d.window and training_week in d.window), None)
    line = line or next((d for d in lines if not d.window), None)
    if line and line.every_weeks > 1 and (training_week - _first_week(session, line)) % line.every_weeks:
        return None
    return line


def _first_week(session: Session, line: Days) -> int:
    starts = [min((a for a, _ in w.ranges), default=1) for w in (session.window, line.window) if w]
    return max(starts, default=1)


def can_be_met(line: Days) -> bool:
    """False for a day rule that no set of days meets (`4 a week with 1 day between`)."""
    if line.fixed:
        return not line.between or spaced(line.fixed, line.between)
    if line.you_choose or line.every_second:
        return True
    if line.low is None or line.low < 1:
        return False
    return choose(line.low, line.among or WEEK, line.between or 0) is not None


def groups_of(plan: Plan) -> tuple[Group, ...]:
    """The sessions in the order of the file, those in turn put together under the one that has days."""
    works = {e.name: e.works for e in plan.exercises}
    groups = []
    for together in _partners(plan):
        lead = next((s for s in together if s.days), together[0])
        members = (lead, *(s for s in together if s is not lead))
        groups.append(Group(members, frozenset(m for s in members for e in s.do for m in works.get(e, ()))))
    return tuple(groups)


def _partners(plan: Plan) -> list[list[Session]]:
    """The sessions in sets that take turns, each set and the sets themselves in the order of the file."""
    sets: dict[str, list[str]] = {s.name: [s.name] for s in plan.sessions}
    for session in plan.sessions:
        other = session.in_turn_with
        if other in sets and sets[other] is not sets[session.name]:
            joined = sets[other] + sets[session.name]
            for name in joined:
                sets[name] = joined
    ordered: dict[int, list[Session]] = {}
    for session in plan.sessions:
        ordered.setdefault(id(sets[session.name]), []).append(session)
    return list(ordered.values())
