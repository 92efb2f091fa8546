"""Short plans written in the plan language, reckoned, and read off as one symbol a week."""

from __future__ import annotations

from textwrap import dedent

from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.planning.week import WeekKind, Weeks
from planlang.text.source import Source

BEDS = """
plan "Two raised beds by spring"
  for        P-014, aged 67
  about      knee osteoarthritis, right
  starts     2027-03-01
  lasts      18 weeks
  zone       Australia/Hobart
  written    2027-02-22
  revision   1

target "Rise from the dining chair with a weight"
  by         2027-07-04
  reach      3x10 at 2 kg in sit-to-stand

rest
  room for   3 weeks
  still do   knee-bends 2x10 twice a day
  still do   walking 5 min 3 times a day
  return     1 step lower for 1 week

exercise sit-to-stand
  kind       strength
  works      quadriceps, gluteals
  easier     1x6 "higher chair, push with the hands"
  begin      2x6 "dining chair, hands on thighs"
  then       2x8
  then       2x10
  then       3x10
  then       3x10 at 2 kg
  progress   every 2 weeks if "every set done twice running, pain within the limit"

exercise tandem-stance
  kind       balance
  begin      2x10 s each side
  then       2x20 s each side
  then       3x20 s each side
  then       3x30 s each side
  progress   every 3 weeks

exercise knee-bends
  kind       mobility
  begin      2x10 each side
  stay on this step because "it keeps the knee moving, on easier weeks too"

activity walking
  kind       aerobic
  begin      3200 steps/day
  rise       300 steps/day every week to 5000 steps/day
  at most    25 % above the aim
  start      after 4 weeks of strength

session "Chair and bench"
  days       Mon, Wed, Fri
  at         07:30 for 35 min
  do         sit-to-stand, tandem-stance, knee-bends
"""
"""The plan that the language is shown by, without what is not reckoned."""


def read(text: str) -> Plan:
    """The plan of a text that reads without a finding."""
    plan, findings = read_plan(Source("made.plan", dedent(text).strip() + "\n"))
    assert [f.message for f in findings] == []
    assert plan is not None
    return plan


def plan_of(body: str, weeks: int = 8, room: int = 0, rest: str = "", head: str = "") -> Plan:
    """A plan from Monday 2027-03-01 in London: `rest` and `head` are lines of those blocks."""
    lines = [f'plan "Beds"\nstarts 2027-03-01\nlasts {weeks} weeks\nzone Europe/London', dedent(head).strip()]
    if room or rest:
        lines += [f"rest\nroom for {room} weeks", dedent(rest).strip()]
    return read("\n".join([*lines, dedent(body).strip()]))


def ladder_plan(
    weeks: int, room: int, steps: int, every: int, first: int = 1, lower: int = 1, ease: int = 1, more: str = ""
) -> Plan:
    """One strength exercise `squat` of so many steps in one session on Mondays; `more` are lines of its block."""
    doses = "\n".join(f"then 2x{6 + n}" for n in range(1, steps))
    back = f"return {lower} steps lower for {ease} weeks" if ease else "return at the same step"
    begins = f"training week {first} on" if first > 1 else ""
    pace = f"progress every {every} weeks" if steps > 1 else ""
    return on_mondays(f"kind strength\n{more}\nbegin 2x6\n{doses}\n{pace}\n{begins}", weeks, room, back)


def on_mondays(lines: str, weeks: int = 8, room: int = 0, rest: str = "") -> Plan:
    """An exercise `squat` of these lines in one session on Mondays."""
    return plan_of(f'exercise squat\n{lines}\nsession "A"\ndays Mon\ndo squat', weeks, room, rest)


def row(weeks: Weeks, name: str = "squat") -> str:
    """One symbol a week: step from 1 (0 the easier one), R rest, A away, - spare, . not done."""
    symbols = []
    for week in weeks.weeks:
        done = week.exercises.get(name) or week.activities.get(name)
        if week.kind is WeekKind.REST:
            symbols.append("R")
        elif week.kind is WeekKind.AWAY:
            symbols.append("A")
        elif week.kind is WeekKind.SPARE:
            symbols.append("-")
        else:
            symbols.append("." if done is None or done.step is None else str(done.step + 1))
    return " ".join(symbols)


def reckoned(plan: Plan, *rest: int) -> Weeks:
    """The weeks with rest in these calendar weeks."""
    return reckon(plan, frozenset(rest))


def messages(weeks: Weeks) -> list[str]:
    """What was found, in words."""
    return [f.message for f in weeks.findings]


def underlined(weeks: Weeks) -> list[str]:
    """The text that each finding underlines."""
    text = weeks.plan.source.text
    return [text[f.span.start : f.span.end] if f.span else "" for f in weeks.findings]
