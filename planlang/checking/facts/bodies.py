"""Facts of the body: which joints an exercise loads, and how many ladders that load one rise in one week."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from planlang.checking.expression.types import COUNT, TEXTS, TRUTH, things
from planlang.checking.facts.legs import trains_legs
from planlang.checking.facts.registry import Facts, root_list, subject
from planlang.checking.facts.training import exercise
from planlang.checking.facts.weeks import RECKONED
from planlang.model.catalogue import muscle
from planlang.model.exercise import Exercise
from planlang.planning.week import WeekKind
from planlang.text.data import frozen
from planlang.text.source import Span

ASKED = "works joints exercise activity"
LOADING = frozenset(("strength", "aerobic", "everyday"))
"""Kinds whose rise loads a joint more; range, balance and calm do so little that they are not counted."""


@exercise.fact("for-the-legs", TRUTH, "it trains the legs, as far as its muscles or joints say", ASKED, "works")
def for_the_legs(_: Facts, it: Exercise) -> bool | None:
    """None where neither muscles nor joints are written, or none of the muscles is known."""
    return trains_legs(it)


exercise.fact("joints-loaded", TEXTS, "the joints written, else those of the muscles that it trains", ASKED, "joints")(
    lambda _, it: joints_loaded(it)
)


def joints_loaded(it: Exercise) -> tuple[str, ...]:
    """The joints that an exercise loads, each once."""
    if it.joints:
        return tuple(dict.fromkeys(joint.name for joint in it.joints))
    return tuple(dict.fromkeys(name for m in map(muscle, it.works) if m is not None for name in m.joints))


@frozen
class RiseWeek:
    """A training week in which ladders that load one joint go up."""

    number: int
    names: tuple[str, ...]


@frozen
class LoadedJoint:
    """Joints that the same ladders load, with the weeks in which any of them goes up."""

    joints: tuple[str, ...]
    names: tuple[str, ...]
    weeks: tuple[RiseWeek, ...]
    span: Span


joint = subject("loaded-joint", "loaded-joints", lambda it: " and ".join(it.joints))
rise_week = subject("rise-week", "rise-weeks", lambda it: f"week {it.number}")


def _rises(facts: Facts) -> dict[int, list[str]]:
    """Calendar week to the exercises that go up in it, at their own level."""
    loading = {e.name for e in facts.plan.exercises if e.kind in LOADING}
    found: dict[int, list[str]] = {}
    for week in facts.weeks.weeks if facts.weeks else ():
        if week.kind is WeekKind.TRAINING:
            for done in chain(week.exercises.values(), week.activities.values()):
                if done.first and done.step and done.own and done.name in loading:
                    found.setdefault(week.number, []).append(done.name)
    return found


def _joints(facts: Facts) -> Iterator[LoadedJoint]:
    """The joint that most ladders load first; joints that the same ladders load are one."""
    rises = _rises(facts)
    rising = {name for names in rises.values() for name in names}
    loading: dict[str, list[Exercise]] = {}
    for it in facts.plan.exercises:
        if it.name in rising:
            for name in joints_loaded(it):
                loading.setdefault(name, []).append(it)
    by_ladders: dict[tuple[str, ...], list[str]] = {}
    for name, exercises in loading.items():
        by_ladders.setdefault(tuple(e.name for e in exercises), []).append(name)
    for names, joints in sorted(by_ladders.items(), key=lambda item: -len(item[0])):
        up = [(n, tuple(name for name in rises[n] if name in names)) for n in sorted(rises)]
        last = loading[joints[0]][-1]
        yield LoadedJoint(tuple(joints), names, tuple(RiseWeek(n, them) for n, them in up if them), last.span)


root_list(
    "loaded-joint",
    "loaded-joint",
    "joints with the ladders of strength, aerobic and everyday work that load them, those with the most first",
    _joints,
    f"{ASKED} {RECKONED}",
)
joint.plain("joints", TEXTS, "the joint, or joints that the same ladders load", ASKED)
joint.plain("names", TEXTS, "the exercises whose ladders load it and go up", ASKED)
joint.fact("rise-weeks", things("rise-week"), "the training weeks in which any of them goes up", RECKONED)(
    lambda _, it: it.weeks
)
rise_week.plain("number", COUNT, "which calendar week, with no easier week taken", RECKONED)
rise_week.plain("names", TEXTS, "the exercises that go up in it", RECKONED)
rise_week.fact("ladders", COUNT, "how many go up in it", RECKONED)(lambda _, it: len(it.names))
