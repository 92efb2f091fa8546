"""From a reckoned plan to a FHIR R4 bundle, in one function. Plain data: no library is needed to write it."""

from __future__ import annotations

import json
from datetime import date, timedelta

from attrs import evolve

from planlang.fhir.care_plan import care_plan
from planlang.fhir.context import Context
from planlang.fhir.goals import goals
from planlang.fhir.parts import Json
from planlang.fhir.requests import requests
from planlang.model.plan import Plan
from planlang.planning.week import Weeks
from planlang.text.finding import Finding, Level, unreckonable


def bundle(context: Context) -> Json:
    """A Bundle of the type `collection`: the CarePlan, its Goals, its ServiceRequests. See `refusals` first.

    The same plan, key and options give the same bundle; every date in it is the plan's.
    """
    identity = context.identity("CarePlan")
    aims = goals(context)
    asked = requests(context, identity)
    whole = care_plan(context, identity, aims, asked)
    return {
        "resourceType": "Bundle",
        "id": context.identity("Bundle"),
        "type": "collection",
        "entry": [{"fullUrl": f"urn:uuid:{one['id']}", "resource": one} for one in (whole, *aims, *asked)],
    }


def status(plan: Plan, today: date | None) -> str:
    """`active`; once the last day is past by the caller's date, nobody has said what came of it: `unknown`."""
    if today is None or plan.starts is None or plan.weeks is None:
        return "active"
    return "active" if today < plan.starts + timedelta(weeks=plan.weeks) else "unknown"


def to_bytes(made: Json) -> bytes:
    """JSON in UTF-8, in the order of the standard, ending in a line's end."""
    # A lone half of a pair of surrogates is no text; JSON writes it as an escape.
    return (json.dumps(made, ensure_ascii=False, indent=2) + "\n").encode("utf-8", "backslashreplace")


def refusals(weeks: Weeks) -> tuple[Finding, ...]:
    """What a record itself needs, beyond what every output for a person needs."""
    plan = weeks.plan
    found = []
    if plan.code is None:
        message = "this plan is for nobody, and a record is one person's"
        help = "Write their code under `plan`: for P-014"
        found.append(Finding("nobody-to-record", Level.INCOMPLETE, message, plan.span, plan.source, help))
    if not weeks.weeks:
        message = "there is nothing to put into a record: the plan's weeks can't be reckoned"
        found.append(unreckonable(message, plan.span, plan.source, "Write `starts` and `lasts`."))
    return tuple(evolve(finding, blocks=True) for finding in found)
