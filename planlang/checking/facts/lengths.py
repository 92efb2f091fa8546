"""Facts of how long sessions are: in the first week, against what their doses need, and from week to week."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from attrs import field

from planlang.checking.expression.types import COUNT, TEXT, TRUTH, number, thing
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.checking.facts.sessions import session
from planlang.checking.facts.weeks import RECKONED
from planlang.model.dose import Dose
from planlang.model.exercise import Exercise
from planlang.model.session import Session
from planlang.planning.load import activity_minutes, lasting_seconds, needed_minutes, session_minutes
from planlang.planning.week import Done, Week, WeekKind
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span

ASKED = RECKONED + " at_times warm_up cool_down rounds resting_between"


@frozen
class Held:
    """A training week in which a session holds exercise, with what is done in it."""

    week: Week
    done: tuple[Done, ...]

    @property
    def doses(self) -> list[Dose]:
        """The doses, in the order of the session."""
        return [one.dose for one in self.done]

    def same(self, other: Held) -> bool:
        """Whether the very same doses are done as in another week."""
        return len(self.done) == len(other.done) and all(
            one.dose is two.dose for one, two in zip(self.done, other.done, strict=True)
        )


def _training(facts: Facts) -> Iterator[Week]:
    return (w for w in (facts.weeks.weeks if facts.weeks else ()) if w.kind is WeekKind.TRAINING)


def _held(facts: Facts, it: Session) -> tuple[Held, ...]:
    return tuple(facts.once("held", lambda: _weeks_held(facts)).get(it.name, ()))


def _weeks_held(facts: Facts) -> dict[str, list[Held]]:
    """By session's name the training weeks that hold exercise of it, as done in its first sitting with some."""
    found: dict[str, list[Held]] = {}
    for week in _training(facts):
        seen: set[str] = set()
        for sitting in week.sittings:
            if not sitting.exercises or sitting.name in seen:
                continue
            seen.add(sitting.name)
            done = [week.exercises.get(name) or week.activities.get(name) for name in sitting.exercises]
            held = tuple([one for one in done if one is not None])
            if held:
                found.setdefault(sitting.name, []).append(Held(week, held))
    return found


def _first_week(facts: Facts, it: Session) -> Held | None:
    """What is done in it in the plan's first training week; None where it isn't held then."""
    first = next(_training(facts), None)
    held = _held(facts, it)
    return held[0] if held and first is not None and held[0].week.number == first.number else None


@session.fact("first-exercises", COUNT, "how many exercises it holds in the first training week", ASKED, "do_exercises")
def _first_exercises(facts: Facts, it: Session) -> int | None:
    held = _first_week(facts, it)
    return len(held.done) if held else None


@session.fact("first-minutes", number("min"), "how long it is in the first training week", ASKED, "at_times")
def _first_minutes(facts: Facts, it: Session) -> int | None:
    held = _first_week(facts, it)
    return session_minutes(it, held.doses)[0] if held else None


def _longest(facts: Facts, it: Session) -> tuple[Fraction, Week] | None:
    """The most minutes that its doses need, and the first training week in which they do."""
    return facts.once(("longest", it.name), lambda: _most_needed(facts, it))


def _most_needed(facts: Facts, it: Session) -> tuple[Fraction, Week] | None:
    seen: set[tuple[int, ...]] = set()
    most: tuple[Fraction, Week] | None = None
    for held in _held(facts, it):
        key = tuple(id(dose) for dose in held.doses)  # weeks at the same steps need the same
        if key in seen:
            continue
        seen.add(key)
        needed = needed_minutes(it, held.doses)
        if most is None or needed > most[0]:
            most = needed, held.week
    return most


_NEEDED = "the most that its sets, rests, changes, warm-up and cool-down need in a training week; 4 s a repetition"


