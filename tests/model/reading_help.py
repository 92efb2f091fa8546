"""Short ways to read small plans in tests of the model."""

from __future__ import annotations

from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.model.session import Session
from planlang.text.finding import Finding
from planlang.text.source import Source

HEAD = (
    'plan "Test"\nfor P-001, aged 60\nstarts 2027-03-01\nlasts 12 weeks\n'
    "zone Europe/London\nwritten 2027-02-01\nrevision 1\n"
)


def read(text: str, head: str = HEAD) -> tuple[Plan, tuple[Finding, ...]]:
    """The plan of a header and some more lines, with its findings."""
    plan, findings = read_plan(Source("test.plan", head + text))
    assert plan is not None
    return plan, findings


def clean(text: str, head: str = HEAD) -> Plan:
    """The plan of a text that brings no finding."""
    plan, findings = read(text, head)
    assert [f.message for f in findings] == []
    return plan


def messages(text: str, head: str = HEAD) -> list[tuple[str, str]]:
    """(rule, text underlined) of each finding."""
    _, findings = read(text, head)
    return [(f.rule, (head + text)[f.span.start : f.span.end] if f.span else "") for f in findings]


def exercise(lines: str, name: str = "squat") -> Exercise:
    """The exercise of some lines, without any finding."""
    made = clean(f"exercise {name}\n{lines}\n").exercise(name)
    assert made is not None
    return made


def session(lines: str) -> Session:
    """The session of some lines, without any finding."""
    made = clean(f'session "Bench"\n{lines}\n').session("Bench")
    assert made is not None
    return made
