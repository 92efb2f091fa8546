"""The example clinic's exercises and templates, and plans made from them, for the tests beside this file."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path

from planlang.checking.check import Checked, check
from planlang.checking.clinic import rulebook
from planlang.checking.ranges.template import CheckedTemplate, check_template
from planlang.model.composing.files import InLibrary
from planlang.model.composing.instance import blanks_of
from planlang.model.exercise import Exercise
from planlang.text.load import load
from planlang.text.source import Source

ROOT = Path(__file__).parents[2] / "examples"
LIBRARIES = sorted(ROOT.glob("library/exercises/*.plan"))
TEMPLATES = sorted(ROOT.glob("library/templates/*.plan"))
PUBLISHED = ROOT / "programmes" / "templates"
TEXTS = {
    "my-goal": "Carry the shopping up by myself",
    "my-reason": "the market is where I meet people",
    "place": "front room",
    "path": "to the bridge and back, the arcade if it is icy",
    "pool": "the town pool",
    "helper": "neighbour",
    "cue": "after the breakfast dishes",
}


@cache
def exercises() -> dict[str, Exercise]:
    """Every exercise and activity of the libraries by its name, read as a plan's are."""
    found: dict[str, Exercise] = {}
    for path in LIBRARIES:
        checked = check(load(str(path)), rulebook(ROOT / "clinic.yaml")[0])
        assert checked.plan is not None, path.name
        assert [(f.rule, f.message) for f in checked.findings] == [], path.name
        assert not found.keys() & {e.name for e in checked.plan.exercises}, path.name
        found |= {e.name: e for e in checked.plan.exercises}
    return found


def made_from(path: Path, fills: Mapping[str, Fraction | str], *more: str, age: int = 60) -> Checked:
    """A person's plan made from a template with these blanks, checked by the rules of the example clinic."""
    lines = []
    for blank in blanks_of(load(str(path))):
        value = fills.get(blank.name, TEXTS.get(blank.name, ""))
        shown = f'"{value}"' if blank.text else blank.quantity(Fraction(value))
        lines.append(f"fill {blank.name} {shown}")
    text = "\n".join([f'plan "On and up"\nfrom template "{path.relative_to(ROOT)}"', *lines, _PERSON % age, *more, ""])
    book, clinic = rulebook(ROOT / "clinic.yaml")
    assert clinic is not None
    return check(Source(str(ROOT / "trial.plan"), text), book, contacts=clinic.contacts, files=InLibrary(ROOT))


_PERSON = """\
for P-099, aged %d
starts 2027-03-01
zone Australia/Hobart
written 2027-02-24
revision 1
screening 2027-02-24
by T-03
clear yes for moderate
asked heart no, diabetes no, kidney no, symptoms no
falls 0 in 12 months
unsteady no
floor gets up alone
agreed 2027-02-24 calendar discreet, diary yes"""


def proved(path: Path) -> CheckedTemplate:
    """A template checked over its whole range by the rules of the example clinic."""
    book, clinic = rulebook(ROOT / "clinic.yaml")
    assert clinic is not None
    return check_template(load(str(path)), book, InLibrary(ROOT), clinic.contacts)


def ends(path: Path, more: int) -> Iterator[dict[str, Fraction]]:
    """Fills of a template: all low, all high, then corners and values between, drawn the same each time."""
    amounts = [b for b in blanks_of(load(str(path))) if not b.text]
    yield {b.name: b.low for b in amounts}
    yield {b.name: b.high for b in amounts}
    draw = random.Random(path.stem)
    for _ in range(more):
        yield {b.name: draw.choice((b.low, b.high)) for b in amounts}
        yield {b.name: b.low + b.grain * draw.randint(0, (b.high - b.low) // b.grain) for b in amounts}
