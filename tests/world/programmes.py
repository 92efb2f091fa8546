"""The published programmes of `examples/programmes`, read and reckoned, for the tests beside this file."""

from __future__ import annotations

from pathlib import Path

from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.planning.week import Week, WeekKind, Weeks
from planlang.text.finding import Finding, Level
from planlang.text.source import Source

FOLDER = Path(__file__).parents[2] / "examples" / "programmes"
FILES = sorted(FOLDER.glob("*.plan"))


def text_of(name: str) -> str:
    """The text of a programme, by the name of its file."""
    return (FOLDER / f"{name}.plan").read_text(encoding="utf-8")


def plan_of(text: str) -> Plan:
    """The plan that a text says; no line of it may be unreadable or contradict another."""
    plan, findings = read_plan(Source("programme.plan", text))
    assert [f.message for f in findings if f.level is not Level.ADVICE] == []
    assert plan is not None
    return plan


def weeks_of(text: str, rest: frozenset[int] = frozenset()) -> Weeks:
    """The reckoned weeks of a text."""
    return reckon(plan_of(text), rest)


def found_in(text: str) -> list[Finding]:
    """Everything that reading and reckoning find in a text."""
    plan, findings = read_plan(Source("programme.plan", text))
    return [*findings, *(reckon(plan).findings if plan else ())]


def training(weeks: Weeks) -> list[Week]:
    """The training weeks."""
    return [w for w in weeks.weeks if w.kind is WeekKind.TRAINING]


def sessions_a_week(weeks: Weeks, name: str | None = None) -> list[int]:
    """How many sessions (of one name) each training week holds."""
    return [sum(s.count for s in w.sittings if name in (None, s.name)) for w in training(weeks)]


def changed(text: str, old: str, new: str) -> str:
    """A text with one thing in it written otherwise."""
    assert old in text
    return text.replace(old, new)


def without(text: str, *headers: str) -> str:
    """A text without the blocks of these headers."""
    kept, leaving = [], False
    for line in text.splitlines():
        if line[:1].isalpha():
            leaving = line.split()[0] in headers
        if not leaving:
            kept.append(line)
    return "\n".join([*kept, ""])


def plan_text(*lines: str, weeks: int = 12, starts: str = "2027-03-01", room: int = 0) -> str:
    """A bare plan with these lines after its heading."""
    heading = ['plan "Trial plan"', "for P-099, aged 60", f"starts {starts}", f"lasts {weeks} weeks"]
    return "\n".join([*heading, *([f"rest\nroom for {room} weeks"] if room else []), *lines, ""])
