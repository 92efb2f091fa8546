"""Looking back, what counts: weeks in which a ladder goes up, and sessions held that starts wait for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from attrs import field

from planlang.model.diary import Diary
from planlang.model.plan import Plan
from planlang.planning.activity_days import DAY, Days, counted, in_week, told_of
from planlang.planning.past import Held, Outcome
from planlang.planning.slots import timetable_of
from planlang.planning.week import Week, WeekKind, Weeks
from planlang.text.data import define


@define(eq=False)
class Counting:
    """A plan and its diary up to a day. `stilled`: days on which what goes on in an easier week took the place."""

    plan: Plan
    diary: Diary
    day: date
    stilled: frozenset[date]
    told: dict[str, Days] = field(init=False)
    """By activity that stands in no session, what is told of its days."""

    def __attrs_post_init__(self) -> None:
        inside = {name for session in self.plan.sessions for name in session.do}
        alone = [e for e in self.plan.exercises if e.activity and e.name not in inside]
        self.told = {e.name: told_of(e, self.diary) for e in alone}

    def uncounted(self, weeks: Weeks, held: Iterable[Held]) -> Mapping[str, frozenset[int]]:
        """By exercise the training weeks so far in which fewer than half of its due sessions, or days, were done."""
        by_week = _by_week(held)
        found: dict[str, set[int]] = {}
        for week in self._so_far(weeks):
            here = by_week.get(week.number, [])
            for name in (*week.exercises, *week.activities):
                if not (self._days_count(name, week) if name in self.told else enough(name, here)):
                    found.setdefault(name, set()).add(week.number)
        return {name: frozenset(numbers) for name, numbers in found.items()}

    def held(self, weeks: Weeks, held: Iterable[Held]) -> Mapping[int, tuple[tuple[int, tuple[str, ...]], ...]]:
        """By training week so far, the sessions held or still ahead, and the days of what stands in no session."""
        by_week = _by_week(held)
        calendar = timetable_of(self.plan).calendar
        found = {}
        for week in self._so_far(weeks):
            here = by_week.get(week.number, [])
            listed = [(1, h.exercises if h.outcome is Outcome.AHEAD else h.done) for h in here]
            for name, days in self.told.items():
                exercise = self.plan.exercise(name)
                weekly = exercise is not None and exercise.weekly
                told = 1 if weekly else len(in_week(days, week, self.day, self.stilled))
                listed.append((told or calendar.days_here(week.number), (name,)))
            found[week.number] = tuple(listed)
        return found

    def _so_far(self, weeks: Weeks) -> Iterable[Week]:
        return (w for w in weeks.weeks if w.kind is WeekKind.TRAINING and w.starts <= self.day)

    def _days_count(self, name: str, week: Week) -> bool:
        """Whether a week of an activity counts; one that is not over goes as planned."""
        exercise = self.plan.exercise(name)
        if exercise is None or week.starts + 6 * DAY > self.day:
            return True
        return counted(exercise, week, in_week(self.told[name], week, self.day, self.stilled))


def enough(name: str, held: Iterable[Held]) -> bool:
    """Whether half of an exercise's due sessions in a week were done, those still ahead taken as done."""
    due = [h for h in held if name in h.exercises]
    done = sum(name in h.done or h.outcome is Outcome.AHEAD for h in due)
    return bool(due) and 2 * done >= len(due)


def _by_week(held: Iterable[Held]) -> dict[int, list[Held]]:
    found: dict[int, list[Held]] = {}
    for one in held:
        found.setdefault(one.week, []).append(one)
    return found
