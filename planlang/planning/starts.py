"""When an exercise begins: `training week W on`, `start after n weeks of K`, `start after reach D in X`."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import field

from planlang.model.exercise import Exercise, Start
from planlang.model.plan import Plan
from planlang.planning.reach import aim
from planlang.text.data import define

SESSIONS_A_WEEK = {"strength": 2}  # sessions that make a week of a kind; one for any other kind or an exercise's name


def is_of(exercise: Exercise, kind_or_name: str) -> bool:
    """True for the exercise of that name and for those of that kind."""
    return kind_or_name in (exercise.kind, exercise.name)


@define
class Starts:
    """What has been done so far, as far as a start waits for it: the weeks of each kind, the steps reached.

    `weeks` counts training weeks with enough sessions, work done before the plan (`base`) included.
    """

    plan: Plan
    weeks: dict[str, int] = field(init=False)
    wanted: dict[str, int | None] = field(init=False)

    def __attrs_post_init__(self) -> None:
        waits = [(e, e.start) for e in self.plan.exercises if e.start]
        base = dict.fromkeys((s.of for _, s in waits if s.weeks is not None and s.of), 0)
        for kind, weeks in self.plan.today.base:
            if kind in base:
                base[kind] += weeks
        self.weeks = base
        self.wanted = {e.name: self._step(start) for e, start in waits if start.reach is not None}

    def _step(self, start: Start) -> int | None:
        other = self.plan.exercise(start.of) if start.of else None
        if other is None or start.reach is None:
            return None
        return aim(other, start.reach, self.plan.today).step

    def may_begin(self, exercise: Exercise, training_week: int, any_eased: bool, reached: dict[str, int]) -> bool:
        """True where an exercise that has not begun may begin in a training week.

        any_eased: some exercise is eased in that week; a start that waits for work waits for the next.
        reached: each exercise's highest step done at its own level before this week.
        """
        start = exercise.start
        if start is None:
            return True
        if start.training_week is not None:
            return training_week >= start.training_week
        if any_eased:
            return False
        if start.reach is not None:
            step = self.wanted[exercise.name]
            return step is not None and reached.get(start.of or "", -1) >= step
        return self.weeks.get(start.of or "", 0) >= (start.weeks or 0)

    def count(self, sessions: Iterable[tuple[int, Iterable[Exercise]]]) -> None:
        """Count a training week. `sessions`: how many sessions (or days), each with the exercises done in them."""
        self.add(self.held(sessions))

    def held(self, sessions: Iterable[tuple[int, Iterable[Exercise]]]) -> tuple[str, ...]:
        """The kinds and exercises for which such a training week counts."""
        listed = [(count, tuple(exercises)) for count, exercises in sessions]
        return tuple(
            of
            for of in self.weeks
            if sum(count for count, exercises in listed if any(is_of(e, of) for e in exercises))
            >= SESSIONS_A_WEEK.get(of, 1)
        )

    def add(self, held: Iterable[str]) -> None:
        """One week more for each of these."""
        for of in held:
            self.weeks[of] += 1
