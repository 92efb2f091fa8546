"""Looking back and ahead over a reckoned plan: what was done last, what an easing comes from and how long it lasts."""

from __future__ import annotations

from datetime import date

from planlang.planning.week import Done, Week, WeekKind, Weeks
from planlang.text.data import frozen


@frozen
class Course:
    """A reckoned plan, asked week by week. Weeks are calendar weeks, from 1."""

    weeks: Weeks

    def done(self, name: str, week: int) -> Done | None:
        """What is done of an exercise or activity in a week."""
        if not 1 <= week <= len(self.weeks.weeks):
            return None
        one = self.weeks.weeks[week - 1]
        return one.exercises.get(name) or one.activities.get(name)

    def last_own(self, name: str, week: int) -> Done | None:
        """What was last done at its own level before a week."""
        for number in range(week - 1, 0, -1):
            done = self.done(name, number)
            if done and done.own and not done.easing and not done.lighter:
                return done
        return None

    def new_here(self, name: str, week: int) -> bool:
        """True where an exercise comes for the first time, after others had begun."""
        return week > 1 and all(self.done(name, number) is None for number in range(1, week))

    def first_back(self, name: str, week: int) -> bool:
        """True in the first week of an easing."""
        now, before = self.done(name, week), self.done(name, week - 1)
        return bool(now and now.easing and not (before and before.easing))

    def easing_left(self, name: str, week: int) -> int:
        """How many further weeks of easing follow a week."""
        left = 0
        while (ahead := self.done(name, week + left + 1)) and ahead.easing:
            left += 1
        return left

    def goes_on(self, week: int) -> bool:
        """True where a further week is trained after a week."""
        return any(w.kind is WeekKind.TRAINING for w in self.weeks.weeks[week:])

    def rest_taken(self, day: date) -> int:
        """How many easier weeks began before a day."""
        return sum(w.kind is WeekKind.REST and w.starts < day for w in self.weeks.weeks)

    def rest_run(self, week: Week) -> int:
        """How many easier weeks stand in a row up to and with this one; away weeks do not break the row."""
        run = 0
        for one in reversed(self.weeks.weeks[: week.number]):
            if one.kind is WeekKind.REST:
                run += 1
            elif one.kind is not WeekKind.AWAY:
                break
        return run
