"""What stands against a bundle, by four readers: the official schema, a model library, the invariants, and our own."""

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import fhirpathpy
from fhir.resources.R4B.bundle import Bundle
from fhirpathpy.models import models
from jsonschema import Draft7Validator
from pydantic import ValidationError

SCHEMA = Path(__file__).parent / "schemas" / "fhir-r4-subset.schema.json"

# The constraints of the R4 StructureDefinitions of Timing, CarePlan, Goal, ServiceRequest, Period, Quantity, Range
# and Bundle (hl7.org/fhir/R4), by where they stand. There is no tim-3.
INVARIANTS = {
    "Timing.repeat": {
        "tim-1": "duration.empty() or durationUnit.exists()",
        "tim-2": "period.empty() or periodUnit.exists()",
        "tim-4": "duration.exists() implies duration >= 0",
        "tim-5": "period.exists() implies period >= 0",
        "tim-6": "periodMax.empty() or period.exists()",
        "tim-7": "durationMax.empty() or duration.exists()",
        "tim-8": "countMax.empty() or count.exists()",
        "tim-9": "offset.empty() or (when.exists() and ((when in ('C' | 'CM' | 'CD' | 'CV')).not()))",
        "tim-10": "timeOfDay.empty() or when.empty()",
    },
    "CarePlan.activity": {"cpl-3": "detail.empty() or reference.empty()"},
    "Goal.target": {"gol-1": "detail.exists() implies measure.exists()"},
    "ServiceRequest": {"prr-1": "orderDetail.empty() or code.exists()"},
    "Period": {"per-1": "start.empty() or end.empty() or (start <= end)"},
    "Quantity": {"qty-3": "code.empty() or system.exists()"},
    "Range": {"rng-2": "low.empty() or high.empty() or (low.value <= high.value)"},
    "Bundle": {"bdl-7": "entry.select(fullUrl).isDistinct()"},
}
# Required bindings of R4 (hl7.org/fhir/R4/valueset-*.html).
STATUS = {"draft", "active", "on-hold", "revoked", "completed", "entered-in-error", "unknown"}
INTENT = {"proposal", "plan", "directive", "order", "original-order", "reflex-order", "filler-order"} | {
    "instance-order",
    "option",
}
CARE_PLAN_INTENT = {"proposal", "plan", "order", "option"}
GOAL_STATUS = {"proposed", "planned", "accepted", "active", "on-hold", "completed", "cancelled", "rejected"} | {
    "entered-in-error"
}
DAYS = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"}
KINDS = {"Appointment", "CommunicationRequest", "DeviceRequest", "MedicationRequest", "NutritionOrder", "Task"} | {
    "ServiceRequest",
    "VisionPrescription",
}
ACTIVITY = {"not-started", "scheduled", "in-progress", "on-hold", "completed", "cancelled", "stopped", "unknown"} | {
    "entered-in-error"
}


@cache
def _validator(name: str) -> Draft7Validator:
    definitions = json.loads(SCHEMA.read_text("utf-8"))["definitions"]
    return Draft7Validator({"$ref": f"#/definitions/{name}", "definitions": definitions})


def resources(bundle: dict[str, Any]) -> list[dict[str, Any]]:
    return [entry["resource"] for entry in bundle["entry"]]


def of_kind(bundle: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    return [r for r in resources(bundle) if r["resourceType"] == kind]


def by_schema(bundle: dict[str, Any]) -> list[str]:
    """Each resource by its own definition, and the bundle round them."""
    found = [e.message for e in _validator("Bundle").iter_errors({**bundle, "entry": []})]
    for one in resources(bundle):
        found += [f"{one['resourceType']}: {e.message}" for e in _validator(one["resourceType"]).iter_errors(one)]
    return found


def by_models(bundle: dict[str, Any]) -> list[str]:
    """By the classes of fhir.resources, R4B."""
    try:
        Bundle.model_validate(bundle)
    except ValidationError as e:
        return [str(error["msg"]) for error in e.errors()]
    return []


def by_invariants(bundle: dict[str, Any]) -> list[str]:
    return [
        f"{name} at {where}"
        for where, node in _nodes(bundle)
        for name, expression in INVARIANTS[where].items()
        if fhirpathpy.evaluate(node, expression, {}, models["r4"]) != [True]
    ]


def _nodes(bundle: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    yield "Bundle", bundle
    for one in resources(bundle):
        if one["resourceType"] == "ServiceRequest":
            yield "ServiceRequest", one
        yield from (("CarePlan.activity", a) for a in one.get("activity", ()))
        if one["resourceType"] == "Goal":
            # FHIRPath calls a choice by its stem, and JSON by its type.
            for target in one.get("target", ()):
                yield "Goal.target", {("detail" if k.startswith("detail") else k): v for k, v in target.items()}
        yield from _inside(one)


def _inside(node: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    if isinstance(node, list):
        for one in node:
            yield from _inside(one)
    if not isinstance(node, dict):
        return
    for name, value in node.items():
        if name == "repeat":
            yield "Timing.repeat", value
        elif name in ("boundsPeriod", "period", "scheduledPeriod") and isinstance(value, dict):
            yield "Period", value
        elif name == "quantityRange":
            yield "Range", value
        elif name in ("low", "high", "detailQuantity"):
            yield "Quantity", value
        yield from _inside(value)


def by_ourselves(bundle: dict[str, Any]) -> list[str]:
    """Required bindings, what a reference may point to, and what R4 says in words only."""
    found: list[str] = []
    urls = {entry["fullUrl"] for entry in bundle["entry"]}
    for one in resources(bundle):
        kind = one["resourceType"]
        if kind == "Goal":
            found += _in(one.get("lifecycleStatus"), GOAL_STATUS)
        else:
            found += _in(one.get("status"), STATUS)
            found += _in(one.get("intent"), CARE_PLAN_INTENT if kind == "CarePlan" else INTENT)
        subject = one.get("subject", {})
        if subject.get("type") != "Patient" or "reference" in subject:
            found.append(f"the subject of a {kind} is a patient, by identifier")
        for activity in one.get("activity", ()):
            detail = activity.get("detail", {})
            found += _in(detail.get("status", "not-started"), ACTIVITY) + _in(detail.get("kind", "Task"), KINDS)
        for place, node in _inside(one):
            if place == "Timing.repeat":
                found += _timing(node)
        found += [f"{url} is not in the bundle" for url in _references(one) if url not in urls]
    return found


def _in(value: object, known: set[str]) -> list[str]:
    return [] if value in known else [f"{value} is none of {sorted(known)}"]


def _timing(repeat: dict[str, Any]) -> list[str]:
    found = [f"dayOfWeek {day}" for day in repeat.get("dayOfWeek", ()) if day not in DAYS]
    # R4, Timing.repeat: the comments on dayOfWeek and timeOfDay.
    if ("dayOfWeek" in repeat or "timeOfDay" in repeat) and ("frequency" in repeat or "period" in repeat):
        found.append("frequency and period cannot be used with dayOfWeek or timeOfDay")
    return found


def _references(node: Any) -> Iterator[str]:
    if isinstance(node, list):
        for one in node:
            yield from _references(one)
    elif isinstance(node, dict):
        if isinstance(node.get("reference"), str):
            yield node["reference"]
        for value in node.values():
            yield from _references(value)


READERS = {"schema": by_schema, "models": by_models, "invariants": by_invariants, "own": by_ourselves}


def everything(bundle: dict[str, Any]) -> dict[str, list[str]]:
    """What each reader that has something against a bundle says."""
    return {name: found for name, read in READERS.items() if (found := read(bundle))}
