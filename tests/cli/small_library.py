"""A small made-up library: templates made from each other, exercises, people's plans, and a clinic's settings."""

from __future__ import annotations

from pathlib import Path

RULE = """\
title: No kettle in the kitchen
level: advice
strength: common practice
looks at: plan
flags when: its length > 40 weeks
underline:
  - plan's length
message: it lasts {its length}
help: make it shorter
why: the kettle
limits: none
sources: [{source: "common practice, no source", known: practice}]
since: "2026-11-25"
reviewed: "2026-11-25"
flagged: ["plan \\"x\\"\\n  lasts 41 weeks\\n"]
clean: ["plan \\"x\\"\\n  lasts 4 weeks\\n"]
"""

BASE = """\
template "Base"
  lasts 8 weeks
  blank rounds 1 to 3
pain
  accept up to 4/10 during
  settle within 24 hours
exercise heel-raise
  kind strength
  begin <rounds>x8
  stay on this step because "it is enough"
session "Kitchen"
  days Mon, Thu
  at 10:00 for 20 min
  place "kitchen"
  do heel-raise
  cue "after the breakfast dishes"
"""

EXERCISES = """\
library "Exercises"
exercise step-up
  kind strength
  begin 2x6 step 15 cm
  then 2x8 step 15 cm
  progress every 2 weeks
"""

PLAIN = """\
plan "Round the pond"
  for P-104, aged 61
  starts 2027-03-01
  lasts 8 weeks
pain
  accept up to 4/10 during
  settle within 24 hours
exercise heel-raise
  kind strength
  begin 2x8
  stay on this step because "it is enough"
session "Kitchen"
  days Mon, Thu
  at 10:00 for 20 min
  place "kitchen"
  do heel-raise
  cue "after the breakfast dishes"
"""

MEASURES = """\
- name: own-reach
  title: reach to the shelf
  unit: cm
  better: up
  lowest: 10
  highest: 90
  how: "with the clinic's own rule on the wall"
  error:
    low: 3
    note: "two sittings a week apart"
    ground: {source: "made up", known: practice}
"""


def _from(template: str, code: str, title: str) -> str:
    return (
        f'plan "{title}"\n  for {code}, aged 70\n  from template "{template}"\n  fill rounds 2\n  starts 2027-03-01\n'
    )


def files() -> dict[str, str]:
    """Each file by its path in the library."""
    return {
        "clinic.yaml": "clinic: Made up\nmeasures: own/measures.yaml\npacks: [own/rules]\n",
        "own/measures.yaml": MEASURES,
        "own/rules/house/kettle.yaml": RULE,
        "own/rules/house/toaster.yaml": RULE.replace("kettle", "toaster"),
        "exercises.plan": EXERCISES,
        "templates/base.plan": BASE,
        "templates/gentle.plan": 'template "Gentle"\n  from template "base.plan"\n  fill rounds 1\n  language en\n',
        "people/a.plan": _from("../templates/base.plan", "P-101", "Down to the jetty"),
        "people/b.plan": _from("../templates/gentle.plan", "P-102", "Up to the attic").replace("  fill rounds 2\n", ""),
        "people/c.plan": PLAIN.replace("P-104", "P-103")
        .replace("  lasts", '  use library "../exercises.plan"\n  lasts')
        .replace("do heel-raise", "do heel-raise, step-up"),
        "people/d.plan": PLAIN,
        "people/e.plan": PLAIN.replace("P-104", "P-105"),
    }


def write_library(root: Path) -> None:
    """Writes it."""
    for name, text in files().items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
