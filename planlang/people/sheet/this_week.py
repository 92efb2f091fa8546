"""My week: its days, what is done on them, where and with what, and the sore-day version beside every dose."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from planlang.model.exercise import Exercise
from planlang.model.plan import Away
from planlang.model.say import dose_words, exercise_title, minutes_text, name_text
from planlang.people.sheet.blocks import Block, Items, Para, Section, Table
from planlang.planning.telling.day import Day
from planlang.planning.telling.exercise_lines import instead_line, part_text
from planlang.planning.telling.names import CODE
from planlang.planning.telling.standing import checks_first, pain_line
from planlang.planning.telling.telling import Telling
from planlang.planning.telling.whole_days import daily_news, easier
from planlang.planning.week import Done, Sitting, Week, WeekKind
from planlang.text.languages.line import Line, joined
from planlang.text.languages.words import Words

OPEN_LEG = ("full", "all", "as comfortable")


def this_week(telling: Telling, week: Week) -> Iterator[Block]:
    """The blocks under "My week"."""
    words = telling.words
    yield from _limits(telling, week)
    for away in telling.plan.away:
        if away.first <= week.starts + timedelta(days=6) and away.last >= week.starts:
            yield Para(away_line(telling, away))
    if week.kind is WeekKind.REST:
        yield from as_blocks(easier(telling, week))
        yield from (_session(telling, week, sittings) for sittings in _grouped(week))
        yield Para(pain_line(telling))
        return
    if not week.sittings and not week.activities:
        if week.kind is not WeekKind.AWAY:
            yield Para(words.say("week.nothing"))
        return
    if checks := checks_first(telling):
        yield Items(tuple(checks))
    yield from (_session(telling, week, sittings) for sittings in _grouped(week))
    if week.activities:
        yield from _activities(telling, week)
    yield Para(words.say("week.sore-line", sore=words.say("week.sore")))
    yield Para(pain_line(telling))


def away_line(telling: Telling, away: Away) -> Line:
    """Days away, and what is done there."""
    words = telling.words
    session = telling.plan.session(away.session) if away.session else None
    what = words.say("away.session", name=shown(telling, session.name)) if session else words.say("away.nothing")
    return words.say("next.away", first=words.near(away.first), last=words.near(away.last), what=what)


def shown(telling: Telling, name: str) -> Line:
    """A session's name; one that holds a person's code is not told."""
    return telling.words.say("day.title") if CODE.search(name) else telling.words.plan(name)


def as_blocks(lines: Iterator[Line]) -> Iterator[Block]:
    """Lines of an entry as paragraphs, those that begin with a dash as one list."""
    items: list[Line] = []
    for line in lines:
        if line.startswith("- "):
            (mark, language), *rest = line.parts
            items.append(Line(((mark.removeprefix("- "), language), *rest)))
            continue
        if items:
            yield Items(tuple(items))
            items = []
        yield Para(line)
    if items:
        yield Items(tuple(items))


def _limits(telling: Telling, week: Week) -> Iterator[Block]:
    """What a surgeon has limited, while it holds."""
    words, lines = telling.words, []
    for operation in telling.plan.operations:
        if operation.weight_bearing and operation.weight_bearing not in OPEN_LEG:
            how = operation.weight_bearing.replace("body-weight", "your weight")
            lines.append(words.say("week.leg", how=how))
        for limit in operation.limits:
            if limit.until is None:
                lines.append(words.say("week.limit", limit=limit.text))
            elif limit.until >= week.starts:
                lines.append(words.say("week.limit-until", day=words.day(limit.until), limit=limit.text))
    if lines:
        yield Items(tuple(lines))


def _grouped(week: Week) -> list[list[Sitting]]:
    """The week's sittings, those of one session that hold the same together."""
    groups: dict[tuple[str, tuple[str, ...]], list[Sitting]] = {}
    for sitting in week.sittings:
        groups.setdefault((sitting.name, sitting.exercises), []).append(sitting)
    return list(groups.values())


def _session(telling: Telling, week: Week, sittings: Sequence[Sitting]) -> Section:
    day = Day(telling, week, sittings[0])
    return Section(shown(telling, sittings[0].name), tuple(_of_session(telling, day, sittings)))


