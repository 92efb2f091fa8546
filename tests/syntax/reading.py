"""Reading small texts in tests of the language."""

from __future__ import annotations

from planlang.syntax.blocks import blocks, misplaced_finding
from planlang.syntax.nodes import Script, Statement
from planlang.syntax.read import read
from planlang.syntax.statements import ANYWHERE, FORMS, HEADERS
from planlang.text.finding import Finding
from planlang.text.source import Source

WHOLE = """\
plan "Two raised beds by spring"
  for P-014, aged 67
  lasts 18 weeks
{plan}
screening 2027-02-22
  unsteady no
{screening}
today
  chair-stands 9 reps
{today}
goal "Dig and plant two raised beds in one morning"
  confidence 7/10
{goal}
target "Boots and band by the door"
  by week 4
{target}
rest
  room for 3 weeks
{rest}
pain
  settle within 24 hours
{pain}
exercise sit-to-stand
  kind strength
{exercise}
activity walking
  kind aerobic
{activity}
session "Chair and bench"
  place "front room"
{session}
review every 4 weeks
"""


OTHERS = {
    "template": 'template "Knee base"\n  lasts 12 weeks',
    "library": 'library "Clinic exercises"',
    "diary": "diary for P-014",
    "change": 'plan "Two raised beds by spring"\n  from template "knee-base.plan"',
}


def script(text: str) -> Script:
    """A text read."""
    return read(Source("made.plan", text))


def findings(text: str) -> list[Finding]:
    """What the language finds in a text: lines that can't be read, and lines that stand in the wrong block."""
    read_text = script(text)
    misplaced = blocks(read_text).misplaced
    return [*read_text.findings, *(misplaced_finding(line, block, read_text) for line, block in misplaced)]


def names(text: str) -> list[str]:
    """The statements of a text by name; an unread line is `?`."""
    return [line.name if isinstance(line, Statement) else "?" for line in script(text).lines]


def whole(block: str = "plan", line: str = "") -> str:
    """A file with one more line in one of its blocks: of a plan with a block of every kind, or of another file."""
    if block in OTHERS:
        return f"{OTHERS[block]}\n{line}\n"
    return WHOLE.format(**{name: line if name == block else "" for name in HEADERS})


def home(name: str) -> str:
    """A block that a statement can stand in."""
    where = FORMS[name].blocks
    return "plan" if where == (ANYWHERE,) else where[0]


def said(finding: Finding) -> str:
    """All that a finding says."""
    return f"{finding.message} {finding.advice}"
