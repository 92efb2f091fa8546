"""Bundles against the standard: HL7 FHIR R4 (4.0.1), its JSON schema, its invariants, and a library's R4B models."""

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest

from planlang.fhir.bundle import to_bytes
from planlang.model.reading import kind_of
from planlang.text.source import Source
from tests.fhir.fhir_made import ALLOTMENT, ROOT, made, made_of
from tests.fhir.fhir_readers import by_ourselves, everything, of_kind

FOLDERS = ("people", "programmes")
PLANS = [path for name in FOLDERS for path in sorted((ROOT / "examples" / name).rglob("*.plan"))]
PLANS = [path for path in PLANS if kind_of(Source("", path.read_text("utf-8"))) == "plan"]


@pytest.mark.parametrize("notes", [False, True], ids=["codes only", "with notes"])
@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_a_bundle_stands_before_every_reader(path, notes):
    assert everything(json.loads(to_bytes(made_of(path, notes=notes)))) == {}


Seed = Callable[[dict[str, Any], dict[str, Any], dict[str, Any]], None]


def _set(name: str, value: Any) -> Seed:
    def seed(bundle: dict[str, Any], plan: dict[str, Any], request: dict[str, Any]) -> None:
        plan[name] = value

    return seed


def _timing(name: str, value: Any) -> Seed:
    def seed(bundle: dict[str, Any], plan: dict[str, Any], request: dict[str, Any]) -> None:
        request["occurrenceTiming"]["repeat"][name] = value

    return seed


def _no_intent(bundle, plan, request):
    del plan["intent"]


def _second_occurrence(bundle, plan, request):
    request["occurrenceDateTime"] = "2027-03-01"


def _no_unit(bundle, plan, request):
    del request["occurrenceTiming"]["repeat"]["durationUnit"]


def _medication(bundle, plan, request):
    request["subject"] = {"reference": "Medication/1"}


def _goal_status(bundle, plan, request):
    of_kind(bundle, "Goal")[0]["lifecycleStatus"] = "x"


def _unmeasured(bundle, plan, request):
    target = next(g["target"][0] for g in of_kind(bundle, "Goal") if "detailString" in g["target"][0])
    del target["measure"]


def _twice(bundle, plan, request):
    bundle["entry"].append(copy.deepcopy(bundle["entry"][0]))


def _both(bundle, plan, request):
    plan["activity"][0]["detail"] = {"status": "not-started"}


# The ten faults on which the readers were compared, then some of ours. Each with who must see it.
FAULTS = {
    "a status that there is none of": (_set("status", "nonsense"), {"own"}),
    "no intent": (_no_intent, {"models", "own"}),
    "a unit of time that there is none of": (_timing("periodUnit", "fortnight"), {"schema"}),
    "a field that there is none of": (_set("mood", "good"), {"schema", "models"}),
    "two occurrences": (_second_occurrence, {"models"}),
    "a day that is no code": (_timing("dayOfWeek", ["monday"]), {"own"}),
    "a duration without its unit": (_no_unit, {"invariants"}),
    "a subject that is a medicine": (_medication, {"own"}),
    "an id with a space": (_set("id", "a b"), {"schema", "models"}),
    "a goal's status that there is none of": (_goal_status, {"schema", "own"}),
    "a detail without its measure": (_unmeasured, {"invariants"}),
    "a resource that is there twice": (_twice, {"invariants"}),
    "a reference with a detail": (_both, {"invariants"}),
    "a frequency beside weekdays": (_timing("frequency", 3), {"own"}),
    "a latest period without a period": (_timing("periodMax", 3), {"invariants"}),
    "a time of day beside a time in words": (_timing("when", ["MORN"]), {"invariants"}),
    "a period that ends before it begins": (
        _set("period", {"start": "2027-03-02", "end": "2027-03-01"}),
        {"invariants"},
    ),
    "a note that is empty": (_set("title", ""), {"schema", "models"}),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_seeded_fault_is_seen(name):
    seed, by = FAULTS[name]
    bundle = json.loads(to_bytes(made(ALLOTMENT)))
    seed(bundle, of_kind(bundle, "CarePlan")[0], of_kind(bundle, "ServiceRequest")[0])
    assert set(everything(bundle)) >= by


def test_references_stay_in_the_bundle():
    bundle = made(ALLOTMENT)
    bundle["entry"] = [e for e in bundle["entry"] if e["resource"]["resourceType"] != "Goal"]
    assert len([said for said in by_ourselves(bundle) if "not in the bundle" in said]) == 4


def test_goal_category_is_a_code_of_the_standard():
    """http://terminology.hl7.org/CodeSystem/goal-category, R4."""
    codes = {c["code"] for g in of_kind(made(ALLOTMENT), "Goal") for c in g["category"][0]["coding"]}
    assert codes <= {"dietary", "safety", "behavioral", "nursing", "physiotherapy"}
