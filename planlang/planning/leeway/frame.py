"""What every target of a plan shares: its weeks, and which sessions they hold.

Before calendar week w stand `place` weeks that are not away; with r of them rest it is training week
place - r (spare where that is past the last). So the number of rest weeks so far, beside where a ladder
stands, says all that the past can say, and sets of such numbers are whole integers: bit r for r weeks.
"""

from __future__ import annotations

from functools import cached_property

from attrs import field

from planlang.model.plan import Plan
from planlang.planning.doing import Course
from planlang.planning.ladder import ladder_of
from planlang.planning.leeway.origin import BEGINNING, Origin, UnderWay
from planlang.planning.reckon import LAST_START
from planlang.planning.slot import Slot
from planlang.planning.slots import Timetable, Turns, timetable_of
from planlang.planning.weeks import LONGEST_PLAN, Calendar
from planlang.text.data import define, frozen

WeekKey = tuple[int, frozenset[int], bool]
LAST_DAY = 6


@frozen
class Held:
    """The sessions of a training week: the exercises in them, each with the day (0 to 6) on which it counts as done.

    turns: whose turn it is after the week.
    """

    slots: tuple[Slot, ...]
    days: dict[str, int]
    turns: Turns


def can_be_reckoned(plan: Plan) -> bool:
    """True where the plan has a start, a length that is reckoned, and at least one training week."""
    if plan.starts is None or plan.weeks is None or not 1 <= plan.weeks <= LONGEST_PLAN:
        return False
    if plan.starts > LAST_START:
        return False
    calendar = timetable_of(plan).calendar
    return calendar.length - calendar.room - len(calendar.away_weeks) >= 1


@define(frozen=True, slots=False, eq=False)
class Frame:
    """The weeks of one plan, from where it stands. Needs a plan that `can_be_reckoned`."""

    plan: Plan
    origin: Origin = BEGINNING
    calendar: Calendar = field(init=False)
    timetable: Timetable = field(init=False)
    _held: dict[tuple[object, ...], Held] = field(factory=dict, init=False)
    _away: dict[tuple[object, ...], frozenset[str]] = field(factory=dict, init=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "timetable", timetable_of(self.plan))
        object.__setattr__(self, "calendar", self.timetable.calendar)

    @property
    def room(self) -> int:
        """The most rest weeks that there is room for, those taken among them: what was taken is never taken back."""
        return max(self.calendar.room, self.origin.rest)

    @property
    def turns(self) -> Turns:
        """Whose turn it is where the plan stands."""
        return self.timetable.first_turns if self.origin.turns is None else self.origin.turns

    @cached_property
    def courses(self) -> dict[str, Course]:
        """Exercises and activities with at least one step, each with its whole ladder, by name."""
        inside = {name for session in self.plan.sessions for name in session.do}
        return {
            e.name: Course(e, ladder_of(e, self.plan.rest), e.activity and e.name not in inside)
            for e in self.plan.exercises
            if e.steps
        }

    @cached_property
    def places(self) -> tuple[int, ...]:
        """For each calendar week (index 0: before the first) how many weeks up to it are not away."""
        found = [0]
        for week in range(1, self.calendar.length + 1):
            found.append(found[-1] + (week not in self.calendar.away_weeks))
        return tuple(found)

    @cached_property
    def keys(self) -> tuple[WeekKey, ...]:
        """What tells one calendar week from another, as far as sessions go (index 0 stands for none)."""
        alternate = any(line.every_second for session in self.plan.sessions for line in session.days)
        away = self.calendar.away_days
        return tuple(
            (week % 2 if alternate else 0, away.get(week, frozenset()), self.under_way(week) is not None)
            for week in range(self.calendar.length + 1)
        )

    def under_way(self, week: int) -> UnderWay | None:
        """What is known of a calendar week that is under way where the plan stands."""
        return self.origin.under_way if week == self.origin.week else None

    @cached_property
    def lines(self) -> tuple[tuple[object, ...], ...]:
        """What tells one training week from another, as far as sessions go (index 0 stands for none)."""
        groups = self.timetable.groups
        found: list[tuple[object, ...]] = [()]
        for t in range(1, self.calendar.training_weeks + 1):
            found.append(tuple((id(group.line(t)), *group.active(t)) for group in groups))
        return tuple(found)

    def held(self, week: int, training_week: int, turns: Turns) -> Held:
        """The sessions of a calendar week that is this training week."""
        key = (self.keys[week], self.lines[training_week], turns)
        found = self._held.get(key)
        if found is None:
            slots, after = self.timetable.training(week, training_week, turns)
            days: dict[str, int] = {}
            for slot in slots:
                if not slot.contact:
                    day = LAST_DAY if slot.untimed else slot.offset
                    for name in slot.session.do:
                        days[name] = min(day, days.get(name, LAST_DAY))
            known = self.under_way(week)
            if known is not None:
                days = {name: day for name, day in days.items() if name in known.left}
                days |= {name: LAST_DAY if day is None else day for name, day in known.days.items()}
                after = known.turns or after
            found = Held(slots, days, after)
            self._held[key] = found
        return found

    def day_of(self, name: str, week: int, held: Held) -> int | None:
        """The day of a week on which an exercise counts as done, None where the week holds none of it."""
        course = self.courses[name]
        if not course.free:
            day = held.days.get(name)
            return LAST_DAY if day is not None and course.exercise.weekly else day
        if course.exercise.weekly:
            return LAST_DAY
        away = self.keys[week][1]
        return next(day for day in range(7) if day not in away)

    def done_away(self, week: int, trained: int) -> frozenset[str]:
        """The exercises that the away lines of an away week name, after so many training weeks."""
        if not any(line.session for line in self.calendar.lines_of(week)):
            return frozenset()
        t = max(trained, 1)
        key = (week, t)
        if key not in self._away:
            slots = self.timetable.away(week, t)
            self._away[key] = frozenset(name for slot in slots for name in slot.session.do)
        return self._away[key]
