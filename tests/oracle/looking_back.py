"""A plan looked back on with its diary, read slowly and literally, apart from the product.

Written by another hand than `planlang/planning/looking_back.py`: leave this file to its writer.
Every line of the diary is looked at anew for every day, session and week.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from attrs import define, field, frozen

from planlang.model.diary import Entry, What
from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.planning.week import WeekKind
from tests.oracle import replay as going
from tests.oracle.atleast import first_at_least
from tests.oracle.kinds import Kind, away_weeks, is_away, kinds
from tests.oracle.ladders import Ladder, Seen, place
from tests.oracle.sittings import exercise_days, session_days, sessions_of

LASTING = {What.FLARE: What.FLARE_OVER, What.ILLNESS: What.ILLNESS_OVER, What.PAUSE: What.PAUSE_OVER}
TAKEN = (What.DONE, What.PART)


def inside(entries: Sequence[Entry], day: date, as_of: date) -> bool:
    """Whether a day lies inside a flare, illness or pause ("open ones run to as_of").

    It begins on the day of its line and ends before the day that says it is over; begun and over on one day it is
    that day.
    """
    if day > as_of:
        return False
    for what, ending in LASTING.items():
        for begun in [e.day for e in entries if e.what is what and e.day <= as_of]:
            overs = [e.day for e in entries if e.what is ending and begun <= e.day <= as_of]
            if begun <= day and (not overs or day < min(overs) or begun == day == min(overs)):
                return True
    return False


def rest_weeks(plan: Plan, entries: Sequence[Entry], as_of: date) -> frozenset[int]:
    """ "a calendar week is a rest week if the diary says so, or if at least 4 of its 7 days lie inside a flare, illness
    or pause"; "Rest is never placed on" an away week.
    """
    found = set()
    for week in kinds(plan):
        said = any(e.what is What.REST and e.joint is None and e.day in week.days for e in entries if e.day <= as_of)
        if said or sum(inside(entries, day, as_of) for day in week.days) >= 4:
            found.add(week.number)
    return frozenset(found - away_weeks(plan))


@define
class Due:
    """A session that was due, and its line."""

    week: int
    name: str
    day: date
    line: Entry | None = None
    moved: bool = False

    @property
    def taken(self) -> bool:
        return self.line is not None and self.line.what in TAKEN


@define
class BackLadder(Ladder):
    """As a ladder that only looks ahead, but that a step at which too little was done is not "last done"."""

    @property
    def last_own_step(self) -> int:
        """ "let s = min(K-1, (c-1) div m), the step last done at its own level"."""
        return place(self.exercise, self.c - 1)[0] if self.c else 0


@frozen
class Back:
    """One calendar week looked back on."""

    week: Kind
    seen: dict[str, Seen] = field(factory=dict)
    counted: dict[str, bool] = field(factory=dict)


@define
class Story:
    """A plan, its diary, and the day up to which it is read."""

    plan: Plan
    entries: list[Entry]
    as_of: date
    weeks: list[Back] = field(factory=list)
    rest: frozenset[int] = frozenset()
    dues: list[Due] = field(factory=list)

    def still(self, day: date) -> bool:
        """Whether sessions of a day are replaced by `still do`: a week of rest has none anyway."""
        return (day - self.plan.starts).days // 7 + 1 not in self.rest and inside(self.entries, day, self.as_of)

    def tell(self) -> list[Back]:
        """Every calendar week, one after the other."""
        plan = self.plan
        self.rest = rest_weeks(plan, self.entries, self.as_of)
        self.dues = self.all_dues()
        self.match()
        ladders = {e.name: BackLadder(e) for e in plan.exercises}
        past: list[going.Past] = []
        for week in kinds(plan, self.rest):
            counted: dict[str, bool] = {}
            match week.kind:
                case WeekKind.TRAINING:
                    seen = self.training_week(ladders, past, week, counted)
                case WeekKind.REST:
                    seen = going.rest_week(plan, ladders, past)
                case WeekKind.SPARE:
                    seen = going.spare_week(plan, ladders, past, week)
                    seen = {n: s for n, s in seen.items() if self.left(plan.exercise(n), week, self.last_trained(past))}
                case WeekKind.AWAY:
                    seen = going.away_week(plan, ladders, week)
            past.append(going.Past(week, seen))
            self.weeks.append(Back(week, seen, counted))
            for name, ladder in ladders.items():
                ladder.kinds.append(WeekKind.REST if self.halted(ladder.exercise, week) else week.kind)
                ladder.seen.append(seen.get(name))
        return self.weeks

    def last_trained(self, past: list[going.Past]) -> int:
        return [one.week.training_week for one in past if one.week.kind is WeekKind.TRAINING][-1]

    def all_dues(self) -> list[Due]:
        """Every session of every week that is no week of rest; those in spare weeks are due when they have come."""
        found, training_week = [], 0
        for week in kinds(self.plan, self.rest):
            training_week = week.training_week or training_week
            if week.kind not in (WeekKind.TRAINING, WeekKind.SPARE) or not training_week:
                continue
            for session in self.plan.sessions:
                days = session_days(self.plan, session, week, training_week)
                found += [Due(week.number, session.name, day) for day in days]
        for line in sorted((e for e in self.entries if e.what is What.MOVED), key=lambda e: e.day):
            for due in found:
                if line.day <= self.as_of and (due.name, due.day, due.moved) == (line.name, line.day, False):
                    due.day, due.moved = line.to, True
                    break
        return [due for due in found if not self.still(due.day)]

    def match(self) -> None:
        """Each line to its session. On its day; else, of sessions done, to the nearest of its calendar week of which
        nothing is written, the earlier of two; else to one that was not done before it: it was made up. Lines of days
        outside the plan are of no session of it.
        """
        days = [day for week in kinds(self.plan, self.rest) for day in week.days]
        lines = [e for e in self.entries if e.day <= self.as_of and e.what in (*TAKEN, What.NOT_DONE) and e.day in days]
        lines.sort(key=lambda e: (e.what is What.NOT_DONE, e.day, e.what is What.PART))
        loose = []
        for line in lines:
            same = [e for e in lines[: lines.index(line)] if (e.name, e.day) == (line.name, line.day)]
            if len(same) >= max(1, sum((d.name, d.day) == (line.name, line.day) for d in self.dues)):
                continue  # told more often than it was held that day: counts nowhere
            here = [d for d in self.dues if (d.name, d.day, d.line) == (line.name, line.day, None)]
            if here:
                here[0].line = line
            elif line.what in TAKEN:
                loose.append(line)
        for line in loose:
            week = (line.day - self.plan.starts).days // 7 + 1
            mine = [d for d in self.dues if d.name == line.name and d.week == week]
            open_ones = [d for d in mine if d.line is None]
            made_up = [d for d in mine if d.line is not None and not d.taken and d.day < line.day]
            for choice in (open_ones, made_up):
                if choice:
                    min(choice, key=lambda d: (abs((d.day - line.day).days), d.day)).line = line
                    break

    def halted(self, exercise: Exercise, week: Kind) -> bool:
        """ "`rest for JOINT` in a diary holds c of the exercises that load it": that calendar week."""
        return any(
            e.what is What.REST and e.joint is not None and e.day in week.days and e.day <= self.as_of
            for e in self.entries
            if e.joint is not None and any(loaded(exercise, e.joint.name, e.joint.side))
        )

    def left(self, exercise: Exercise, week: Kind, training_week: int) -> bool:
        """Whether a session, or day, of it is left in a week."""
        inside_of = sessions_of(self.plan, exercise.name)
        if not exercise_days(self.plan, exercise, week, training_week):
            return False
        if exercise.activity and not inside_of:
            return any(not is_away(self.plan, day) for day in week.days)
        return any(d.week == week.number and d.name in [s.name for s in inside_of] for d in self.dues)

    def training_week(
        self, ladders: dict[str, Ladder], past: list[going.Past], week: Kind, counted: dict[str, bool]
    ) -> dict[str, Seen]:
        """First what has begun, then what begins; c grows where enough was done."""
        plan, now = self.plan, week.training_week
        due = [e for e in plan.exercises if e.steps and self.left(e, week, now) and not self.halted(e, week)]
        seen: dict[str, Seen] = {}
        for exercise in due:
            if ladders[exercise.name].begun:
                seen[exercise.name] = self.done(ladders[exercise.name], week, counted)
        eased = any(one.easing for one in seen.values())
        for exercise in due:
            if not ladders[exercise.name].begun and self.may_begin(exercise, past, now, eased):
                seen[exercise.name] = self.done(ladders[exercise.name], week, counted)
        return seen

    def done(self, ladder: Ladder, week: Kind, counted: dict[str, bool]) -> Seen:
        before = ladder.c
        seen = going.done(self.plan, ladder, week.training_week)
        counted[ladder.exercise.name] = self.enough(ladder.exercise, seen, week)
        if seen.own and ladder.c > before - 1 and not counted[ladder.exercise.name] and not self.kept(ladder, week):
            ladder.c -= 1  # "it grows only ..., looking back, only if at least half of its due sessions were done"
        return seen

    def kept(self, ladder: Ladder, week: Kind) -> bool:
        pace = ladder.exercise.pace
        return pace is not None and week.training_week < (pace.from_week or 0)

    def enough(self, exercise: Exercise, seen: Seen, week: Kind) -> bool:
        """ "at least half of the due sessions were done", what is still ahead in an open week taken as done."""
        if week.days[0] > self.as_of:
            return True
        if exercise.activity and not sessions_of(self.plan, exercise.name):
            return week.days[-1] > self.as_of or self.enough_days(exercise, seen, week)
        due = self.dues_of(exercise, week)
        return 2 * sum(self.was_done(exercise, d) or self.ahead(d) for d in due) >= len(due)

    def dues_of(self, exercise: Exercise, week: Kind) -> list[Due]:
        names = [s.name for s in sessions_of(self.plan, exercise.name)]
        return [d for d in self.dues if d.week == week.number and d.name in names]

    def ahead(self, due: Due) -> bool:
        return due.day > self.as_of and due.line is None

    def was_done(self, exercise: Exercise, due: Due) -> bool:
        """A session done without what was left out; of a part, only what is named."""
        if not due.taken:
            return False
        named = exercise.name in due.line.names
        return named if due.line.what is What.PART else not named

    def told(self, exercise: Exercise, week: Kind) -> dict[date, Fraction]:
        """What the diary tells of an activity on days of a week that are not inside a flare, illness or pause."""
        found: dict[date, Fraction] = {}
        for e in self.entries:
            if e.day not in week.days or e.day > self.as_of or self.still(e.day):
                continue
            if e.what is What.WALKED and e.value.unit == ("min" if exercise.weekly else "steps"):
                found[e.day] = found.get(e.day, Fraction(0)) + e.value.value
        return found

    def enough_days(self, exercise: Exercise, seen: Seen, week: Kind) -> bool:
        """ "if the week has no entry of it, it goes as planned, else at least half of the days recorded reached the
        week's aim"; half of a weekly quota.
        """
        days = self.told(exercise, week)
        step = exercise.easier if seen.step < 0 else exercise.steps[seen.step]
        aim = step.dose.size.amounts[0].low
        if not days:
            return True
        if exercise.weekly:
            return 2 * sum(days.values()) >= aim
        return 2 * sum(value >= aim for value in days.values()) >= len(days)

    def may_begin(self, exercise: Exercise, past: list[going.Past], now: int, eased: bool) -> bool:
        """As without a diary, but that only what was done, or is still ahead, counts as held."""
        start = exercise.start
        if start is None:
            return True
        if start.training_week is not None:
            return now >= start.training_week
        trained = [one for one in past if one.week.kind is WeekKind.TRAINING]
        if start.reach is not None:
            other = self.plan.exercise(start.of)
            step = first_at_least(self.plan, other, start.reach) if other is not None else None
            steps = [
                one.seen[start.of].step
                for one in trained
                if start.of in one.seen and self.held(other, one.week, one.seen)
            ]
            return not eased and step is not None and any(done is not None and done >= step for done in steps)
        base = sum(weeks for kind, weeks in self.plan.today.base if kind == start.of)
        return not eased and base + sum(self.counts(start.of, one) for one in trained) >= start.weeks

    def held(self, exercise: Exercise, week: Kind, seen: dict[str, Seen]) -> int:
        """How many sessions, or days, of it were held in a week."""
        if exercise.activity and not sessions_of(self.plan, exercise.name):
            days = [d for d in self.told(exercise, week) if d <= self.as_of]
            return len(days) or len(exercise_days(self.plan, exercise, week, week.training_week))
        return sum(self.was_done(exercise, d) or self.ahead(d) for d in self.dues_of(exercise, week))

    def counts(self, kind_or_name: str, one: going.Past) -> bool:
        """ "each held at least two sessions of K (strength) or one (any other)"."""
        named = self.plan.exercise(kind_or_name)
        those = [
            e
            for e in self.plan.exercises
            if e.name in one.seen and (e is named if named is not None else e.kind == kind_or_name)
        ]
        in_sessions = [e for e in those if sessions_of(self.plan, e.name)]
        dues = {id(d): d for e in in_sessions for d in self.dues_of(e, one.week)}
        count = sum(
            self.ahead(d)
            or any(
                self.was_done(e, d) for e in in_sessions if d.name in [s.name for s in sessions_of(self.plan, e.name)]
            )
            for d in dues.values()
        )
        for e in those:
            if e.activity and not sessions_of(self.plan, e.name):
                count += 1 if e.weekly else self.held(e, one.week, one.seen)
        return count >= (2 if kind_or_name == "strength" else 1)


def loaded(exercise: Exercise, joint: str, side: str | None) -> list[bool]:
    """For each joint that an exercise says it loads, whether it is this one, of this side if both say one."""
    return [
        one.name == joint and (side in (None, "both") or one.side in (None, "both", side)) for one in exercise.joints
    ]


def look_back(plan: Plan, entries: Sequence[Entry], as_of: date) -> list[Back]:
    """Every calendar week of a plan as its diary tells it up to a day, those after it as planned."""
    return Story(plan, list(entries), as_of).tell()