def _of_session(telling: Telling, day: Day, sittings: Sequence[Sitting]) -> Iterator[Block]:
    words, session = telling.words, day.session
    yield from (Para(line, strong=True) for line in _when(day, sittings, words))
    if facts := list(_where(day, words)):
        yield Para(joined(" ", facts))
    if not day.work:
        yield Para(words.say("week.visit-only"))
        return
    yield from (Para(line) for line in day.opening())
    if session and session.warm_up:
        yield Para(words.say("day.warm-up", part=part_text(session.warm_up, words)))
    yield _table(telling, day.week, [done for _, _, done in day.work])
    if session and session.cool_down:
        yield Para(words.say("day.cool-down", part=part_text(session.cool_down, words)))
    for name, exercise, _ in day.work:
        if exercise and exercise.pause_while:
            what, signs = name_text(name).lower(), "; ".join(exercise.pause_while)
            yield Para(words.say("week.pause", what=what, signs=signs))
    yield from (Para(line) for line in day.rounds())
    yield from (Para(line) for line in _news(telling, day.week, sittings))
    if day.easing:
        yield from (Para(line) for line in day.ahead())
    yield from (Para(line) for line in day.otherwise())


def _where(day: Day, words: Words) -> Iterator[Line]:
    """Where, with what, with whom, and what it follows in the day."""
    session = day.session
    if session and session.place:
        yield words.say("week.place", place=session.place)
    if kit := day.kit():
        yield words.say("week.kit", kit=", ".join(kit))
    if session and session.companions:
        yield words.say("week.with", who=", ".join(session.companions))
    if session and session.cue:
        yield words.say("week.cue", cue=session.cue)


def _news(telling: Telling, week: Week, sittings: Sequence[Sitting]) -> Iterator[Line]:
    said: dict[Line, None] = {}
    for sitting in sittings:
        said |= dict.fromkeys(Day(telling, week, sitting).news("week"))
    yield from said


def _when(day: Day, sittings: Sequence[Sitting], words: Words) -> Iterator[Line]:
    """The days with their times, and which of them are visits."""
    first = sittings[0]
    if first.any_day:
        yield day.when()
        return
    about = words.say("day.about", time=minutes_text(first.minutes, words)) if first.minutes else Line(())
    times: dict[str, list[date]] = {}
    for one_day in dict.fromkeys(s.day for s in sittings):
        clock = dict.fromkeys(words.clock(s.starts.time()) for s in sittings if s.day == one_day and s.starts)
        times.setdefault(", ".join(clock), []).append(one_day)
    for clock_text, days in times.items():
        named = listing([words.near(d) for d in days], words)
        at = words.say("week.at", days=named, time=Line(((clock_text, None),))) if clock_text else named
        yield words.say("week.days", days=at, about=about)
    visits = [words.near(s.day) for s in sittings if s.visit]
    if visits:
        yield words.say("week.visits", n=len(visits), days=listing(visits, words))


def listing(lines: Sequence[Line], words: Words) -> Line:
    """`a, b and c`."""
    if len(lines) < 2:
        return joined("", lines)
    return words.say("list.and", some=joined(", ", lines[:-1]), last=lines[-1])


def _table(telling: Telling, week: Week, doing: Sequence[Done]) -> Table:
    words = telling.words
    head = (words.say("week.exercise"), words.say("week.dose"), words.say("week.sore"))
    rows = []
    for done in doing:
        exercise = telling.plan.exercise(done.name)
        dose = dose_words(done.dose, words)
        if done.easing and (last := telling.course.last_own(done.name, week.number)) and last.dose != done.dose:
            dose = words.say("day.last-time", line=dose, last=dose_words(last.dose, words))
        title = exercise_title(exercise, done.name, done.dose, words)
        rows.append((title, dose, sore(exercise, done, words)))
    return Table(head, tuple(rows))


def sore(exercise: Exercise | None, done: Done, words: Words) -> Line:
    """What is done of an exercise on a sore day; what has no version of its own is left out."""
    easier = exercise.easier if exercise else None
    if easier:
        if done.dose == easier.dose:
            return words.say("week.sore-same")
        variant = [words.plan(easier.dose.variant)] if easier.dose.variant else []
        return joined(", ", [*variant, dose_words(easier.dose, words)])
    if exercise and exercise.at_least:
        return words.say("week.sore-least", dose=dose_words(exercise.at_least, words))
    if exercise and exercise.daily:
        return words.say("dose.comfortable")
    return words.say("week.sore-row")


def _activities(telling: Telling, week: Week) -> Iterator[Block]:
    words = telling.words
    name = words.say("week.every-day")
    blocks: list[Block] = [_table(telling, week, list(week.activities.values()))]
    for done in week.activities.values():
        exercise = telling.plan.exercise(done.name)
        blocks += (Para(line) for line in daily_news(telling, week, done))
        blocks += (Para(instead_line(other, words)) for other in (exercise.instead if exercise else ()))
    yield Section(name, tuple(blocks))
