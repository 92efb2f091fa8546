"""Facts of the things that a plan needs: when each is first used, and whether it is there by then."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from functools import lru_cache
from math import lcm

from attrs import field

from planlang.checking.expression.types import DATE, TEXT, TRUTH
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.checking.facts.weeks import RECKONED
from planlang.model.dose import Load
from planlang.model.exercise import Kit
from planlang.model.plan import Plan
from planlang.model.quantity import in_base, number_text
from planlang.model.session import Session
from planlang.planning.reach import day_in
from planlang.planning.week import Done, WeekKind
from planlang.planning.weeks import day_of
from planlang.text.data import frozen
from planlang.text.source import NOWHERE, Span

KIT = f"{RECKONED} kit has weights prepare place"
_WORD = re.compile(r"\d+(?:\.\d+)?|[^\W\d_]+")
_SMALL = frozenset("a an the of for with and or my your some to".split())  # noqa: SIM905
_WHERE_IT_GOES = re.compile(r"\s(?:round|around|above|below|under|over|between|on)\s.*", re.IGNORECASE | re.DOTALL)
_SHORTEST_PART = 4  # letters: `strikk` stands in `treningsstrikk`, `ball` in `Gymnastikball`
MOST_WEIGHTS = 10  # of more, every sum is taken to be there


@frozen
class Need:
    """Something needed: kit of a session or an exercise, or a band or weight of a dose. `where`: the session's place.

    `in_hand`: the person has it; `ready`: from which day on it is prepared; `prepared`: some line says so.
    `said`: all that is there or to be got, in words.
    """

    text: str
    what_for: str
    used: date
    is_weight: bool
    where: str | None
    in_hand: bool
    prepared: bool
    ready: date | None
    said: str
    span: Span = field(default=NOWHERE, eq=False, repr=False)


need = subject("need", "needs", lambda it: str(it.text))


@lru_cache(maxsize=512)
def words(text: str) -> tuple[str, ...]:
    """The words and numbers of a text, in small letters, a plural's s dropped: `2 kg weights` is 2, kg, weight."""
    found = (w.lower() for w in _WORD.findall(text))
    return tuple(w[:-1] if len(w) > 3 and w.endswith("s") and not w.endswith("ss") else w for w in found)


def stands_in(text: str, other: str, compounds: bool = False) -> bool:
    """Whether all words of a text stand in another; small ones, and where it goes (`round the knees`), apart.

    `compounds`: a word also stands in a longer one that ends with it, as in German and the Nordic languages.
    """
    wanted = frozenset(words(_WHERE_IT_GOES.sub("", text))) - _SMALL
    there = frozenset(words(other))
    return bool(wanted) and all(word in there or (compounds and _ends_one(word, there)) for word in wanted)


def _ends_one(word: str, there: frozenset[str]) -> bool:
    """Whether a word is the end of a longer one: compounds are named by their last part."""
    return len(word) >= _SHORTEST_PART and any(one.endswith(word) for one in there)


def _needs(facts: Facts) -> Iterator[Need]:
    """Each thing once, at its first use; only bands and weights that no kit of the session stands for."""
    first: dict[tuple[str, ...], Need] = {}
    for found in (*_of_kit(facts), *_of_exercises(facts), *_of_doses(facts)):
        key = words(found.text)
        if key not in first or found.used < first[key].used:
            first[key] = found
    yield from sorted(first.values(), key=lambda n: n.span)


def _of_kit(facts: Facts) -> Iterator[Need]:
    for session in facts.plan.sessions:
        for item in session.kit:
            used = _first_used(facts, session, item)
            if used is not None:
                place = item.span if item.span != NOWHERE else session.span
                yield _need(facts.plan, item.text, f'"{session.name}"', used, session, place)


def _first_used(facts: Facts, session: Session, item: Kit) -> date | None:
    """The first sitting of the session, or the first at the step from which the thing is needed."""
    for week in facts.weeks.weeks if facts.weeks else ():
        if item.from_step is not None:
            done = week.exercises.get(session.do[0]) if session.do else None
            if done is None or done.step is None or done.step < item.from_step - 1:
                continue
        days = [s.day for s in week.sittings if s.name == session.name and s.exercises]
        if days and week.kind is not WeekKind.REST:
            return min(days)
    return None


