"""What every resource of a bundle is made from, and who it is about."""

from __future__ import annotations

from typing import Any

from attrs import field

from planlang.fhir.parts import Json
from planlang.model.plan import Plan
from planlang.planning.keyed import uid
from planlang.planning.telling.standing import Contacts
from planlang.planning.week import Weeks
from planlang.text.data import define


@define(frozen=True, eq=False)
class Context:
    """A reckoned plan on its way into a record.

    `key`: the clinic's secret for identities. `clinic`: its name. `notes`: whether the plan's free text goes along.
    `system`: the URI of the system that the person's code belongs to; unsaid, one of the clinic's own. `status`:
    the care plan's, by the caller's date.
    """

    weeks: Weeks
    contacts: Contacts = Contacts()
    key: bytes | None = None
    clinic: str = ""
    notes: bool = False
    system: str | None = None
    status: str = "active"
    _seen: dict[tuple[object, ...], int] = field(factory=dict, init=False)

    @property
    def plan(self) -> Plan:
        """The plan."""
        return self.weeks.plan

    def identity(self, kind: str, *parts: Any) -> str:
        """An identity that the next version has too, and that doesn't tell whose it is."""
        said = (kind, *parts)
        self._seen[said] = self._seen.get(said, 0) + 1
        return uid(("fhir", self.plan.code, self.plan.title, *said, self._seen[said]), self.key)

    @property
    def patient(self) -> Json:
        """A Reference to the person by code alone: no name, no resource."""
        own = uid(("fhir", "codes of people", "" if self.key else self.clinic), self.key)
        identifier: Json = {"system": self.system or f"urn:uuid:{own}", "value": self.plan.code}
        if self.clinic:
            identifier["assigner"] = {"display": self.clinic}
        return {"type": "Patient", "identifier": identifier}

    def said(self, *texts: str | None) -> list[str]:
        """The plan's own words, where they go along."""
        return [text for text in texts if text] if self.notes else []