@session.fact("needed-minutes", number("min"), _NEEDED, ASKED, "at_times")
def _needed(facts: Facts, it: Session) -> Fraction | None:
    longest = _longest(facts, it)
    return longest[0] if longest else None


@session.fact("longest-week", thing("week"), "the first training week in which they need the most", ASKED)
def _longest_week(facts: Facts, it: Session) -> Week | None:
    longest = _longest(facts, it)
    return longest[1] if longest else None


@session.fact("longest-minutes", number("min"), "how long it is at its longest", ASKED, "at_times")
def _longest_minutes(facts: Facts, it: Session) -> Fraction | None:
    if it.minutes is not None:
        return it.minutes
    return max((session_minutes(it, held.doses)[1] for held in _held(facts, it)), default=None)


@frozen
class Longer:
    """A session, or an activity in minutes, that is longer than in the training week before in which it was done.

    All of it is done at its own level in both weeks. `weekly`: minutes of a whole week, of a quota.
    """

    name: str
    week: Week
    before: Fraction
    after: Fraction
    weekly: bool
    span: Span = field(default=NOWHERE, eq=False, repr=False)


longer = subject("longer-time", "longer-times", lambda it: f"{it.name} in week {it.week.number}")


def _longer(facts: Facts) -> Iterator[Longer]:
    for it in facts.plan.sessions:
        yield from _longer_sessions(facts, it)
    in_sessions = {name for s in facts.plan.sessions for name in s.do}
    for exercise in facts.plan.exercises:
        if exercise.activity and exercise.name not in in_sessions:
            yield from _longer_activities(facts, exercise)


def _longer_sessions(facts: Facts, it: Session) -> Iterator[Longer]:
    before: tuple[Fraction, Held] | None = None
    for held in _held(facts, it):
        if (before is not None and held.same(before[1])) or not all(done.own for done in held.done):
            continue
        minutes = session_minutes(it, held.doses)[1]
        if not minutes:
            continue
        if before is not None and minutes > before[0]:
            yield Longer(it.name, held.week, before[0], minutes, False, _grown(facts, before[1], held) or it.span)
        before = minutes, held


def _grown(facts: Facts, before: Held, after: Held) -> Span | None:
    """Where the dose stands that is most longer, or is new."""
    had = {done.name: lasting_seconds(done.dose) or Fraction(0) for done in before.done}
    most = max(
        after.done, key=lambda done: (lasting_seconds(done.dose) or Fraction(0)) - had.get(done.name, Fraction(0))
    )
    return _step_span(facts, most)


def _step_span(facts: Facts, done: Done) -> Span | None:
    exercise = facts.plan.exercise(done.name)
    return exercise.steps[done.step].span if exercise and done.step is not None and done.step >= 0 else None


def _longer_activities(facts: Facts, it: Exercise) -> Iterator[Longer]:
    before: Fraction | None = None
    for done, week in _done_at_own_level(facts, it):
        minutes = activity_minutes(done.dose, 1)
        if before and minutes > before:
            yield Longer(it.name, week, before, minutes, it.weekly, _step_span(facts, done) or it.span)
        before = minutes or before


def _done_at_own_level(facts: Facts, it: Exercise) -> Iterable[tuple[Done, Week]]:
    return (
        (done, week) for week in _training(facts) if (done := week.activities.get(it.name)) is not None and done.own
    )


root_list(
    "longer-time",
    "longer-time",
    "each time that a session, or an activity in minutes, gets longer between training weeks at own level",
    _longer,
    ASKED,
)
longer.plain("name", TEXT, "the session or activity", ASKED)
longer.fact("week", thing("week"), "the week in which it gets longer", ASKED)(lambda _, it: it.week)
longer.fact("before", number("min"), "how long it was", ASKED)(lambda _, it: it.before)
longer.fact("after", number("min"), "how long it is from then on", ASKED)(lambda _, it: it.after)
longer.plain("weekly", TRUTH, "the minutes are those of a whole week", ASKED)
