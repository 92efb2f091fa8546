"""What a person reads on the day of a session."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from planlang.model.exercise import Exercise, Instead, WarmUp
from planlang.model.plan import Plan
from planlang.model.say import dose_words, exercise_text, minutes_text, name_text
from planlang.model.session import Session
from planlang.planning.telling.course import Course
from planlang.planning.telling.names import neutral
from planlang.planning.telling.standing import (
    Contacts,
    checks_first,
    flare_line,
    help_lines,
    limit_words,
    pain_line,
    settle_words,
    version_line,
)
from planlang.planning.week import Done, Sitting, Week, WeekKind
from planlang.text.data import frozen

NOT_DONE = {
    "move within the week": "Not today? Any other day this week is fine.",
    "drop": "Not today? Leave it out. There is nothing to catch up.",
    "move on": "Not today? Do it next time, and go on from there.",
}


@frozen
class Told:
    """The words of an entry: its summary, and its description line by line."""

    summary: str
    lines: tuple[str, ...]

    @property
    def text(self) -> str:
        """The description."""
        return "\n".join(self.lines)


@frozen
class Day:
    """One session on one day, in its week, in its plan; asked for its words."""

    plan: Plan
    course: Course
    contacts: Contacts
    week: Week
    sitting: Sitting

    def told(self) -> Told:
        """Summary and description, in full."""
        return Told(self._summary(), tuple(self._lines()))

    @property
    def session(self) -> Session | None:
        """The session as the plan describes it."""
        return self.plan.session(self.sitting.name)

    @property
    def work(self) -> list[tuple[str, Exercise | None, Done]]:
        """What is done on this day, in the order of the session."""
        found = ((name, self.course.done(name, self.week.number)) for name in self.sitting.exercises)
        return [(name, self.plan.exercise(name), done) for name, done in found if done]

    @property
    def easing(self) -> bool:
        """True where something is done lower on purpose after a gap."""
        return any(done.easing for _, _, done in self.work)

    @property
    def first_back(self) -> bool:
        """True on the first day of an easing."""
        number = self.week.number
        back = (name for name, _, done in self.work if done.easing and self.course.first_back(name, number))
        return any(self._first_with(name) for name in back)

    def _first_with(self, name: str) -> bool:
        """True where this is the week's first sitting with an exercise."""
        sittings = sorted(self.week.sittings, key=_by_time)
        return self.sitting is next((s for s in sittings if name in s.exercises), None)

    def _summary(self) -> str:
        name = self.sitting.name if neutral(self.sitting.name, self.plan.catalogue) else "Exercise"
        if self.sitting.visit:
            return f"{name} (visit)"
        if self.easing:
            return f"{name} (easier)"
        return f"{name} (lighter)" if any(done.lighter for _, _, done in self.work) else name

    def _lines(self) -> Iterator[str]:
        yield from self._opening()
        yield from self._list()
        yield from self._news()
        if self.work:
            yield from self._choices()
        day = self.sitting.day
        if self.easing:
            yield from self._ahead()
        if self.work:
            yield pain_line(self.plan)
            yield flare_line(self.plan, self.course, self.contacts, day)
            yield from help_lines(self.plan, self.contacts, day)
        yield version_line(self.plan, day)

    def _opening(self) -> Iterator[str]:
        sitting, session = self.sitting, self.session
        about = f", about {minutes_text(sitting.minutes)}" if sitting.minutes else ""
        if self.sitting.any_day:
            often = {1: "Once", 2: "Twice"}.get(sitting.count, f"{sitting.count} times")
            yield f"{often} this week, on days you choose{about}{' each' if about and sitting.count > 1 else ''}"
        elif sitting.visit and not self.work:
            yield f"Time with us{about}: a visit or a call, as arranged. Nothing to do beforehand."
        elif sitting.visit:
            yield f"Today with us{about}: a visit, as arranged"
        else:
            yield f"Today{about}"
        if session and session.cue:
            yield f"When: {session.cue}"
        if kit := self._kit(session):
            yield f"Have ready: {'; '.join(kit)}"
        if (session and session.companions) or any(e and e.companions for _, e, _ in self.work):
            yield "Have someone with you, as on your sheet."
        if self.work:
            yield from checks_first(self.plan, self.contacts)
        if self.easing:
            yield self._welcome()
        elif self.week.kind is WeekKind.SPARE and self.work:
            yield "You did not need this spare week. Stay at the level you reached:"
        elif any(done.lighter for _, _, done in self.work):
            yield "A lighter week, on purpose: it is part of the plan."

    def _welcome(self) -> str:
        drops = [
            last.step - done.step
            for name, _, done in self.work
            if done.easing and done.step is not None
            if (last := self.course.last_own(name, self.week.number)) and last.step is not None
        ]
        how = "one step lower" if max(drops, default=0) == 1 else "lower" if any(drops) else "gently"
        return f"Welcome back. Start {how} on purpose:" if self.first_back else f"Still {how} on purpose:"

    def _kit(self, session: Session | None) -> list[str]:
        if not session:
            return []
        first = next((done.step for _, _, done in self.work if done.step is not None), 0)
        return [kit.text for kit in session.kit if kit.from_step is None or first + 1 >= kit.from_step]

    def _list(self) -> Iterator[str]:
        session = self.session
        if session and session.warm_up and self.work:
            yield f"- Warm up: {_part(session.warm_up)}"
        for name, exercise, done in self.work:
            line = f"- {exercise_text(exercise, name, done.dose)}"
            if done.easing and (last := self.course.last_own(name, self.week.number)) and last.dose != done.dose:
                line += f" (last time {_difference(last, done)})"
            if exercise and exercise.pause_while:
                line += f". Leave it out while: {'; '.join(exercise.pause_while)}"
            yield line
        if session and session.cool_down and self.work:
            yield f"- Cool down: {_part(session.cool_down)}"
        if session and session.rounds > 1 and self.work:
            yield f"{session.rounds} rounds of these."
        if session and session.between and self.work:
            yield f"Rest {session.between} between exercises."

    def _news(self) -> Iterator[str]:
        """What is new today: a step up, on the first day of its week that holds it; an exercise that begins."""
        for name, exercise, done in self.work:
            if not exercise or done.step is None or not self._first_with(name):
                continue
            if done.first and done.own and 0 < done.step < len(exercise.steps):
                yield step_up(self.plan, exercise, done, alone=len(self.work) == 1)
            elif done.own and self.course.new_here(name, self.week.number):
                yield f"New today: {name_text(name).lower()}."

    def _choices(self) -> Iterator[str]:
        easier = [
            exercise_text(exercise, name, exercise.easier.dose)
            for name, exercise, done in self.work
            if exercise and exercise.easier and exercise.easier.dose != done.dose
        ]
        if len(easier) == 1:
            yield f"Sore day? {easier[0]}, and stop there. That counts."
        elif easier:
            yield "Sore day? Only these, and stop there. That counts:"
            yield from (f"- {line}" for line in easier)
        for name, exercise, _ in self.work:
            if exercise and exercise.at_least:
                least = dose_words(exercise.at_least)
                yield f"Bad day? At least this of {name_text(name).lower()}: {least}. That counts."
        session = self.session
        others = [*(session.instead if session else ()), *(i for _, e, _ in self.work if e for i in e.instead)]
        yield from (instead_line(other) for other in others)
        if session and session.if_not_done in NOT_DONE and not self.sitting.any_day:
            yield NOT_DONE[session.if_not_done]

    def _ahead(self) -> Iterator[str]:
        left = max(self.course.easing_left(name, self.week.number) for name, _, done in self.work if done.easing)
        if self.course.goes_on(self.week.number):
            if left == 0:
                yield "It should feel too easy. Next week you go back to where you were, then on."
            else:
                yield f"It should feel too easy. In {left + 1} weeks you are back to where you were, then on."
        else:
            yield "It should feel too easy."
        if self.first_back:
            yield "If it flares again today, stay here one more week."


