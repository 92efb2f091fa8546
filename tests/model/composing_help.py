"""Plans put together from texts, for tests."""

from __future__ import annotations

from planlang.model.composing.compose import compose
from planlang.model.composing.files import TextFiles
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.text.finding import Finding
from planlang.text.source import Source

KNEE = """\
template "Knee base"
  about      knee osteoarthritis
  lasts      12 weeks
  blank      steps-now 1000 to 6000 steps/day by 100 "steps on an ordinary day"
  blank      reps-now 4 to 12
  blank      load 0.5 to 5 kg
  blank      helper text "who is there"

goal "Up the hill with <helper>"
  by         week 12
  because    "the view"

target "More from the chair"
  by         week 10
  reach      3x<reps-now + 2> in sit-to-stand

rest
  room for   2 weeks
  still do   walking 5 min 3 times a day
  return     1 step lower for 1 week

pain
  accept     up to 5/10 during

exercise sit-to-stand
  kind       strength
  works      quadriceps
  easier     1x4 "high chair"
  begin      2x<reps-now> "chair"
  then       2x<reps-now + 2>
  then       3x<reps-now + 2>
  then       3x<reps-now + 2> at <load>
  progress   every 2 weeks

exercise hip-hinge
  kind       strength
  begin      2x8
  then       2x10
  progress   every 3 weeks

activity walking
  kind       aerobic
  begin      <steps-now>
  rise       300 steps/day every week to <steps-now + 1800 steps/day>
  at most    25 % above the aim

session "Chair and hinge"
  days       Mon, Wed, Fri
  at         07:30 for 30 min
  place      "front room"
  do         sit-to-stand, hip-hinge
  cue        "after breakfast"

tell "Sore does not mean harm."
review every 4 weeks
"""

SMALL = KNEE.replace("1000 to 6000", "3200 to 3300").replace("4 to 12", "6 to 7").replace("0.5 to 5", "2 to 3")
"""The same for few people, so that all of them are soon looked at."""

PLAN = """\
plan "Hill"
  for        P-014, aged 67
  starts     2027-03-01
  from template "knee.plan"
  fill       steps-now 3200 steps/day
  fill       reps-now 6
  fill       load 2 kg
  fill       helper "a neighbour"
"""

LIBRARY = """\
library "Clinic"

exercise squat
  kind       strength
  works      quadriceps, gluteals
  joints     knee
  tags       bending
  kit        "sturdy chair"
  how        "slowly down and up"
  careful    "breathe out on the way up"
  easier     1x5 "from a high chair"
  begin      2x5 "from a chair"
  then       2x8 at 2 kg
  then       2x10
  then       3x10 "from a low chair"
  progress   every 2 weeks

activity cycling
  kind       aerobic
  begin      60 min/week
  rise       10 % every week to 120 min/week

exercise calf-raise
  kind       strength
  begin      2x8 each side
  then       2x12 each side for 3 weeks
  progress   every 2 weeks
"""


def together(text: str, **files: str) -> tuple[Plan, tuple[Finding, ...], Source]:
    """The plan of a text and of files called `NAME.plan`, all findings of putting together and reading."""
    named = {f"{name}.plan": said for name, said in files.items()}
    source, found = compose(Source("p.plan", text), TextFiles(named))
    plan, read = read_plan(source)
    assert plan is not None
    return plan, (*found, *read), source


def clean(text: str, **files: str) -> Plan:
    """The same, where nothing is found."""
    plan, found, _ = together(text, **files)
    assert [f.message for f in found] == []
    return plan


def by_hand(text: str) -> Plan:
    """A plan that stands by itself, without any finding."""
    source = Source("p.plan", text)
    assert compose(source) == (source, ())
    plan, found = read_plan(source)
    assert plan is not None
    assert [f.message for f in found] == []
    return plan


def one(text: str, **files: str) -> tuple[Finding, str]:
    """The one finding of a text, and the line of its own file that it stands on."""
    _, found, source = together(text, **files)
    assert len(found) == 1, [f.message for f in found]
    (finding,) = found
    assert finding.span is not None
    assert finding.source is source
    return finding, source.line(source.place(finding.span).line).strip()
