"""Plans made by hand with short helpers, for tests of every stage."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from planlang.model.dose import Dose, Load, Size, SizeKind
from planlang.model.exercise import Exercise, Pace, Step, Window
from planlang.model.plan import Away, Plan, Target, When
from planlang.model.quantity import Range
from planlang.model.rest import Rest, Return
from planlang.model.session import Days, Session
from planlang.text.source import Source

MONDAY = date(2027, 3, 1)
WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]


def sets(count: int, reps: int, kg: int | None = None) -> Dose:
    """`3x8`, `3x8 at 2 kg`."""
    load = None if kg is None else Load("mass", Range.of(kg), "kg")
    return Dose(size=Size(SizeKind.REPS, (Range.of(reps),), "reps", Range.of(count)), load=load)


def held(count: int, seconds: int) -> Dose:
    """`3x30 s`."""
    return Dose(size=Size(SizeKind.TIMED_SETS, (Range.of(seconds),), "s", Range.of(count)))


def minutes(count: int) -> Dose:
    """`20 min`."""
    return Dose(size=Size(SizeKind.TIME, (Range.of(count),), "min"))


def steps_a_day(count: int) -> Dose:
    """`3200 steps/day`."""
    return Dose(size=Size(SizeKind.PER_DAY, (Range.of(count),), "steps/day"))


def minutes_a_week(count: int) -> Dose:
    """`70 min/week`."""
    return Dose(size=Size(SizeKind.PER_WEEK, (Range.of(count),), "min/week"))


def step(dose: Dose, weeks: int | None = None) -> Step:
    """One step of a ladder, with its own length where `weeks` is given."""
    return Step(dose, dose, weeks)


def rungs(doses: Iterable[Dose], lengths: Sequence[int | None] = ()) -> tuple[Step, ...]:
    """A ladder of these doses; `lengths` gives steps their own weeks, from the first on."""
    return tuple(step(dose, lengths[n] if n < len(lengths) else None) for n, dose in enumerate(doses))


def ladder(count: int, lengths: Sequence[int | None] = ()) -> tuple[Step, ...]:
    """`count` steps, each with more repetitions than the one before: 2x5, 2x6 ..."""
    return rungs((sets(2, 5 + n) for n in range(count)), lengths)


def window(*ranges: tuple[int, int | None]) -> Window:
    """`training weeks 1 to 3, 5 on` is `window((1, 3), (5, None))`."""
    return Window(tuple(ranges))


def make_exercise(
    name: str = "sit-to-stand",
    steps: int | tuple[Step, ...] = 4,
    every: int | None = 1,
    *,
    kind: str | None = "strength",
    from_week: int | None = None,
    easier: Dose | None = None,
    **parts: object,
) -> Exercise:
    """An exercise of sessions that goes up every `every` training weeks."""
    made = ladder(steps) if isinstance(steps, int) else steps
    return Exercise(
        name,
        kind=kind,
        steps=made,
        pace=None if every is None else Pace(every, from_week=from_week),
        easier=None if easier is None else step(easier),
        **parts,
    )


def make_activity(
    name: str = "walking",
    steps: int | tuple[Step, ...] = 4,
    every: int | None = 1,
    *,
    kind: str | None = "aerobic",
    from_week: int | None = None,
    easier: Dose | None = None,
    **parts: object,
) -> Exercise:
    """An activity in steps a day: 3000, 3300, 3600 ..."""
    made = rungs(steps_a_day(3000 + 300 * n) for n in range(steps)) if isinstance(steps, int) else steps
    return make_exercise(name, made, every, kind=kind, from_week=from_week, easier=easier, activity=True, **parts)


def make_session(
    *names: str,
    days: str | Sequence[int] = "Mon Wed Fri",
    name: str = "Chair and bench",
    **parts: object,
) -> Session:
    """A session on named days that holds the exercises named."""
    fixed = tuple(WEEKDAYS.index(day) for day in days.split()) if isinstance(days, str) else tuple(days)
    return Session(name, days=parts.pop("day_lines", (Days(fixed=fixed),)), do=names, **parts)


def make_rest(room: int | None = 1, *returns: tuple[int, int, int], **parts: object) -> Rest:
    """A `rest` block; each return is (steps lower, weeks, after weeks), after 1 where it is unsaid."""
    return Rest(room=room, returns=tuple(Return(*one) for one in returns), **parts)


def make_plan(
    *exercises: Exercise,
    weeks: int = 8,
    room: int = 1,
    returns: Sequence[tuple[int, int, int]] = (),
    starts: date = MONDAY,
    sessions: Sequence[Session] | None = None,
    rest: Rest | None = None,
    title: str = "Two raised beds by spring",
    **parts: object,
) -> Plan:
    """A plan; without `sessions` one on Monday, Wednesday and Friday holds every exercise that is no activity."""
    if not exercises:
        exercises = (make_exercise(),)
    if sessions is None:
        inside = tuple(exercise.name for exercise in exercises if not exercise.activity)
        sessions = (make_session(*inside),) if inside else ()
    return Plan(
        title,
        source=Source("made.plan", ""),
        starts=starts,
        weeks=weeks,
        zone="Europe/London",
        rest=rest if rest is not None else make_rest(room, *returns),
        exercises=tuple(exercises),
        sessions=tuple(sessions),
        **parts,
    )


def reach(dose: Dose, name: str, week: int | None = None, day: date | None = None, title: str = "Reached") -> Target:
    """A trained target, due on a day or at the end of a calendar week."""
    return Target(title, by=When(day=day, week=week), reach=dose, reach_in=name)


def away(plan_starts: date, first: int, last: int, session: str | None = None) -> Away:
    """Away from the `first` to the `last` day of the plan, both counted from 1."""
    return Away(plan_starts + timedelta(first - 1), plan_starts + timedelta(last - 1), "school holidays", session)
