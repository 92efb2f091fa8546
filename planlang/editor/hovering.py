"""What an editor shows beside the pointer: what a line says, what a step works out to, what a rule rests on."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.editor.document import Document
from planlang.editor.names import exercise_line
from planlang.editor.reference import about
from planlang.model.exercise import Exercise
from planlang.model.show import dose_text
from planlang.planning.week import Week
from planlang.syntax.nodes import Statement
from planlang.syntax.words import Token
from planlang.text.data import frozen
from planlang.text.finding import Finding
from planlang.text.source import Span


@frozen
class Hover:
    """Markdown, and the words that it is about."""

    text: str
    span: Span


def hover(document: Document, offset: int) -> Hover | None:
    """What is to be said of an offset; None where nothing is."""
    line = document.line_at(offset)
    if not isinstance(line, Statement) or not line.span.start <= offset <= line.span.end:
        return None
    word = next((t for t in line.tokens if t.start_pos <= offset <= t.end_pos), None)
    span = Span(word.start_pos, word.end_pos) if word else line.span
    parts = [*_of_word(document, line, word), *_step(document, line), about(line.name)]
    parts += _rests_on(document, line)
    return Hover("\n\n".join(part for part in parts if part), span)


def _of_word(document: Document, line: Statement, word: Token | None) -> Iterator[str]:
    """What a name in the line is."""
    if word is None or word.type != "NAME":
        return
    name = str(word)
    if line.name == "waive":
        rule = next((r for r in document.rules.rules if r.name == name), None)
        if rule:
            yield f"**{rule.name}** ({rule.level.value}, rests on {rule.strength}): {rule.title}"
            yield rule.why
            yield from (f"- {said}" for said in rule.source_lines())
        return
    measure = document.catalogue.measure(name)
    if measure and line.name in ("baseline", "measured_by", "diary_measured"):
        yield f"**{name}**: {measure.title}" + (f", in {measure.unit}" if measure.unit else "")
        return
    exercise = document.plan.exercise(name) if document.plan else None
    if exercise:
        yield f"**{exercise.name}**: {exercise_line(exercise)}"


def _step(document: Document, line: Statement) -> Iterator[str]:
    """The whole dose of a step, and when it is reached."""
    if line.name not in ("begin", "then", "easier", "rise") or document.plan is None:
        return
    place = document.inside(line.span)
    for exercise in document.plan.exercises:
        if exercise.easier and _same(exercise.easier.span, place) and line.name == "easier":
            yield f"The step for a sore day: **{_whole(document, exercise, -1)}**"
            return
        if line.name == "rise" and exercise.rise and _same(exercise.rise.span, place):
            last = len(exercise.steps) - 1
            yield f"{len(exercise.steps)} steps, the last one **{_whole(document, exercise, last)}**"
            yield _reached(document, exercise, last)
            return
        for number, step in enumerate(exercise.steps):
            if _same(step.span, place) and line.name in ("begin", "then"):
                yield f"Step {number + 1} of {len(exercise.steps)}: **{_whole(document, exercise, number)}**"
                yield _reached(document, exercise, number)
                return


def _same(span: Span, place: Span) -> bool:
    return span.start <= place.start < max(span.end, span.start + 1)


def _whole(document: Document, exercise: Exercise, number: int) -> str:
    step = exercise.easier if number < 0 else exercise.steps[number]
    assert step is not None
    assert document.plan is not None
    variant = f", {step.dose.variant}" if step.dose.variant else ""
    return dose_text(step.dose, document.plan.today, exercise.name) + variant


def _reached(document: Document, exercise: Exercise, number: int) -> str:
    """The first week of a step, where no rest falls."""
    for week in document.weeks.weeks if document.weeks else ():
        done = week.exercises.get(exercise.name) or week.activities.get(exercise.name)
        if done and done.step == number and done.own:
            return f"Reached in {_week(week)}, if no easier week is taken before it."
    return "Not reached in this plan."


def _week(week: Week) -> str:
    trained = f"training week {week.training_week}, " if week.training_week else ""
    return f"{trained}calendar week {week.number}, from {week.starts.isoformat()}"


def _rests_on(document: Document, line: Statement) -> Iterator[str]:
    """What the findings on this line rest on."""
    own = document.source.line_of(line.span.start)
    seen = set()
    for finding in document.found:
        if finding.span is None or finding.rule in seen:
            continue
        source = finding.source or document.checked.source
        if source.name == document.source.name and source.place(finding.span).line == own:
            seen.add(finding.rule)
            yield rests_on(document, finding)


def rests_on(document: Document, finding: Finding) -> str:
    """A finding's rule, why it is looked for, and its sources, as Markdown."""
    rule = next((r for r in document.rules.rules if r.name == finding.rule), None)
    said = [f"**{finding.rule}** ({finding.level.value})"]
    if rule:
        said.append(f"{rule.title}. {rule.why}")
        said += [f"- {line}" for line in rule.source_lines()]
    return "\n\n".join(said)
