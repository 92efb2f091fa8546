"""Facts of what an exercise's own words tell: walking, tai chi, on the floor, with a hand on a rail."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from functools import cache, lru_cache

from planlang.checking.expression.types import TEXTS, TRUTH, number, thing
from planlang.checking.facts.people import today
from planlang.checking.facts.registry import Facts
from planlang.checking.facts.sessions import session
from planlang.checking.facts.training import exercise
from planlang.checking.facts.weeks import RECKONED, aim_in_steps, week
from planlang.model.catalogue import practices
from planlang.model.exercise import Exercise
from planlang.model.plan import Today
from planlang.model.records import Phrases, Practice
from planlang.model.session import Session
from planlang.planning.load import activity_minutes
from planlang.planning.week import Done, Week
from planlang.text.source import Span

ASKED = "exercise activity how tags begin then"
HELD = "held"
"""The practice of a hand on something; where it must hold for every step, it is asked of each."""

_ON_FOOT = (None, "aerobic", "everyday")


_CLAUSE_BEFORE = re.compile(r"(?:[^\s.!?;:,]+ ){0,4}\Z")


@cache
def _phrases(name: str) -> tuple[frozenset[str], frozenset[str], frozenset[str]]:
    """The phrases of a practice, those of something else that hold one, and those that deny it."""
    it: Practice = practices()[name]
    denials = _all_of(practices()["denial"].words) if it.deniable else frozenset[str]()
    return _all_of(it.words), _all_of(it.not_meant), denials


def _all_of(phrases: Iterable[Phrases]) -> frozenset[str]:
    return frozenset(_plain(words) for one in phrases for words in one.said)


def _any_of(phrases: Iterable[str]) -> re.Pattern[str]:
    """The longest first: of two phrases that begin alike the longer is found."""
    said = sorted(phrases, key=len, reverse=True)
    return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, said))})(?!\w)")


def _standing(phrases: Iterable[str], plain: str) -> list[str]:
    """Those that stand in a text somewhere, be it inside a word: few, and so an expression is soon made of them."""
    return [phrase for phrase in phrases if phrase in plain]


def _plain(text: str) -> str:
    """Lower case, hyphens as spaces, one space between words."""
    return " ".join(text.casefold().replace("-", " ").replace("’", "'").split())


def tells(text: str, name: str) -> bool:
    """Whether a text tells of a practice: a phrase of it stands there, outside those that mean something else."""
    plain = _plain(text)
    meant, not_meant, denials = _phrases(name)
    standing = _standing(meant, plain)
    if not standing:
        return False
    either = _any_of({*standing, *_standing(not_meant, plain)})
    return any(
        found.group() in meant and not (denials and _denied(plain, found.start(), denials))
        for found in either.finditer(plain)
    )


def _denied(plain: str, at: int, denials: frozenset[str]) -> bool:
    """Whether one of the four words before that place, in its clause, denies what follows."""
    before = _CLAUSE_BEFORE.search(plain, 0, at)
    standing = _standing(denials, before.group()) if before else []
    return bool(before and standing and _any_of(standing).search(before.group()))


def _told(texts: Iterable[str | None]) -> tuple[str, ...]:
    return _all_told(" ; ".join(text for text in texts if text))


@lru_cache(maxsize=4096)
def _all_told(text: str) -> tuple[str, ...]:
    """The practices that a text tells of. Exercises bear the same few names from plan to plan."""
    return tuple(name for name in practices() if tells(text, name))


def _variants(it: Exercise) -> list[str | None]:
    return [step.dose.variant for step in it.steps]


@exercise.fact("words-tell", TEXTS, "what its name, how, tags and variants tell: walking, tai chi, floor ...", ASKED)
def _exercise_tells(facts: Facts, it: Exercise) -> tuple[str, ...]:
    return facts.once(("tells", it.name), lambda: _told((it.name, it.how, *it.tags, *_variants(it))))


@exercise.fact("name-tells", TEXTS, "the same, of its name, tags and variants alone", ASKED)
def _name_tells(facts: Facts, it: Exercise) -> tuple[str, ...]:
    return facts.once(("name tells", it.name), lambda: _told((it.name, *it.tags, *_variants(it))))


@session.fact("words-tell", TEXTS, "what its name and place tell: tai chi, water ...", "session place")
def _session_tells(facts: Facts, it: Session) -> tuple[str, ...]:
    return facts.once(("session tells", it.name), lambda: _told((it.name, it.place)))


@exercise.fact(
    "held",
    TRUTH,
    "a hand is on something: hold on to, or its how, careful or every variant says so",
    ASKED + " hold_on careful",
)
def _held(_: Facts, it: Exercise) -> bool:
    if it.hold_on_to or tells(f"{it.how or ''} ; {it.careful or ''}", HELD):
        return True
    return bool(it.steps) and all(variant is not None and tells(variant, HELD) for variant in _variants(it))


@exercise.fact(
    "with-someone",
    TRUTH,
    "someone is there: it says with whom, or every session that holds it does",
    "exercise activity with_whom session do_exercises",
)
def _with_someone(facts: Facts, it: Exercise) -> bool:
    holding = [s for s in facts.plan.sessions if it.name in s.do]
    return bool(it.companions) or (bool(holding) and all(s.companions for s in holding))


exercise.fact("places", TEXTS, "where the sessions that hold it are", "session do_exercises place")(
    lambda f, it: tuple(dict.fromkeys(s.place for s in f.plan.sessions if it.name in s.do and s.place))
)


def _walks(facts: Facts) -> frozenset[str]:
    """The exercises that are walks, and done by the day or in sessions."""
    return frozenset(
        it.name
        for it in facts.plan.exercises
        if not it.weekly and it.kind in _ON_FOOT and "walking" in _exercise_tells(facts, it)
    )


def _walked(facts: Facts, it: Week) -> tuple[Fraction | None, Done | None]:
    """The most minutes on foot in a day of that week, at own level, and what they are walked in."""
    best: tuple[Fraction | None, Done | None] = (None, None)
    walked = facts.once("walked", lambda: _walks(facts))
    for done in (*it.exercises.values(), *it.activities.values()):
        if done.name not in walked or not done.own:
            continue
        minutes = activity_minutes(done.dose, 1)
        if minutes and (best[0] is None or minutes > best[0]):
            best = minutes, done
    return best


@week.fact("walking-minutes", number("min"), "the most minutes on foot at one go or in a day", f"{RECKONED} {ASKED}")
def _walking_minutes(facts: Facts, it: Week) -> Fraction | None:
    return _walked(facts, it)[0]


@week.fact("walked-in", thing("exercise"), "the exercise or activity of those minutes", f"{RECKONED} {ASKED}")
def _walked_in(facts: Facts, it: Week) -> Exercise | None:
    done = _walked(facts, it)[1]
    return facts.plan.exercise(done.name) if done else None


@week.fact("steps-in", thing("exercise"), "the activity with the aim in steps a day", RECKONED)
def _steps_in(facts: Facts, it: Week) -> Exercise | None:
    done = aim_in_steps(facts, it)[1]
    return facts.plan.exercise(done.name) if done else None


def _minutes_at(_: Facts, it: Today) -> Span | None:
    found = it.measure("walking-minutes")
    return found.span if found else None


@today.fact("walking-minutes", number("min"), "minutes of walking on a usual day now", "today baseline", _minutes_at)
def _minutes_now(_: Facts, it: Today) -> Fraction | None:
    found = it.measure("walking-minutes")
    if found is None or found.value.dimension not in ("time", "time a day"):
        return None
    return found.value.base / 60
