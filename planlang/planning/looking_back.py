"""A plan with its diary, looked back on: the one place where what happened becomes what the reckoning takes from it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from planlang.model.diary import Diary, What
from planlang.model.joints import rests
from planlang.model.plan import Plan
from planlang.planning.counting import Counting
from planlang.planning.happened import matched, moves
from planlang.planning.past import Held, Looking, Outcome, Past
from planlang.planning.reckon import LAST_START, reckon
from planlang.planning.slots import Turns, timetable_of
from planlang.planning.stretches import days_in, rest_weeks, stretches
from planlang.planning.week import Week
from planlang.planning.weeks import LONGEST_PLAN, Calendar

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
    counting = Counting(plan, diary, day, stilled)
    # What a week holds hangs on what became of the weeks before it, so each round settles one week more at least.
    for _ in range(calendar.length + 2):
        weeks = reckon(plan, rest, looking)
        found = matched(plan, diary, weeks, day, stilled)
        turns, now = _turns(plan, found.held, week)
        newer = Looking(
            rest,
            counting.uncounted(weeks, found.held),
            looking.halted,
            stilled,
            turns,
            (day, now) if now else None,
            _sat(plan, found.held) if now else {},
            moves(diary, weeks, day),
            counting.held(weeks, found.held),
        )
        if newer == looking:
            break
        looking = newer
    held, extra, unmatched = tuple(found.held), tuple(found.extra), tuple(found.unmatched)
    return Past(plan, diary, day, week, looking, held, extra, unmatched, weeks=weeks)


def can_look_back(plan: Plan) -> bool:
    """Whether a plan has weeks to look back on."""
    return plan.starts is not None and 1 <= (plan.weeks or 0) <= LONGEST_PLAN and plan.starts <= LAST_START


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
    return {name: frozenset(weeks) for name, weeks in found.items()}


def _turns(plan: Plan, held: Iterable[Held], week: int) -> tuple[Mapping[int, Turns], Turns | None]:
    """Whose turn it is after each week that is over, where sessions take turns: held until its session is done.

    And whose turn it is now, None where no sessions take turns.
    """
    timetable = timetable_of(plan)
    shared = [i for i, group in enumerate(timetable.groups) if len(group.members) > 1]
    if not shared:
        return {}, None
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
    return found, tuple(now)


def _sat(plan: Plan, held: Iterable[Held]) -> Mapping[tuple[int, date], str]:
    """Which session in turn was done in the place of the day, for those that were done."""
    timetable = timetable_of(plan)
    found = {}
    for one in held:
        session, day = plan.session(one.name), one.moved_from or one.day
        if session is not None and day is not None and one.outcome in TAKEN:
            group = timetable.group_of(session)
            if len(timetable.groups[group].members) > 1:
                found[group, day] = one.name
    return found


def week_of(past: Past, day: date) -> Week | None:
    """The reckoned week that holds a day."""
    first = past.weeks.weeks[0].starts
    number = (day - first).days // 7
    return past.weeks.weeks[number] if 0 <= number < len(past.weeks.weeks) else None
