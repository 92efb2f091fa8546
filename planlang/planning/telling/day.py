"""What a person reads on the day of a session."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.model.say import dose_words, exercise_text, minutes_text, name_text, quantity_words
from planlang.model.session import Session
from planlang.planning.telling.course import Course
from planlang.planning.telling.exercise_lines import instead_line, part_text, step_up
from planlang.planning.telling.names import neutral
from planlang.planning.telling.standing import (
    checks_first,
    flare_line,
    help_lines,
    pain_line,
    version_line,
)
from planlang.planning.telling.telling import Telling
from planlang.planning.week import Done, Sitting, Week, WeekKind
from planlang.text.data import frozen
from planlang.text.languages.line import Line, joined
from planlang.text.languages.words import Words

NOT_DONE = {"move within the week": "not-done.week", "drop": "not-done.drop", "move on": "not-done.on"}


@frozen
class Told:
    """The words of an entry: its summary, and its description line by line."""

    summary: Line
    lines: tuple[Line, ...]

    @property
    def text(self) -> str:
        """The description."""
        return "\n".join(self.lines)


@frozen
class Day:
    """One session on one day, in its week, in its plan; asked for its words."""

    telling: Telling
    week: Week
    sitting: Sitting

    def told(self) -> Told:
        """Summary and description, in full."""
        return Told(self._summary(), tuple(self._lines()))

    @property
    def plan(self) -> Plan:
        """The plan."""
        return self.telling.plan

    @property
    def course(self) -> Course:
        """The plan's course."""
        return self.telling.course

    @property
    def words(self) -> Words:
        """The words it is told in."""
        return self.telling.words

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

    def _summary(self) -> Line:
        shown = neutral(self.sitting.name, self.plan.catalogue)
        name = self.words.plan(self.sitting.name) if shown else self.words.say("day.title")
        if self.sitting.visit:
            return self.words.say("day.title-visit", name=name)
        if self.easing:
            return self.words.say("day.title-easier", name=name)
        lighter = any(done.lighter for _, _, done in self.work)
        return self.words.say("day.title-lighter", name=name) if lighter else name

    def _lines(self) -> Iterator[Line]:
        yield self.when()
        yield from self.ready()
        if self.work:
            yield from checks_first(self.telling)
        yield from self.opening()
        yield from self._list()
        yield from self.news()
        if self.work:
            yield from self._choices()
        day = self.sitting.day
        if self.easing:
            yield from self.ahead()
        if self.work:
            yield pain_line(self.telling)
            yield flare_line(self.telling, day)
            yield from help_lines(self.telling, day)
        yield version_line(self.telling, day)

    def when(self) -> Line:
        """The first line: that it is today, or how often this week, and for how long."""
        sitting, words = self.sitting, self.words
        about = words.say("day.about", time=minutes_text(sitting.minutes, words)) if sitting.minutes else Line(())
        if sitting.any_day:
            each = words.say("day.about-each", about=about) if about and sitting.count > 1 else about
            named = {1: "once", 2: "twice"}.get(sitting.count)
            often = words.say(f"times.{named}") if named else words.say("times.n", n=sitting.count)
            return words.say("day.you-choose", often=often.capital(), about=each)
        if sitting.visit:
            return words.say("day.visit" if self.work else "day.contact", about=about)
        return words.say("day.today", about=about)

    def ready(self) -> Iterator[Line]:
        """When in the day, with what, with whom."""
        session, words = self.session, self.words
        if session and session.cue:
            yield words.say("day.cue", cue=session.cue)
        if kit := self.kit():
            yield words.say("day.kit", kit="; ".join(kit))
        if (session and session.companions) or any(e and e.companions for _, e, _ in self.work):
            yield words.say("day.someone")

    def kit(self) -> list[str]:
        """What the session and its exercises need on this day, each once."""
        session, work = self.session, self.work
        if not session:
            return []
        first = next((done.step for _, _, done in work if done.step is not None), 0)
        needed = [(kit, first) for kit in session.kit]
        needed += [(kit, done.step or 0) for _, exercise, done in work if exercise for kit in exercise.kit]
        return list(
            dict.fromkeys(kit.text for kit, step in needed if kit.from_step is None or step + 1 >= kit.from_step)
        )

    def opening(self) -> Iterator[Line]:
        """What kind of day it is, where it is no ordinary one."""
        if self.easing:
            yield self._welcome()
        elif self.week.kind is WeekKind.SPARE and self.work:
            yield self.words.say("day.spare")
        elif any(done.lighter for _, _, done in self.work):
            yield self.words.say("day.lighter")

    def _welcome(self) -> Line:
        drops = [
            last.step - done.step
            for name, _, done in self.work
            if done.easing and done.step is not None
            if (last := self.course.last_own(name, self.week.number)) and last.step is not None
        ]
        how = "one-lower" if max(drops, default=0) == 1 else "lower" if any(drops) else "gently"
        return self.words.say(f"back.{'welcome' if self.first_back else 'still'}-{how}")

    def _list(self) -> Iterator[Line]:
        session, words = self.session, self.words
        if session and session.warm_up and self.work:
            yield words.say("list.item", item=words.say("day.warm-up", part=part_text(session.warm_up, words)))
        for name, exercise, done in self.work:
            line = words.say("list.item", item=exercise_text(exercise, name, done.dose, words))
            if done.easing and (last := self.course.last_own(name, self.week.number)) and last.dose != done.dose:
                line = words.say("day.last-time", line=line, last=_difference(last, done, words))
            if exercise and exercise.pause_while:
                line = words.say("day.leave-out", line=line, signs="; ".join(exercise.pause_while))
            yield line
        if session and session.cool_down and self.work:
            yield words.say("list.item", item=words.say("day.cool-down", part=part_text(session.cool_down, words)))
        yield from self.rounds()

    def rounds(self) -> Iterator[Line]:
        """How often the whole list is gone through, and the rest between exercises."""
        session, words = self.session, self.words
        if session and session.rounds > 1 and self.work:
            yield words.say("day.rounds", n=session.rounds)
        if session and session.between and self.work:
            yield words.say("day.between", time=quantity_words(session.between, words))

    def news(self, when: str = "today") -> Iterator[Line]:
        """What is new today: a step up, on the first day of its week that holds it; an exercise that begins.

        `when`: `today` or `week`.
        """
        for name, exercise, done in self.work:
            if not exercise or done.step is None or not self._first_with(name):
                continue
            if done.first and done.own and 0 < done.step < len(exercise.steps):
                yield step_up(self.telling, exercise, done, when, alone=len(self.work) == 1)
            elif done.own and self.course.new_here(name, self.week.number):
                yield self.words.say(f"new.begins-{when}", what=name_text(name).lower())

    def _choices(self) -> Iterator[Line]:
        words = self.words
        easier = [
            exercise_text(exercise, name, exercise.easier.dose, words)
            for name, exercise, done in self.work
            if exercise and exercise.easier and exercise.easier.dose != done.dose
        ]
        if len(easier) == 1:
            yield words.say("sore.one", dose=easier[0])
        elif easier:
            yield words.say("sore.some")
            yield from (words.say("list.item", item=line) for line in easier)
        for name, exercise, _ in self.work:
            if exercise and exercise.at_least:
                least = dose_words(exercise.at_least, words)
                yield words.say("sore.at-least", what=name_text(name).lower(), dose=least)
        yield from self.otherwise()

    def otherwise(self) -> Iterator[Line]:
        """What is done instead, and what when it isn't done."""
        session = self.session
        others = [*(session.instead if session else ()), *(i for _, e, _ in self.work if e for i in e.instead)]
        yield from (instead_line(other, self.words) for other in others)
        if session and session.if_not_done in NOT_DONE and not self.sitting.any_day:
            yield self.words.say(NOT_DONE[session.if_not_done])

    def ahead(self) -> Iterator[Line]:
        """What comes after a day that is easier on purpose."""
        left = max(self.course.easing_left(name, self.week.number) for name, _, done in self.work if done.easing)
        too_easy = self.words.say("back.too-easy")
        if not self.course.goes_on(self.week.number):
            yield too_easy
        elif left == 0:
            yield too_easy + " " + self.words.say("back.next-week")
        else:
            yield too_easy + " " + self.words.say("back.in-weeks", n=left + 1)
        if self.first_back:
            yield self.words.say("back.flares-again")


def _difference(last: Done, now: Done, words: Words) -> Line:
    said = [dose_words(last.dose, words)]
    if last.dose.variant and last.dose.variant != now.dose.variant:
        said.append(words.plan(last.dose.variant))
    return joined(", ", said)


def _by_time(sitting: Sitting) -> tuple[date, str, str, int]:
    return sitting.day, sitting.starts.isoformat() if sitting.starts else "", sitting.name, sitting.order
