"""Plans and doses drawn by hypothesis, shared by all property tests."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from datetime import date, timedelta
from fractions import Fraction

from attrs import evolve
from hypothesis import assume
from hypothesis import strategies as st

from planlang.model.dose import Dose, Load, Size, SizeKind
from planlang.model.exercise import Exercise, Start, Step, Window
from planlang.model.plan import Away, Plan, Target, Today
from planlang.model.quantity import Quantity, Range
from planlang.model.rest import Lighter, Rest, StillDo
from planlang.model.session import Days, Session
from tests.made import (
    MONDAY,
    away,
    ladder,
    make_activity,
    make_exercise,
    make_plan,
    make_rest,
    make_session,
    minutes_a_week,
    reach,
    rungs,
    sets,
    steps_a_day,
    window,
)
from tests.oracle.targets import date_of

TIMES = int(os.environ.get("PLANLANG_EXAMPLES", "1"))


def examples(count: int) -> int:
    """How many examples a test draws: `count`, times what PLANLANG_EXAMPLES says for a long run."""
    return count * TIMES


NAMES = ("sit-to-stand", "step-up", "heel-raise")
KINDS = ("strength", "balance", "mobility")
RETURNS: tuple[tuple[tuple[int, int, int], ...], ...] = (
    (),
    ((1, 1, 1),),
    ((0, 0, 1),),
    ((1, 2, 1),),
    ((2, 1, 1),),
    ((1, 1, 1), (2, 2, 2)),
    ((0, 0, 1), (3, 1, 2)),
    ((1, 1, 1), (2, 1, 2), (4, 2, 3)),
    ((2, 2, 2),),
    ((1, 1, 1), (3, 1, 3)),
    ((1, 1, 1), (4, 1, 4)),
)


def one_in(draw: st.DrawFn, many: int) -> bool:
    """True once in so many; the plain case is what failing examples shrink to."""
    return draw(st.integers(0, many - 1)) == many // 2


@st.composite
def ladders(draw: st.DrawFn, most: int = 5, dose: Callable[[int], Dose] | None = None) -> tuple[Step, ...]:
    """A random ladder: mostly upwards, now and then with a step that asks less than the one before."""
    count = draw(st.integers(1, most))
    reps = draw(st.lists(st.integers(5, 12), min_size=count, max_size=count))
    if not one_in(draw, 4):
        reps.sort()
    doses = [dose(one) if dose is not None else sets(1 + one % 3, one) for one in reps]
    lengths: list[int | None] = []
    if one_in(draw, 3):
        lengths = draw(st.lists(st.sampled_from([None, 1, 2, 3]), min_size=count, max_size=count))
    return rungs(doses, lengths)


@st.composite
def windows(draw: st.DrawFn, last: int) -> Window:
    """One or two runs of training weeks; the last run may be open."""
    first = draw(st.integers(1, 1 + last // 2))
    until = draw(st.integers(first, last))
    shape = draw(st.sampled_from([0, 1, 2]))
    if shape == 0:
        return window((first, None))
    if shape == 1:
        return window((first, until))
    again = draw(st.integers(until + 2, until + 4))
    return window((first, until), (again, draw(st.sampled_from([None, again, again + 1]))))


@st.composite
def small_exercises(draw: st.DrawFn, name: str, weeks: int, activity: bool, others: Sequence[str]) -> Exercise:
    """An exercise with a random ladder, pace, window and start. `others`: names that it may start after."""
    a_week = activity and one_in(draw, 3)
    dose = (lambda one: minutes_a_week(10 * one) if a_week else steps_a_day(400 * one)) if activity else None
    steps = draw(ladders(dose=dose))
    every = draw(st.sampled_from([1, 1, 2, 3, None]))
    late = draw(st.integers(0, 9))
    start = None
    if late == 1:
        start = Start(training_week=draw(st.integers(1, 1 + weeks // 2)))
    elif late == 2 and others:
        start = Start(of=draw(st.sampled_from(others)), reach=sets(2, draw(st.integers(5, 8))))
    elif late in (2, 3):
        start = Start(weeks=draw(st.integers(1, 3)), of=draw(st.sampled_from([*others, "strength", "balance"])))
    within = draw(windows(weeks)) if late in (4, 5) else None
    from_week = draw(st.integers(2, 4)) if every and one_in(draw, 6) else None
    easier = None
    if one_in(draw, 3):
        easier = dose(1) if dose is not None else sets(1, 4)
    works = draw(st.sampled_from([(), ("quadriceps",), ("quadriceps", "gluteals"), ("gluteals",)]))
    make = make_activity if activity else make_exercise
    kind = "aerobic" if activity else draw(st.sampled_from(KINDS))
    return make(
        name, steps, every, kind=kind, from_week=from_week, easier=easier, start=start, window=within, works=works
    )


@st.composite
def small_sessions(draw: st.DrawFn, names: Sequence[str], weeks: int, moving: bool = True) -> tuple[Session, ...]:
    """One or two sessions that hold every exercise named, on fixed days of their own or on chosen ones.

    How a chosen day keeps clear of a session on every second day the page does not say: not drawn.
    """
    days = draw(st.permutations(range(7)))
    count = draw(st.integers(1, 2)) if names else 0
    made = []
    for n in range(count):
        inside = names if count == 1 else [name for name in names if draw(st.booleans())]
        if n == 1:
            missing = [name for name in names if not any(name in one.do for one in made)]
            inside = [*inside, *(name for name in missing if name not in inside)]
        line = Days(fixed=tuple(sorted(days[3 * n : 3 * n + draw(st.integers(1, 3))])))
        if one_in(draw, 4) and not any(one.days[0].every_second for one in made):
            line = Days(low=draw(st.integers(1, 3)), high=3)
        elif one_in(draw, 6) and all(one.days[0].fixed for one in made):
            line = Days(every_second=True)
        missed = draw(st.sampled_from([None, "drop", "move within the week"])) if moving else None
        within = draw(windows(weeks)) if one_in(draw, 8) else None
        if inside:
            made.append(
                make_session(*inside, day_lines=(line,), name=f"Session {n + 1}", if_not_done=missed, window=within)
            )
    return tuple(made)


@st.composite
def small_rests(draw: st.DrawFn, room: int, names: Sequence[str]) -> Rest:
    """A `rest` block with any kind of return, lighter weeks, and exercises that go on."""
    lighter = None
    if one_in(draw, 4):
        lighter = Lighter(draw(st.integers(2, 5)), draw(st.integers(1, 2)))
    still = tuple(StillDo(name, sets(2, 10)) for name in names if one_in(draw, 4))
    return make_rest(
        room,
        *draw(st.sampled_from(RETURNS)),
        lighter=lighter,
        still_do=still,
        spare_empty=one_in(draw, 6),
    )


@st.composite
def absences(draw: st.DrawFn, starts: date, weeks: int) -> tuple[Away, ...]:
    """None, one or two `away` lines: whole weeks, parts of weeks; two lines may adjoin, and then name no session."""
    lines: list[Away] = []
    for _ in range(draw(st.sampled_from([0, 0, 1, 2]))):
        first = draw(st.integers(1, 7 * weeks))
        if draw(st.booleans()):
            first = 7 * ((first - 1) // 7) + 1
        last = first + draw(st.sampled_from([6, 0, 2, 5, 9, 13, 16, 20]))
        instead = draw(st.sampled_from([None, None, "Session 1"]))
        lines.append(away(starts, first, last, instead))
    if len(lines) == 2:
        one, other = sorted(lines, key=lambda line: line.first)
        if other.first <= one.last:
            return (one,)
        if (other.first - one.last).days < 7:
            return evolve(one, session=None), evolve(other, session=None)
    return tuple(lines)


@st.composite
def small_plans(draw: st.DrawFn, weeks: tuple[int, int] = (3, 14), room: int = 4, moving: bool = True) -> Plan:
    """A small plan: 3 to 14 weeks, room for up to 4, one to three ladders, away weeks, lighter weeks, late starts."""
    lasts = draw(st.integers(*weeks))
    starts = MONDAY + timedelta(draw(st.sampled_from([0, 0, 2, 5])))
    names = NAMES[: draw(st.integers(0, 3))]
    walking = not names or draw(st.booleans())
    everything = (*names, "walking") if walking else names
    exercises = [
        draw(small_exercises(name, lasts, name == "walking", [one for one in everything if one != name]))
        for name in everything
    ]
    plan = make_plan(
        *exercises,
        weeks=lasts,
        starts=starts,
        sessions=draw(small_sessions(everything if one_in(draw, 6) else names, lasts, moving)),
        away=draw(absences(starts, lasts)),
        today=Today(base=(("strength", 2),)) if one_in(draw, 6) else Today(),
    )
    free = len(free_weeks(plan))
    assume(free >= 1)
    most = max(0, min(room, free - 1))
    allowance = draw(st.sampled_from([*range(1, most + 1), 0]))
    return evolve(plan, rest=draw(small_rests(allowance, everything)))


def free_weeks(plan: Plan) -> list[int]:
    """The calendar weeks on which rest may fall: all that are not away weeks."""
    away_days = {line.first + timedelta(n) for line in plan.away for n in range((line.last - line.first).days + 1)}
    weeks = range(1, plan.weeks + 1)
    return [k for k in weeks if not all(plan.starts + timedelta(7 * (k - 1) + n) in away_days for n in range(7))]


@st.composite
def plans_with_rest(draw: st.DrawFn, weeks: tuple[int, int] = (3, 14), beyond: int = 1) -> tuple[Plan, frozenset[int]]:
    """A small plan and a placement of rest, up to `beyond` weeks more than its room."""
    plan = draw(small_plans(weeks))
    free = free_weeks(plan)
    many = draw(st.integers(0, min(len(free), plan.room + beyond)))
    return plan, frozenset(draw(st.permutations(free))[:many])


@st.composite
def plans_with_runs_of_rest(draw: st.DrawFn) -> tuple[Plan, frozenset[int]]:
    """A long ladder that has climbed when one or two runs of rest come, under every kind of `return`."""
    steps = draw(st.integers(4, 7))
    lengths = [draw(st.sampled_from([None, None, 1, 2])) for _ in range(steps)]
    exercise = make_exercise(
        steps=ladder(steps, lengths),
        every=draw(st.sampled_from([1, 2])),
        easier=draw(st.sampled_from([None, sets(1, 4)])),
    )
    base = Today(base=(("strength", draw(st.integers(1, 5))),))
    walking = make_activity(start=Start(weeks=draw(st.integers(3, 7)), of="strength"))
    weeks = draw(st.integers(10, 14))
    lighter = draw(st.sampled_from([None, None, Lighter(4, 1)]))
    holiday = draw(st.sampled_from([(), (away(MONDAY, 29, 35),)]))
    rest = make_rest(draw(st.integers(2, 5)), *draw(st.sampled_from(RETURNS)), lighter=lighter)
    plan = make_plan(exercise, walking, weeks=weeks, rest=rest, away=holiday, today=base)
    first = draw(st.integers(3, 7))
    run = range(first, first + draw(st.integers(1, 4)))
    second = run.stop + draw(st.integers(1, 3))
    again = range(second, second + draw(st.integers(0, 2)))
    return plan, frozenset(free_weeks(plan)) & {*run, *again}


@st.composite
def plans_with_target(
    draw: st.DrawFn, weeks: tuple[int, int] = (3, 14), room: int = 4, moving: bool = False
) -> tuple[Plan, Target]:
    """A small plan and a trained target in one of its ladders, mostly one that a step reaches."""
    plan = draw(small_plans(weeks, room, moving))
    exercise = draw(st.sampled_from(plan.exercises))
    doses = [one.dose for one in exercise.steps]
    met_without_rest = [dose for dose in doses if date_of(plan, reach(dose, exercise.name), frozenset())]
    dose = draw(st.sampled_from(met_without_rest[::-1] or doses))
    if one_in(draw, 10):
        dose = steps_a_day(9000) if exercise.activity else sets(4, 20)
    week = plan.weeks
    if (met := date_of(plan, reach(dose, exercise.name), frozenset())) is not None:
        week = min(plan.weeks, (met - plan.starts).days // 7 + 1 + draw(st.integers(0, 4)))
    target = reach(dose, exercise.name, week=week)
    if draw(st.booleans()):
        target = reach(dose, exercise.name, day=plan.starts + timedelta(7 * week - draw(st.integers(1, 7))))
    return evolve(plan, targets=(target,)), target


@st.composite
def sizes(draw: st.DrawFn) -> Size:
    """A size of any kind but open ones; equal and unequal sets, ranges, units of one dimension."""
    kind, units = draw(
        st.sampled_from(
            [
                (SizeKind.REPS, ["reps"]),
                (SizeKind.TIMED_SETS, ["s", "min"]),
                (SizeKind.TIME, ["min", "h"]),
                (SizeKind.DISTANCE, ["km", "m", "mile"]),
                (SizeKind.PER_DAY, ["steps/day", "min/day"]),
                (SizeKind.PER_WEEK, ["min/week"]),
            ]
        )
    )
    in_sets = kind in (SizeKind.REPS, SizeKind.TIMED_SETS)
    many = draw(st.integers(1, 3)) if in_sets else 1
    amounts = tuple(Range.of(low, low + draw(st.integers(0, 2))) for low in draw(_numbers(many)))
    if in_sets and many == 1:
        low = draw(st.integers(1, 4))
        return Size(kind, amounts, draw(st.sampled_from(units)), Range.of(low, low + draw(st.integers(0, 1))))
    return Size(kind, amounts, draw(st.sampled_from(units)), Range.of(many))


def _numbers(many: int) -> st.SearchStrategy[list[int]]:
    return st.lists(st.sampled_from([1, 2, 3, 60, 120]), min_size=many, max_size=many)


@st.composite
def doses(draw: st.DrawFn, sided: bool = True) -> Dose:
    """A dose with sides, load, hold, climb, height, variant, band, or none of them."""
    parts: dict[str, object] = {}
    shape = draw(st.sampled_from(["plain", "plain", "each", "left", "both"])) if sided else "plain"
    if shape in ("left", "both"):
        parts["left"] = draw(doses(sided=False))
    if shape == "both":
        parts["right"] = draw(doses(sided=False))
    if shape in ("left", "both"):  # each side in full: nothing is said outside
        return Dose(**parts)
    parts |= {"size": draw(sizes()), "each_side": shape == "each"}
    if one_in(draw, 3):
        basis, unit = draw(
            st.sampled_from([("mass", "kg"), ("mass", "lb"), ("1RM", "%"), ("body weight", "%"), ("RM", "RM")])
        )
        parts["load"] = Load(basis, Range.of(draw(st.integers(1, 12))), unit)
    for part, units in (
        ("hold", ["s", "min"]),
        ("climb", ["m"]),
        ("step_height", ["cm", "inch"]),
        ("chair_height", ["cm", "inch"]),
    ):
        if one_in(draw, 5):
            parts[part] = Quantity(Fraction(draw(st.integers(1, 60))), draw(st.sampled_from(units)))
    for part in ("variant", "band"):
        if one_in(draw, 5):
            parts[part] = draw(st.sampled_from(["firm band", "soft band"]))
    return Dose(**parts)


@st.composite
def dose_pairs(draw: st.DrawFn) -> tuple[Dose, Dose]:
    """Two doses, mostly alike but for a part or two, so that they can often be compared."""
    x = draw(doses())
    if one_in(draw, 4):
        return x, draw(doses())
    other = draw(doses())
    if x.size is None or other.size is None:
        return x, other
    swapped = {}
    for part in ("size", "load", "hold", "climb", "step_height", "chair_height", "variant", "band"):
        if one_in(draw, 4):
            swapped[part] = draw(st.sampled_from([None, getattr(other, part)]))
    if swapped.get("size", x.size) is None:
        del swapped["size"]
    return x, evolve(x, **swapped)


@st.composite
def plans_with_open_days(draw: st.DrawFn) -> Plan:
    """A plan of two to four sessions, some on named days and some with days that the planner chooses."""
    muscles = ["quadriceps", "gluteals", "chest"]
    exercises, sessions = [], []
    for n, letter in enumerate("ABCD"[: draw(st.integers(2, 4))]):
        works = tuple(one for one in muscles if draw(st.booleans()))
        exercises.append(make_exercise(f"exercise-{letter}", 1, None, works=works))
        among = tuple(day for day in range(7) if draw(st.booleans()))
        if n and one_in(draw, 3):
            line = Days(fixed=among or (0,))
        else:
            low = draw(st.integers(1, min(4, len(among) or 4)))
            line = Days(low=low, high=low, among=among, between=draw(st.sampled_from([None, None, 1, 2])))
        sessions.append(make_session(f"exercise-{letter}", name=letter, day_lines=(line,)))
    starts = MONDAY + timedelta(draw(st.integers(0, 6)))
    return make_plan(*exercises, weeks=3, room=0, starts=starts, sessions=sessions)
