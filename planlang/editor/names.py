"""The names that may stand in a line, each with a line of explanation."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from planlang.editor.document import Document
from planlang.model import catalogue
from planlang.model.composing.library import library
from planlang.model.exercise import Exercise
from planlang.model.show import dose_text
from planlang.syntax.nodes import Statement
from planlang.text.data import frozen

_EXERCISES = """
do_exercises still_do leave reach instead start_reach tested change leave_block exercise activity
diary_done diary_part diary_extra diary_did_exercise
"""
EXERCISES = frozenset(_EXERCISES.split())
"""Statements that name exercises."""


@frozen
class Named:
    """A name that may be written, what kind of thing it is, and a line about it."""

    name: str
    kind: str
    about: str = ""


def exercises(document: Document) -> Iterator[Named]:
    """The plan's own exercises and activities, then those of its libraries and template."""
    plan = document.plan
    seen: set[str] = set()
    for exercise in plan.exercises if plan else ():
        seen.add(exercise.name)
        yield Named(exercise.name, "exercise", exercise_line(exercise))
    for section in document.sections:
        if section.kind in ("exercise", "activity") and len(section.header.tokens) > 1:
            name = str(section.header.tokens[-1])
            if name not in seen:
                seen.add(name)
                yield Named(name, "exercise", "of this file")
    for source in document.named:
        found = library(source)
        for name in found.exercises if found else ():
            if name not in seen:
                seen.add(name)
                yield Named(name, "exercise", f"of the library {Path(source.name).name}")


def exercise_line(exercise: Exercise) -> str:
    """`strength, 5 steps: 2x6 to 3x10 at 2 kg`."""
    kind = exercise.kind or ("activity" if exercise.activity else "exercise")
    if not exercise.steps:
        return kind
    first, last = dose_text(exercise.steps[0].dose), dose_text(exercise.steps[-1].dose)
    many = len(exercise.steps)
    return f"{kind}, {many} steps: {first} to {last}" if many > 1 else f"{kind}: {first}"


def sessions(document: Document) -> Iterator[Named]:
    """The names of the plan's sessions."""
    plan = document.plan
    names = [s.name for s in plan.sessions] if plan else []
    for section in document.sections:
        if section.kind == "session" and section.header.name == "session":
            names.append(section.header.text())
    for name in dict.fromkeys(names):
        yield Named(name, "session", "a session of this plan")


def rules(document: Document) -> Iterator[Named]:
    """The rules in force."""
    for rule in document.rules.in_force():
        yield Named(rule.name, "rule", f"{rule.level.value}: {rule.title}")


def measures(document: Document) -> Iterator[Named]:
    """The measures that are known."""
    for measure in document.catalogue.measures.values():
        unit = f" ({measure.unit})" if measure.unit else ""
        yield Named(measure.name, "measure", f"{measure.title}{unit}")


def conditions(document: Document) -> Iterator[Named]:
    """The conditions that are known."""
    for name, condition in document.catalogue.conditions.items():
        yield Named(name, "condition", "; ".join(condition.joints) or "a condition")


def kinds() -> Iterator[Named]:
    """The kinds of exercise."""
    return (Named(name, "kind", "a kind of exercise") for name in catalogue.kinds())


def muscles() -> Iterator[Named]:
    """The muscle groups."""
    return (Named(name, "muscle", "a muscle group") for name in catalogue.muscles())


def tags() -> Iterator[Named]:
    """The tags."""
    return (Named(name, "tag", "a tag") for name in catalogue.tags())


def signs() -> Iterator[Named]:
    """The signs that stop the day."""
    return (Named(name, "sign", sign.words) for name, sign in catalogue.signs().items())


def blanks(document: Document) -> Iterator[Named]:
    """The blanks of the template that the plan is made from, or of this template."""
    sources = [d for s in document.named if (d := Document(s, Path(s.name), document.run)).kind == "template"]
    for one in [*([document] if document.kind == "template" else []), *sources]:
        for line in one.script.lines:
            if isinstance(line, Statement) and line.name == "blank" and len(line.tokens) > 1:
                yield Named(str(line.tokens[1]), "blank", one.source.text[line.span.start : line.span.end])
