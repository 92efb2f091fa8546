"""Small parts that the resources share."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from html import escape
from typing import Any

Json = dict[str, Any]


def concept(text: str) -> Json:
    """A CodeableConcept that has words only."""
    return {"text": text}


def period(first: date | None, last: date | None) -> Json:
    """A Period of whole days, both included."""
    return {name: day.isoformat() for name, day in (("start", first), ("end", last)) if day}


def notes(texts: Iterable[str]) -> list[Json]:
    """Annotations."""
    return [{"text": text} for text in texts]


def reference(identity: str) -> Json:
    """A Reference to another resource of the bundle."""
    return {"reference": f"urn:uuid:{identity}"}


def narrative(lines: Iterable[str]) -> Json:
    """A Narrative, so that a system which knows nothing of the structure shows what matters."""
    body = "".join(f"<p>{escape(line)}</p>" for line in lines)
    return {"status": "generated", "div": f'<div xmlns="http://www.w3.org/1999/xhtml">{body}</div>'}


def present(resource: Json) -> Json:
    """Without what is empty: FHIR knows no null, no empty list and no empty text."""
    return {name: value for name, value in resource.items() if value not in (None, "", [], {})}
