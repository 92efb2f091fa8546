"""A clinic's own texts, held against the signs and conditions that they are about."""

from __future__ import annotations

from pathlib import Path

from planlang.model.catalogue import signs
from planlang.model.known import Catalogue
from planlang.text.finding import Finding, unreadable
from planlang.text.languages.catalogue import Texts, english
from planlang.text.meant import did_you_mean
from planlang.text.source import Source


def not_of_data(texts: Texts | None, catalogue: Catalogue, path: Path) -> tuple[Finding, ...]:
    """A clinic's texts for signs or conditions that there are none of: a slip that would leave a line in English."""
    known = {f"flare.{name}" for name in catalogue.conditions}
    known |= {f"sign.{name}{part}" for name in signs() for part in ("", ".short", ".worse", ".replaced")}
    lost = [key for key in texts.texts if key not in known and key not in english().texts] if texts else []
    source = Source(str(path), "")
    return tuple(
        unreadable(f'no sign or condition is called so: "{key}"', None, source, did_you_mean(key, known))
        for key in lost
    )
