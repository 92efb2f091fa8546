"""Codes of open code systems, only where they are certain; all else is text.

UCUM (ucum.org): free to use with its notice; the codes here stand in the R4 value set `ucum-common`, those in braces
are UCUM annotations. LOINC (loinc.org, copyright Regenstrief Institute, free of charge under loinc.org/license): only
the two codes that the R4 vital signs profiles themselves fix (hl7.org/fhir/R4/observation-vitalsigns.html).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from planlang.model.quantity import Quantity

UCUM = "http://unitsofmeasure.org"
LOINC = "http://loinc.org"
GOAL_CATEGORY = "http://terminology.hl7.org/CodeSystem/goal-category"
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
"""The codes of http://hl7.org/fhir/days-of-week, Monday first."""

UNITS = {
    "s": "s",
    "min": "min",
    "h": "h",
    "day": "d",
    "week": "wk",
    "month": "mo",
    "kg": "kg",
    "lb": "[lb_av]",
    "m": "m",
    "cm": "cm",
    "mm": "mm",
    "inch": "[in_i]",
    "km": "km",
    "mile": "[mi_i]",
    "%": "%",
    "mmHg": "mm[Hg]",
    "m/s": "m/s",
    "degree": "deg",
    "min/week": "min/wk",
    "min/day": "min/d",
    "steps/day": "{steps}/d",
    "steps": "{steps}",
    "reps": "{reps}",
}
MEASURES = {"body-weight": ("29463-7", "Body weight"), "body-height": ("8302-2", "Body height")}


def number(value: Fraction) -> int | float:
    """An exact number as JSON has it: whole where it is whole, else to six places."""
    return int(value) if value.denominator == 1 else round(float(value), 6)


def quantity(amount: Quantity, unit: str = "") -> dict[str, Any]:
    """A Quantity in the unit that was written, else in `unit`; coded in UCUM where the unit has a code."""
    word = amount.unit or unit
    made: dict[str, Any] = {"value": number(amount.value)}
    if word:
        made["unit"] = word
    if word in UNITS:
        made |= {"system": UCUM, "code": UNITS[word]}
    return made


def measure(name: str) -> dict[str, Any]:
    """A measure as a CodeableConcept."""
    made: dict[str, Any] = {"text": name.replace("-", " ")}
    if name in MEASURES:
        code, display = MEASURES[name]
        made["coding"] = [{"system": LOINC, "code": code, "display": display}]
    return made
