"""Facts of the reckoned weeks, of jumps in daily steps, and of hard work on two days running."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from fractions import Fraction
from itertools import islice

from planlang.checking.expression.types import COUNT, DATE, TEXT, TEXTS, number, one_of, thing, things
from planlang.checking.facts.legs import trains_legs
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.checking.facts.training import steps_a_day
from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.quantity import in_base
from planlang.planning.week import Done, Week, WeekKind
from planlang.text.data import frozen
from planlang.text.source import Span

week = subject("week", "weeks", lambda it: f"week {it.number}")
past = subject("past-week", "past-weeks", lambda it: it.title)
raise_ = subject("raise", "raises", lambda it: f"{it.exercise.name} in week {it.week.number}")
pair = subject("pair", "pairs", lambda it: f"{it.first.name} and {it.second.name}")

RECKONED = (
    "lasts starts starts_after room away session days do_exercises exercise activity kind begin then rise progress "
    "progress_deed start_after start_reach training lighter in_turn"
)


WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def _all(facts: Facts) -> tuple[Week, ...]:
    return facts.weeks.weeks if facts.weeks else ()


def _training(facts: Facts) -> tuple[Week, ...]:
    return facts.once("training weeks", lambda: tuple(w for w in _all(facts) if w.kind is WeekKind.TRAINING))


root_list("week", "week", "the calendar weeks, as reckoned without rest", _all, RECKONED)
root_list("training-week", "week", "the training weeks", _training, RECKONED)

week.fact("number", COUNT, "which calendar week, from 1", RECKONED)(lambda _, it: it.number)
week.fact("starts", DATE, "its first day", RECKONED)(lambda _, it: it.starts)
week.fact("kind", one_of(*(k.value for k in WeekKind)), "training, rest, away or spare", RECKONED)(
    lambda _, it: it.kind.value
)
week.fact("training-week", COUNT, "which training week, from 1", RECKONED)(lambda _, it: it.training_week)
week.fact("minutes", number("min"), "minutes of all sessions", RECKONED)(lambda _, it: it.minutes)
week.fact("daily-steps", number("steps/day"), "the aim in steps a day", RECKONED)(lambda f, it: aim_in_steps(f, it)[0])
_STRENGTH = RECKONED + " works joints"
_OF_ARMS = "; that of arms or trunk alone is left out"
week.fact("strength-sessions", COUNT, f"sessions that hold strength work{_OF_ARMS}", _STRENGTH)(
    lambda f, it: _strength(f, it)[0]
)
week.fact("strength-days", COUNT, f"days on which strength work is done{_OF_ARMS}", _STRENGTH)(
    lambda f, it: _strength(f, it)[1]
)


def _strength(facts: Facts, it: Week) -> tuple[int, int]:
    return facts.once(("strength", it.number), lambda: _count_strength(_strong(facts), it))


def _strong(facts: Facts) -> dict[str, Exercise]:
    """The strength work by name, that of arms or trunk alone left out."""
    return facts.once("strength", lambda: {e.name: e for e in facts.plan.exercises if _is_strong(e)})


def _is_strong(it: Exercise) -> bool:
    return it.kind == "strength" and trains_legs(it) is not False


def _count_strength(strength: Mapping[str, Exercise], it: Week) -> tuple[int, int]:
    """Sessions and days of strength work in a week, that of arms or trunk alone left out.

    A daily activity counts on each day; of a weekly quota each bout is one, or two where no bouts are written.
    """
    bouts = 0
    for name, done in it.activities.items():
        if name in strength:
            if not strength[name].weekly:
                return 7, 7
            bouts += _bouts(done.dose)
    held = [s for s in it.sittings if not strength.keys().isdisjoint(s.exercises)]
    days = {s.day for s in held if s.count == 1}
    together = sum(s.count for s in held if s.count > 1) + bouts
    return sum(s.count for s in held) + bouts, min(7, len(days) + together)


UNTOLD_BOUTS = 2
"""What a weekly quota of strength is taken to be held in where it doesn't say: nobody is flagged for not saying it."""


