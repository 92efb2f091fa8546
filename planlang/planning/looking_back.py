"""A plan with its diary, looked back on: the one place where what happened becomes what the reckoning takes from it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from types import MappingProxyType

from planlang.model.diary import Diary, What
from planlang.model.exercise import Exercise
from planlang.model.joints import loads
from planlang.model.plan import Plan
from planlang.planning.activity_days import counted
from planlang.planning.happened import Matched, matched
from planlang.planning.past import Held, Looking, Outcome, Past
from planlang.planning.reckon import reckon
from planlang.planning.slots import Turns, timetable_of
from planlang.planning.stretches import days_in, rest_weeks, stretches
from planlang.planning.week import Week, WeekKind, Weeks
from planlang.planning.weeks import Calendar

DAY = timedelta(days=1)
TAKEN = (Outcome.DONE, Outcome.PART)


def past_of(plan: Plan, diary: Diary, as_of: date | None = None) -> Past:
    """What a diary says of a plan's weeks up to a day; unsaid: the last that it tells of.

    Raises ValueError for a plan that can't be reckoned (no start, no length, too long): ask `can_look_back`.
    """
    if not can_look_back(plan):
        raise ValueError("a plan without weeks has no past")
    day = as_of or diary.last or plan.starts
    assert day is not None
    calendar = timetable_of(plan).calendar
    rest = rest_weeks(calendar, diary, day)
    stilled = _stilled(calendar, diary, day, rest)
    week = min(max((day - calendar.starts).days // 7 + 1, 1), calendar.length + 1)
    looking = Looking(rest=rest, halted=_halted(plan, calendar, diary, day), stilled=stilled)
    weeks = reckon(plan, rest, looking)
    found = matched(plan, diary, weeks, day)
    turns = _turns(plan, found.held, week)
    if turns:
        looking = Looking(rest, halted=looking.halted, stilled=stilled, turns=turns)
        weeks = reckon(plan, rest, looking)
        found = matched(plan, diary, weeks, day)
    uncounted = _uncounted(plan, diary, weeks, found, week, day)
    if uncounted:
        looking = Looking(rest, uncounted, looking.halted, stilled, turns)
        weeks = reckon(plan, rest, looking)
    return Past(plan, diary, day, week, looking, tuple(found.held), tuple(found.extra), weeks=weeks)


def can_look_back(plan: Plan) -> bool:
    """Whether a plan has weeks to look back on."""
    return bool(plan.starts and plan.weeks) and bool(reckon(plan).weeks)


def _stilled(calendar: Calendar, diary: Diary, day: date, rest: frozenset[int]) -> frozenset[date]:
    """Days of a flare, illness or pause in weeks that are no easier ones: what goes on takes the sessions' place."""
    inside = days_in(stretches(diary, day))
    return frozenset(d for d in inside if (d - calendar.starts).days // 7 + 1 not in rest)


def _halted(plan: Plan, calendar: Calendar, diary: Diary, day: date) -> Mapping[str, frozenset[int]]:
    """The weeks in which each exercise rests for a joint that it loads."""
    found: dict[str, set[int]] = {}
    for entry in diary.of(What.REST):
        if entry.joint is None or entry.day > day:
            continue
        week = (entry.day - calendar.starts).days // 7 + 1
        for exercise in plan.exercises:
            if rests(exercise, entry.joint.name, entry.joint.side):
                found.setdefault(exercise.name, set()).add(week)
    return MappingProxyType({name: frozenset(weeks) for name, weeks in found.items()})


def rests(exercise: Exercise, joint: str, side: str | None) -> bool:
    """Whether an exercise loads a joint; of one side, unless it says that it loads the other only."""
    if joint not in (loads(exercise) or ()):
        return False
    said = {j.side for j in exercise.joints if j.name == joint}
    return side in (None, "both") or not said or bool(said & {None, "both", side})


def _turns(plan: Plan, held: Iterable[Held], week: int) -> Mapping[int, Turns]:
    """Whose turn it is after each week that is over, where sessions take turns: held until its session is done."""
    timetable = timetable_of(plan)
    shared = [i for i, group in enumerate(timetable.groups) if len(group.members) > 1]
    if not shared:
        return MappingProxyType({})
    now = list(timetable.first_turns)
    by_week: dict[int, list[Held]] = {}
    for one in held:
        by_week.setdefault(one.week, []).append(one)
    found: dict[int, Turns] = {}
    for number in range(1, week + 1):
        here = sorted((h for h in by_week.get(number, ()) if h.outcome in TAKEN), key=lambda h: h.on or date.min)
        for one in here:
            for i in shared:
                names = [member.name for member in timetable.groups[i].members]
                if one.name in names:
                    now[i] = (names.index(one.name) + 1) % len(names)
        if number < week or not any(h.outcome is Outcome.AHEAD for h in by_week.get(number, ())):
            found[number] = tuple(now)
    return MappingProxyType(found)


def _uncounted(
    plan: Plan, diary: Diary, weeks: Weeks, found: Matched, week: int, day: date
) -> Mapping[str, frozenset[int]]:
    """By exercise the training weeks so far in which fewer than half of its due sessions, or days, were done."""
    by_week: dict[int, list[Held]] = {}
    for one in found.held:
        by_week.setdefault(one.week, []).append(one)
    uncounted: dict[str, set[int]] = {}
    inside = {name for session in plan.sessions for name in session.do}
    for reckoned in weeks.weeks[:week]:
        if reckoned.kind is not WeekKind.TRAINING:
            continue
        here, over = by_week.get(reckoned.number, []), reckoned.number < week
        for name in (*reckoned.exercises, *reckoned.activities):
            exercise = plan.exercise(name)
            if exercise is None:
                continue
            by_day = name not in inside
            if not (counted(exercise, reckoned, diary, day) or not over if by_day else enough(name, here, over)):
                uncounted.setdefault(name, set()).add(reckoned.number)
    return MappingProxyType({name: frozenset(numbers) for name, numbers in uncounted.items()})


def enough(name: str, held: Iterable[Held], over: bool) -> bool:
    """Whether half of an exercise's due sessions in a week were done, or can still be in one that is not over."""
    due = [h for h in held if name in h.exercises]
    done = sum(name in h.done for h in due) + (0 if over else sum(h.outcome is Outcome.AHEAD for h in due))
    return 2 * done >= len(due)


def week_of(past: Past, day: date) -> Week | None:
    """The reckoned week that holds a day."""
    first = past.weeks.weeks[0].starts
    number = (day - first).days // 7
    return past.weeks.weeks[number] if 0 <= number < len(past.weeks.weeks) else None