def _of_exercises(facts: Facts) -> Iterator[Need]:
    """The kit that exercises say of themselves, each from the step that it is needed at."""
    wanted = {e.name: list(e.kit) for e in facts.plan.exercises if e.kit}
    for week in facts.weeks.weeks if facts.weeks and wanted else ():
        for done in (*week.exercises.values(), *week.activities.values()):
            exercise = facts.plan.exercise(done.name)
            items = wanted.get(done.name)
            if not items or exercise is None or done.step is None:
                continue
            now = [item for item in items if item.from_step is None or done.step >= item.from_step - 1]
            used = day_in(facts.plan, week, exercise) if now else None
            if used is None:
                continue
            session = next((s for s in facts.plan.sessions if done.name in s.do), None)
            for item in now:
                items.remove(item)
                yield _need(facts.plan, item.text, done.name, used, session, item.span)


def _of_doses(facts: Facts) -> Iterator[Need]:
    seen: set[tuple[str, int]] = set()
    for week in facts.weeks.weeks if facts.weeks else ():
        for done in (*week.exercises.values(), *week.activities.values()):
            if done.step is None or done.step < 0 or (done.name, done.step) in seen:
                continue
            exercise = facts.plan.exercise(done.name)
            if exercise is None:
                continue
            seen.add((done.name, done.step))
            things = tuple(_things(done))
            used = day_in(facts.plan, week, exercise) if things else None
            if used is None:
                continue
            session = next((s for s in facts.plan.sessions if done.name in s.do), None)
            for text, load in things:
                if any(_same(text, item.text) for item in (*(session.kit if session else ()), *exercise.kit)):
                    continue
                yield _need(facts.plan, text, done.name, used, session, exercise.steps[done.step].span, load)


def _things(done: Done) -> Iterator[tuple[str, Load | None]]:
    sides = [side for side in (done.dose.left, done.dose.right) if side] or [done.dose]
    for dose in sides:
        if dose.band:
            yield dose.band, None
        if dose.load and dose.load.basis == "mass" and dose.load.amount.low > 0:
            yield f"{number_text(dose.load.amount.low)} {dose.load.unit}", dose.load


def _same(text: str, other: str) -> bool:
    return stands_in(text, other) or stands_in(other, text)


def _need(
    plan: Plan, text: str, what_for: str, used: date, session: Session | None, span: Span, load: Load | None = None
) -> Need:
    compounds = plan.language not in (None, "en")  # in English a wheelchair is no chair to stand up from
    preparing = [p for p in plan.prepares if stands_in(text, p.text, compounds)]
    days = [day_of(plan, p.by) for p in preparing]
    in_hand = any(stands_in(text, one, compounds) for one in plan.today.has) or (
        load is not None and _lifted(plan, load)
    )
    kit = [item.text for item in session.kit] if session else []
    kit += [item.text for e in plan.exercises if session and e.name in session.do for item in e.kit]
    said = "; ".join((*plan.today.has, *(p.text for p in plan.prepares), *kit))
    where = session.place if session else None
    ready = None if None in days else min((d for d in days if d is not None), default=None)
    return Need(text, what_for, used, load is not None, where, in_hand, bool(preparing), ready, said, span)


def _lifted(plan: Plan, load: Load) -> bool:
    """Whether the weights that the person has can be put together to that load."""
    had = tuple([w.base for w in plan.today.weights])
    return len(had) > MOST_WEIGHTS or in_base(load.amount.low, load.unit) in _sums(had)


@lru_cache(maxsize=32)
def _sums(had: tuple[Fraction, ...]) -> frozenset[Fraction]:
    """All that weights can be put together to; many people of a clinic have the same."""
    parts = lcm(*(weight.denominator for weight in had))
    sums = {0}
    for weight in had:
        sums |= {s + int(weight * parts) for s in sums}
    return frozenset(Fraction(s, parts) for s in sums)


root_list(
    "need",
    "need",
    "the kit of sessions and exercises, and the bands and weights of doses, each at its first use",
    _needs,
    KIT,
)
need.plain("text", TEXT, "what is needed", KIT)
need.fact("what-for", TEXT, "the session or exercise that needs it", KIT)(lambda _, it: it.what_for)
need.fact("first-used", DATE, "when it is first used, with no easier week taken", KIT)(lambda _, it: it.used)
need.plain("is_weight", TRUTH, "it is the weight of a dose", KIT)
need.fact("place", TEXT, "where it is used", "place")(lambda _, it: it.where)
need.plain("in_hand", TRUTH, "a `has` line, or `weights`, says that it is there", KIT)
need.plain("prepared", TRUTH, "a `prepare` line says that it is got", KIT)
need.fact("ready-by", DATE, "by when it is got, where a date is said", KIT)(lambda _, it: it.ready)
need.plain("said", TEXT, "all that the plan says is there or is to be got, in one text", KIT)
