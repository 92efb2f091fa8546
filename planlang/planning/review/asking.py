"""Two questions to ask, the one decision that is due, and the next date: what a visit is for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from planlang.planning.leeway.data import Verdict
from planlang.planning.past import Past
from planlang.planning.review.data import Confidence, ExerciseStands, News, Pain, TargetStands
from planlang.planning.review.held_weeks import weeks_held
from planlang.planning.review.news import not_done_running
from planlang.planning.review.next_step import Next
from planlang.planning.review.pain import felt_of
from planlang.planning.review.wording import day_text, number, step_text
from planlang.planning.week import WeekKind
from planlang.planning.weeks import DAY, review_days
from planlang.planning.wording import counted

QUESTIONS = 2
ENOUGH = 7
"""Confidence out of 10 below which it is asked what would help (common practice, no source)."""
LONG_FLARE = 14
"""Days after which somebody looks at a flare; the rule about it names its source."""
RUNNING = 3
"""Sessions not done running, or without an entry, after which it is asked why (common practice, no source)."""
SOON = 4
"""Weeks before its last day in which the next block of a plan is decided; and weeks that are looked back on."""


def questions(
    past: Past, news: News, trust: Confidence, pain: Pain, exercises: Sequence[ExerciseStands]
) -> tuple[str, ...]:
    """The two that matter most, in the order in which a visit goes."""
    found = list(dict.fromkeys(_questions(past, news, trust, pain, exercises)))
    return tuple(found[:QUESTIONS])


def _questions(
    past: Past, news: News, trust: Confidence, pain: Pain, exercises: Sequence[ExerciseStands]
) -> Iterator[str]:
    for entry in news.open:
        yield f"{_quoted(entry.text or entry.name or 'a sign')} ({day_text(entry.day)}): how is it now?"
    for entry in news.falls[-1:]:
        yield f"The fall on {day_text(entry.day)}: what happened, any harm, a knock to the head?"
    for entry in news.gave_way[-1:]:
        yield f"The joint that gave way on {day_text(entry.day)}: what happened, and has it again?"
    for entry in news.new[-1:]:
        yield f"New {entry.name}, {_quoted(entry.text or '')}: does it change what is fit to do?"
    flare = pain.flare
    if flare is not None and flare.days > LONG_FLARE:
        yield f"{counted(flare.days, 'day')} of flare: is it easing, and is anything about it new?"
    elif flare is not None:
        yield "In the flare: what eases it, and what can be done without adding to it?"
    for entry in reversed(news.worries):
        yield f"{_quoted(entry.text or '')} ({day_text(entry.day)}): what would make that easier?"
    running = not_done_running(past)
    if running >= RUNNING:
        yield f"{running} sessions one after the other not done: what stood in the way, and what would fit?"
    if trust.now is not None and trust.now < ENOUGH:
        yield f"Confidence {number(trust.now)}/10: what would make it one higher?"
    for one in exercises:
        if one.next.ask and one.next.next is Next.ON and _goes_up(one):
            yield f"{one.next.name}: {_quoted(one.next.ask)}: is that so?"
    felt = [one.next.name for one in exercises if one.next.next is not Next.ON and felt_of(past, one.next.name)]
    if felt:
        yield f"{_and(felt)}: how did the last one go, during and next morning?"
    blank = sum(week.tally.blank for week in weeks_held(past)[-SOON:])
    if blank >= RUNNING:
        yield f"{blank} sessions of the last {SOON} weeks have no entry: how did they go, and does the diary fit?"
    yield "What went well since last time?"
    yield "Does the goal still matter as much?"


def _quoted(text: str) -> str:
    return f'"{text}"'


def _goes_up(one: ExerciseStands) -> bool:
    ahead, step = one.next.ahead, one.next.step
    return ahead is not None and step is not None and ahead > step


def decision(
    past: Past,
    news: News,
    pain: Pain,
    exercises: Sequence[ExerciseStands],
    targets: Sequence[TargetStands],
) -> str:
    """The first of what may have to be decided today."""
    return next(_decisions(past, news, pain, exercises, targets))


def _decisions(
    past: Past,
    news: News,
    pain: Pain,
    exercises: Sequence[ExerciseStands],
    targets: Sequence[TargetStands],
) -> Iterator[str]:
    plan = past.plan
    if news.open:
        yield "What is done about the sign, before anything else; until it is written nothing goes to the person."
    taken, room = len(past.rest), plan.room
    if taken > room:
        yield f"New dates: {counted(taken, 'easier week')} taken, room for {room}."
    if pain.flare is not None and pain.flare.days > LONG_FLARE:
        yield "Who sees this flare, and when."
    lower = [one.next.name for one in exercises if one.next.next is Next.LOWER]
    if lower:
        yield f"One step lower for {_and(lower)}?"
    for one in targets:
        standing = one.standing
        if one.met is None and standing.verdict is Verdict.NEVER:
            yield f"A new date, or an earlier step, for {_quoted(standing.target.title)}."
    if plan.weeks and past.week > plan.weeks - min(SOON, plan.weeks // 2):
        yield "The next block: a proposal is below."
    up = [one for one in exercises if one.next.next is Next.ON and _goes_up(one)]
    if up:
        yield f"On to {_and([f'{step_text(one.next.ahead)} in {one.next.name}' for one in up])}?"
    stay = [one.next.name for one in exercises if one.next.next is Next.STAY and one.next.step is not None]
    if stay:
        yield f"Stay on this step for {_and(stay)}?"
    for one in targets:
        if one.met is None and one.standing.verdict is Verdict.DEPENDS:
            yield f"Whether the date of {_quoted(one.standing.target.title)} stays: it depends on the easier weeks."
    yield "None is due: the plan goes on."


def _and(names: Sequence[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def next_date(past: Past) -> tuple[date, str] | None:
    """The next date that somebody is met on, else the plan's last day; None where that is past."""
    visits = [
        (sitting.day, f'visit, "{sitting.name}"')
        for week in past.weeks.weeks
        if week.kind is not WeekKind.REST
        for sitting in week.sittings
        if sitting.visit and sitting.day > past.as_of
    ]
    reviews = [(day, "review") for day in review_days(past.plan) if day > past.as_of]
    if visits or reviews:
        return min([*visits, *reviews])
    last = past.weeks.weeks[-1].starts + 6 * DAY
    return (last, "the plan's last day") if last > past.as_of else None
