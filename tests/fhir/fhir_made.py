"""Bundles made of plan texts."""

from pathlib import Path
from typing import Any

from attrs import evolve

from planlang.checking.nearest import library_of
from planlang.fhir.bundle import bundle
from planlang.fhir.context import Context
from planlang.model.composing.compose import compose
from planlang.model.composing.files import InLibrary
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.text.source import Source

ROOT = Path(__file__).parents[2]
ALLOTMENT = (ROOT / "examples" / "people" / "p014-allotment.plan").read_text("utf-8")
PLAIN = """plan "Stairs"
  for P-001
  starts 2027-03-01
  lasts 8 weeks
  zone Europe/London
exercise step-up
  kind strength
  begin 2x8
  then 3x8
  progress every 4 weeks
session "A"
  DAYS
  do step-up
"""


def plan_of(text: str, name: str = "a.plan") -> Plan:
    plan, _ = read_plan(Source(name, text))
    assert plan is not None
    return plan


def made_of(path: Path, **parts: Any) -> dict[str, Any]:
    """The bundle of a file, put together with the template and libraries that it names."""
    whole, faults = compose(Source(str(path), path.read_text("utf-8")), InLibrary(library_of(path)))
    assert faults == ()
    plan, _ = read_plan(whole)
    assert plan is not None
    return bundle(Context(reckon(evolve(plan, code=plan.code or "P-001")), **parts))


def made(text: str, **parts: Any) -> dict[str, Any]:
    plan = plan_of(text)
    return bundle(Context(reckon(evolve(plan, code=plan.code or "P-001")), **parts))


def request(text: str, **parts: Any) -> dict[str, Any]:
    """The first ServiceRequest."""
    return requests(text, **parts)[0]


def requests(text: str, **parts: Any) -> list[dict[str, Any]]:
    entries = [entry["resource"] for entry in made(text, **parts)["entry"]]
    return [one for one in entries if one["resourceType"] == "ServiceRequest"]


def repeat(days: str) -> dict[str, Any]:
    """The repeat of a session with these `days` lines, without its bounds."""
    found = request(PLAIN.replace("DAYS", days))["occurrenceTiming"]["repeat"]
    return {name: value for name, value in found.items() if name != "boundsPeriod"}