def _difference(last: Done, now: Done) -> str:
    variant = f", {last.dose.variant}" if last.dose.variant and last.dose.variant != now.dose.variant else ""
    return dose_words(last.dose) + variant


def _by_time(sitting: Sitting) -> tuple[date, str, str, int]:
    return sitting.day, sitting.starts.isoformat() if sitting.starts else "", sitting.name, sitting.order


def _part(part: WarmUp) -> str:
    effort = f", effort {part.effort} out of {part.scale}" if part.effort and part.scale else ""
    length = minutes_text(Fraction(part.minutes))
    return (f"{part.text}, {length}" if part.text else length) + effort


def instead_line(instead: Instead) -> str:
    """What is done instead when something stands in the way."""
    if instead.session:
        return f'If {instead.when}: "{instead.session}" instead.'
    dose = f", {dose_words(instead.dose)}" if instead.dose else ""
    return f"If {instead.when}: {name_text(instead.exercise or 'something else').lower()}{dose} instead."


def step_up(plan: Plan, exercise: Exercise, done: Done, alone: bool) -> str:
    """What is new on the day of a step up, when to stay, and with what."""
    before = exercise.steps[(done.step or 1) - 1].dose
    new, old = dose_words(done.dose), dose_words(before)
    if done.dose.variant and done.dose.variant != before.variant:
        new, old = f"{done.dose.variant}, {new}", f"{before.variant or 'as before'}, {old}"
    title = "" if alone else f"{name_text(exercise.name).lower()}, "
    pace = exercise.pace
    if pace and pace.by == "date":
        lower = f" If {pace.down_if}: go back to {old}." if pace.down_if else ""
        return f"New today: {title}{new}. This step goes by the date.{lower}"
    asked = pace and (pace.condition or (pace.sessions and f"the last {pace.sessions} sessions done as written"))
    check = f" Before you go up: {asked}." if asked else ""
    over, settled = limit_words(plan)[1], settle_words(plan)[1]
    otherwise = "If not, or if last time" if check else "If last time"
    return f"New today: {title}{new}.{check} {otherwise} {over}, or was not back to usual {settled}, stay with {old}."
