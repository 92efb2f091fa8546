"""What comes next, up to the next review: steps up, what begins, days away, dates to remember."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from planlang.model.exercise import Exercise
from planlang.model.say import dose_words, exercise_title, name_text
from planlang.people.sheet.blocks import Block, Items, Para
from planlang.people.sheet.this_week import away_line
from planlang.planning.telling.exercise_lines import go_up_if, new_dose
from planlang.planning.telling.standing import limit_words, settle_words
from planlang.planning.telling.telling import Telling
from planlang.planning.telling.whole_days import stop, weighed
from planlang.planning.week import Done, Week
from planlang.planning.weeks import day_of, review_days
from planlang.text.languages.line import Line, joined

WITHOUT_REVIEW = timedelta(weeks=4)  # how far the list goes where no review is set

Dated = tuple[date, Line]


def ahead(telling: Telling, week: Week) -> Iterator[Block]:
    """The list by date, and when not to go up."""
    words, plan = telling.words, telling.plan
    review = next((day for day in review_days(plan) if day >= week.starts), None)
    last = review or week.starts + WITHOUT_REVIEW
    steps = list(_steps(telling, week, last))
    dates = [*steps, *_dates(telling, week, last)]
    if review:
        dates.append((review, words.say("next.review", day=words.near(review))))
    if dates:
        yield Items(tuple(line for _, line in sorted(dates, key=lambda one: one[0])))
    if steps:
        over, settled = limit_words(plan, words)[1], settle_words(plan, words)[1]
        yield Para(words.say("next.stay", over=over, settled=settled))


def _steps(telling: Telling, week: Week, last: date) -> Iterator[Dated]:
    begun = {**week.exercises, **week.activities}.keys() | _before(telling, week)
    for later in telling.weeks.weeks[week.number :]:
        if later.starts > last:
            return
        for name, done in {**later.exercises, **later.activities}.items():
            exercise = telling.plan.exercise(name)
            if exercise is None or not done.own:
                continue
            if name not in begun:
                begun |= {name}
                yield later.starts, _new(telling, exercise, done, later.starts)
            elif done.first and done.step:
                yield later.starts, _up(telling, exercise, done, later.starts)


def _before(telling: Telling, week: Week) -> set[str]:
    earlier = telling.weeks.weeks[: week.number - 1]
    return {name for one in earlier for name in (*one.exercises, *one.activities)}


def _new(telling: Telling, exercise: Exercise, done: Done, day: date) -> Line:
    words = telling.words
    title = exercise_title(exercise, exercise.name, done.dose, words)
    what = words.say("dose.line", what=title, dose=dose_words(done.dose, words))
    return words.say("next.new", day=words.near(day), what=what)


def _up(telling: Telling, exercise: Exercise, done: Done, day: date) -> Line:
    words, pace = telling.words, exercise.pace
    what = joined(", ", [words.plan(name_text(exercise.name).lower()), new_dose(exercise, done, words)])
    said = [words.say("next.step", day=words.near(day), what=what)]
    asked = list(go_up_if(telling, exercise, done))
    # The rule about the last time stands once below the list; by the date it isn't asked.
    said += asked if pace and pace.by == "date" else asked[:-1]
    return joined(" ", said)


def _dates(telling: Telling, week: Week, last: date) -> Iterator[Dated]:
    plan, words = telling.plan, telling.words
    for away in plan.away:
        if week.starts + timedelta(days=6) < away.first <= last:
            yield away.first, away_line(telling, away)
    for target in plan.targets:
        day = day_of(plan, target.by)
        if day and week.starts <= day <= last:
            title = words.say("next.target-hidden") if weighed(target) else words.plan(stop(target.title))
            yield day, words.say("next.target", day=words.near(day), title=title)
    for prepare in plan.prepares:
        day = day_of(plan, prepare.by)
        if day and week.starts <= day <= last:
            yield day, words.say("next.task", day=words.near(day), what=stop(prepare.text))