def _bouts(it: Dose) -> int:
    size = it.size
    if size is None or not size.amounts or size.bout is None:
        return UNTOLD_BOUTS
    whole, bout = in_base(size.amounts[0].low, size.unit), size.bout.base
    return int(whole // bout) if bout else UNTOLD_BOUTS


def aim_in_steps(facts: Facts, it: Week) -> tuple[Fraction | None, Done | None]:
    """The largest number of steps a day among the activities done at their own level, and that activity."""
    best: tuple[Fraction | None, Done | None] = (None, None)
    for done in it.activities.values():
        value = steps_a_day(done.dose) if done.own else None
        if value is not None and (best[0] is None or value > best[0]):
            best = value, done
    return best


@frozen
class PastWeek:
    """A week before something: one of the plan's, or one of work done before it."""

    title: str
    strength_sessions: int


past.plain(
    "strength_sessions", COUNT, "sessions that held strength work; 2 in a week of `base strength`", RECKONED + " base"
)


_STRONG_BEFORE = PastWeek("a week before the plan", 2)
LONGEST_BASE = 60
"""Weeks before the plan that are looked at."""


@frozen
class RunUp:
    """The weeks before something, the latest first: those that are known, then as many weeks of `base strength`.

    It is looked at only as far back as is asked, since that is all that a rule's answer depends on.
    """

    known: tuple[PastWeek, ...]
    base: int

    def __iter__(self) -> Iterator[PastWeek]:
        yield from self.known
        for n in range(LONGEST_BASE):
            if n >= self.base:
                return
            yield _STRONG_BEFORE

    def __getitem__(self, part: slice) -> tuple[PastWeek, ...]:
        return tuple(islice(self, part.start, part.stop))

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def __bool__(self) -> bool:
        return bool(self.known) or self.base > 0


def run_up(facts: Facts, before: Week) -> RunUp:
    """The training weeks before a week, the latest first, then those of the block before and of `base strength`."""
    weeks = [w for w in _training(facts) if w.number < before.number]
    own = [PastWeek(f"week {w.number}", _strength(facts, w)[0]) for w in reversed(weeks)]
    base = sum(n for kind, n in facts.plan.today.base if kind == "strength")
    return RunUp((*own, *_block_before(facts)), base)


LONGEST_GAP = timedelta(weeks=4)
"""After a longer gap the strength of the block before is no base for this one: common practice, no source."""


def _block_before(facts: Facts) -> Iterator[PastWeek]:
    before, starts = facts.previous, facts.plan.starts
    if before is None or starts is None:
        return
    weeks = [w for w in facts.weeks_before if w.kind is WeekKind.TRAINING]
    if weeks and starts - weeks[-1].starts <= LONGEST_GAP + timedelta(weeks=1):
        strength = {e.name: e for e in before.exercises if _is_strong(e)}
        for it in reversed(weeks):
            yield PastWeek(f"week {it.number} of the block before", _count_strength(strength, it)[0])


@frozen
class Raise:
    """A daily activity that goes up from one training week at its own level to the next."""

    exercise: Exercise
    week: Week
    before: Fraction
    after: Fraction
    span: Span


def _raises(facts: Facts) -> Iterator[Raise]:
    before: Fraction | None = None
    for it in _training(facts):
        value, done = aim_in_steps(facts, it)
        if value is None or done is None or done.step is None:
            continue
        exercise = facts.plan.exercise(done.name)
        if before is not None and value > before and exercise is not None:
            yield Raise(exercise, it, before, value, exercise.steps[done.step].span)
        before = value


root_list("raise", "raise", "each rise in daily steps between training weeks at own level", _raises, RECKONED)
raise_.fact("exercise", thing("exercise"), "the activity that goes up", RECKONED)(lambda _, it: it.exercise)
raise_.fact("week", thing("week"), "the week in which it goes up", RECKONED)(lambda _, it: it.week)
raise_.fact("before", number("steps/day"), "steps a day before", RECKONED)(lambda _, it: it.before)
raise_.fact("after", number("steps/day"), "steps a day from then on", RECKONED)(lambda _, it: it.after)
raise_.fact(
    "run-up",
    things("past-week"),
    "the training weeks before it, the latest first, then the block before and `base strength`",
    RECKONED + " base",
)(lambda f, it: run_up(f, it.week))


@frozen
class Pair:
    """Two exercises that train a muscle on two days running, with their doses."""

    first: Exercise
    second: Exercise
    dose: Dose
    next_dose: Dose
    muscles: tuple[str, ...]
    day: date
    span: Span


def _pairs(facts: Facts) -> Iterator[Pair]:
    """Each pair of exercises and doses once, the first time that they fall on two days running."""
    strength = {e.name: e for e in facts.plan.exercises if e.kind == "strength" and e.works}
    days: dict[date, dict[str, Dose]] = {}
    for it in _training(facts):
        doses = {d.name: d.dose for d in (*it.exercises.values(), *it.activities.values()) if d.name in strength}
        for sitting in it.sittings if doses else ():
            if sitting.count == 1 and not sitting.any_day:
                held = {name: doses[name] for name in sitting.exercises if name in doses}
                days[sitting.day] = days[sitting.day] | held if sitting.day in days else held
    seen: set[tuple[str, str, int, int]] = set()
    for day in sorted(days):
        for name, first in days[day].items():
            for other, second in days.get(day + timedelta(days=1), {}).items():
                shared = tuple(m for m in strength[name].works if m in strength[other].works)
                key = (name, other, id(first), id(second))
                if shared and key not in seen:
                    seen.add(key)
                    yield Pair(strength[name], strength[other], first, second, shared, day, strength[name].span)


root_list("pair", "pair", "strength exercises that train one muscle on two days running", _pairs, RECKONED + " works")
pair.fact("first", thing("exercise"), "what is done on the first day", RECKONED)(lambda _, it: it.first)
pair.fact("second", thing("exercise"), "what is done on the next day", RECKONED)(lambda _, it: it.second)
pair.fact("dose", thing("dose"), "the dose of the first day", RECKONED)(lambda _, it: it.dose)
pair.fact("next-dose", thing("dose"), "the dose of the next day", RECKONED)(lambda _, it: it.next_dose)
pair.plain("muscles", TEXTS, "the muscles that both train", RECKONED + " works")
pair.plain("day", DATE, "the first of the two days", RECKONED)
pair.fact("weekday", TEXT, "the first of the two days of the week", RECKONED)(lambda _, it: WEEKDAYS[it.day.weekday()])
