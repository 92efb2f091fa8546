"""The first minute of a visit, in its order: what is looked at first, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planlang.model.diary import Entry, What
from planlang.planning.review import wording as words
from planlang.planning.review.data import ExerciseStands, Review
from planlang.planning.weeks import day_of

Labelled = tuple[str, str]
"""What a line is about, empty where it goes on with the one before; and its words."""
WEEKS = 4
NOTED = "Open signs, falls, giving way, new medicines or operations"


def first_lines(review: Review) -> tuple[Labelled, ...]:
    """The whole first screen, below its heading."""
    return (
        *_under("Noted", news_lines(review)),
        *_under("Goal", goal_lines(review)),
        *_under(f"Last {WEEKS} weeks", week_lines(review)),
        ("Next morning", f"{words.limit_text(review)}; {words.mornings_text(review)}"),
        ("Flare", words.flare_text(review)),
        *_under("Exercises", exercise_lines(review.exercises)),
        *_under("To ask", [f"{n}. {one}" for n, one in enumerate(review.ask, 1)]),
        ("To decide", review.decide),
        ("Next date", next_text(review)),
    )


def _under(label: str, lines: Iterable[str]) -> Iterator[Labelled]:
    for n, line in enumerate(lines):
        yield ("" if n else label), line


def news_lines(review: Review) -> list[str]:
    """What is to be seen to first; else that nothing is noted, up to which day."""
    news = review.news
    last = f"last entry {words.day_text(news.last_entry, year=True)}" if news.last_entry else "no entry yet"
    since = f" since {words.day_text(news.since)}" if news.since else ""
    if not news.any:
        return [f"{NOTED}: none noted{since}; {last}."]
    found = [f"OPEN, nothing written about what was done: {entry_text(one)}" for one in news.open]
    for kinds in (news.falls, news.gave_way, news.new):
        found += [entry_text(one) for one in kinds]
    found += [f"{entry_text(one)}; answered" for one in news.answered]
    return [*found, f"Nothing else noted{since}; {last}."]


_TOLD = {What.FELL: "fell", What.GAVE_WAY: "a joint gave way", What.TOLD: "told", What.SIGN: "sign"}


def entry_text(one: Entry) -> str:
    """`2 May: told "calf sore and swollen" by P-014`."""
    said = [_TOLD.get(one.what, one.what.value)]
    if one.name:
        said.append(one.name)
    if one.text:
        said.append(f'"{one.text}"')
    if one.by:
        said.append(f"by {one.by}")
    return f"{words.day_text(one.day)}: {' '.join(said)}"


def goal_lines(review: Review) -> list[str]:
    """The goal in the person's words, and the confidence in it."""
    plan = review.past.plan
    if plan.goal is None:
        return [f"The plan names none; {confidence_text(review)}"]
    by = day_of(plan, plan.goal.by)
    when = f" by {words.day_text(by, year=True)}" if by else ""
    return [f'"{plan.goal.title}"{when}; {confidence_text(review)}']


def confidence_text(review: Review) -> str:
    """`confidence 7/10 then, 8/10 on 25 Apr`."""
    found = review.confidence
    then = f"{words.number(found.then)}/10 then" if found.then is not None else "not asked then"
    now = f"{words.number(found.now)}/10 on {words.day_text(found.on)}" if found.now is not None and found.on else None
    return f"confidence {then}, {now or 'not told since'}"


def week_lines(review: Review) -> list[str]:
    """The last four weeks that have begun, oldest first."""
    last = review.weeks[-WEEKS:]
    if not last:
        return ["the plan has not begun"]
    wide = max(len(str(week.number)) for week in last)
    days = [words.day_text(week.starts).rjust(6) for week in last]
    return [
        f"week {str(week.number).rjust(wide)}, from {day}: {words.week_text(week)}"
        for week, day in zip(last, days, strict=True)
    ]


def exercise_lines(exercises: Iterable[ExerciseStands]) -> list[str]:
    """One line each: the step now, what its own rule says, and why."""
    return [exercise_line(one) for one in exercises] or ["the plan has none"]


def exercise_line(one: ExerciseStands) -> str:
    """`sit-to-stand: step 4, 3x10: stay, last session 6/10 during`."""
    if one.next.step is None:
        return f"{one.next.name}: not begun"
    dose = f", {one.dose}" if one.dose else ""
    return f"{one.next.name}: {words.step_text(one.next.step)}{dose}: {words.NEXT[one.next.next]}, {one.next.why}"


def next_text(review: Review) -> str:
    """`23 May 2027, review`."""
    if review.next_date is None:
        return "none: the plan is over"
    day, what = review.next_date
    return f"{words.day_text(day, year=True)}, {what}"
