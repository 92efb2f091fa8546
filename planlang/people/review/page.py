"""The review as one page of HTML that needs nothing beside itself: no script, nothing fetched, made to be printed."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.people.review.ladder_chart import ladder_chart
from planlang.people.review.measure_chart import measure_chart
from planlang.people.review.pain_chart import pain_chart, shown
from planlang.people.review.style import STYLE
from planlang.people.review.tables import figure, paragraphs, said, table
from planlang.people.review.weeks_chart import weeks_chart
from planlang.planning.review import below
from planlang.planning.review import wording as words
from planlang.planning.review.data import Review
from planlang.planning.review.screen import first_lines
from planlang.planning.week import WeekKind

NOTE = "For the clinician. It supports your judgement and does not replace it; local rules come first."
MANY = 2
"""Values that make a course worth drawing."""


def html(review: Review, ran: str) -> str:
    """The page. `ran`: which rules ran, in a sentence. The same review always gives the same bytes."""
    return "\n".join(_page(review, ran)) + "\n"


def _page(review: Review, ran: str) -> Iterator[str]:
    plan = review.past.plan
    whose = f"{plan.code}, " if plan.code else ""
    yield '<!DOCTYPE html>\n<html lang="en" dir="ltr">\n<head>\n<meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield '<meta name="referrer" content="no-referrer">'
    yield f"<title>Review, {said(whose)}{review.as_of}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<main>"
    yield f"<h1>{said(plan.title)}</h1>"
    yield f"<p>Review of {said(whose)}{said(words.through_text(review))}. <strong>{words.UNWATCHED}</strong></p>"
    yield from _first(review)
    yield from _sessions(review)
    yield from _pain(review)
    yield from _exercises(review)
    yield from _measures(review)
    yield from _targets(review)
    yield from _lines("Goals on their own scale", below.score_lines(review))
    yield from _lines(f"What the last {below.WEEKS} weeks asked", below.load_lines(review))
    yield from _findings(review)
    yield from _proposal(review)
    yield f'<div class="foot">\n<p>{said(ran)}</p>\n<p>{NOTE}</p>\n</div>\n</main>\n</body>\n</html>'


def _first(review: Review) -> Iterator[str]:
    """What is looked at first, and nothing else: a heading for each line."""
    yield '<section class="first">\n<h2>First</h2>\n<table>\n<tbody>'
    groups: list[tuple[str, list[str]]] = []
    for label, line in first_lines(review):
        if label or not groups:
            groups.append((label, []))
        groups[-1][1].append(line)
    for label, lines in groups:
        shown = "".join(f"<li>{_strong(line)}</li>" for line in lines)
        cell = f"<ul>{shown}</ul>" if len(lines) > 1 else _strong(lines[0])
        yield f'<tr><th scope="row">{said(label)}</th><td>{cell}</td></tr>'
    yield "</tbody>\n</table>\n</section>"


def _strong(line: str) -> str:
    return f"<strong>{said(line)}</strong>" if line.startswith("OPEN") else said(" ".join(line.split()))


def _sessions(review: Review) -> Iterator[str]:
    yield f"<section>\n<h2>Sessions done ({words.REPORTED})</h2>"
    yield from paragraphs(below.session_lines(review))
    if any(w.outcomes or w.kind is WeekKind.REST for w in review.weeks):
        yield figure(weeks_chart(review))
    if review.weeks:
        rows = [(f"Week {w.number}", words.day_text(w.starts), words.week_text(w)) for w in review.weeks]
        yield from table("Week by week", ("Week", "From", "What came of it"), rows)
    yield from paragraphs(below.rest_lines(review))
    yield "</section>"


def _pain(review: Review) -> Iterator[str]:
    yield "<section>\n<h2>Pain</h2>"
    yield from paragraphs([f"{words.limit_text(review).capitalize()}."])
    if any(day >= shown(review)[0] for day, _ in review.pain.days):
        yield figure(pain_chart(review))
    rows = [(words.day_text(day), f"{words.number(value)}/10") for day, value in review.pain.mornings]
    yield from table("Next mornings, last 2 weeks", ("Morning", "Pain"), rows)
    yield "</section>"


def _exercises(review: Review) -> Iterator[str]:
    if not review.exercises:
        return
    yield "<section>\n<h2>Exercises</h2>"
    rows = [
        (
            one.next.name,
            words.exercise_text(one),
            f"{words.NEXT[one.next.next]}: {one.next.why}",
            below.ahead_text(one),
            one.next.ask or "",
        )
        for one in review.exercises
    ]
    yield from table("", ("Exercise", "Now", "By its own rule", "As the plan goes", "Its condition, to be asked"), rows)
    drawn = [one for one in review.exercises if one.steps > 1]
    if drawn:
        yield from paragraphs(
            ["Heavy line: so far. Dashes: as the plan has it. Slanting lines: easier week, part of the plan."]
        )
    for place, one in enumerate(drawn):
        yield f"<h3>{said(one.next.name)}</h3>"
        yield figure(ladder_chart(review, one, place))
    yield "</section>"


def _measures(review: Review) -> Iterator[str]:
    if not review.changes:
        return
    yield "<section>\n<h2>Measures against the start</h2>"
    rows = [(one.title, words.change_text(one), one.source or "") for one in review.changes]
    yield from table("", ("Measure", "Change", "Where its error is from"), rows)
    for place, one in enumerate(review.changes):
        if len(one.course) >= MANY:
            yield f"<h3>{said(one.title)}</h3>"
            yield figure(measure_chart(one, place))
    yield "</section>"


def _targets(review: Review) -> Iterator[str]:
    if not review.targets:
        return
    yield "<section>\n<h2>Targets from here on</h2>"
    rows = [
        (
            one.standing.target.title,
            words.day_text(one.standing.by, year=True) if one.standing.by else "",
            f"{words.target_text(one, review.rest_left)} {words.chance_text(one)}".strip(),
        )
        for one in review.targets
    ]
    yield from table("", ("Target", "By", "Where it stands"), rows)
    yield from paragraphs(below.assumed_lines(review))
    yield "</section>"


def _lines(title: str, lines: Iterator[str]) -> Iterator[str]:
    listed = list(lines)
    if listed:
        yield f"<section>\n<h2>{said(title)}</h2>"
        yield from paragraphs(listed)
        yield "</section>"


def _findings(review: Review) -> Iterator[str]:
    """What the rules about diaries found, by place."""
    found = [one for one in review.findings if one.waived is None]
    if not found:
        return
    yield "<section>\n<h2>Found by the rules about diaries</h2>"
    source = review.past.diary.source
    rows = []
    for one in found:
        place = (one.source or source).place(one.span) if one.span else None
        where = f", line {place.line}" if place else ""
        rows.append((f"{one.rule}{where}", one.message, one.advice or ""))
    yield from table("", ("Rule", "What", "What to do"), rows)
    yield "</section>"


def _proposal(review: Review) -> Iterator[str]:
    if review.proposal is None:
        return
    yield "<section>\n<h2>The next block, as a draft</h2>"
    yield from paragraphs(["A proposal as plan text, `state draft`: a clinician reads it, changes it and signs it."])
    yield f"<pre>{said_lines(review.proposal)}</pre>\n</section>"


def said_lines(text: str) -> str:
    """Plan text with its lines as they are."""
    return "\n".join(said(line).replace("\N{NO-BREAK SPACE}", " ") for line in text.splitlines())
