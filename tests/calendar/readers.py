"""Readers of calendar files that know nothing of each other: icalendar, recurring-ical-events, dateutil, ical.js."""

from __future__ import annotations

import io
import json
import re
import shutil
import subprocess
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path

import icalendar
import recurring_ical_events
from attrs import frozen
from dateutil.tz import tzical

NODE = Path(__file__).parent / "node"


@frozen
class Seen:
    """One event as a reader saw it: instants in UTC, or dates for an all-day event, the end exclusive."""

    uid: str
    starts: datetime | date
    ends: datetime | date
    summary: str
    description: str
    location: str


def _utc(when: datetime | date) -> datetime | date:
    return when.astimezone(UTC) if isinstance(when, datetime) else when


def _seen(event: icalendar.Event) -> Seen:
    return Seen(
        str(event["UID"]),
        _utc(event.decoded("DTSTART")),
        _utc(event.decoded("DTEND")),
        str(event["SUMMARY"]),
        str(event["DESCRIPTION"]),
        str(event.get("LOCATION", "")),
    )


def by_icalendar(data: bytes) -> list[Seen]:
    """icalendar (it takes known zones from their names, not from the file)."""
    return [_seen(event) for event in icalendar.Calendar.from_ical(data).events]


def by_recurring_ical_events(data: bytes) -> list[Seen]:
    """recurring-ical-events: what a day view shows, recurrences worked out. Cancelled events are shown too."""
    found = recurring_ical_events.of(icalendar.Calendar.from_ical(data)).all()
    return [_seen(event) for event in found]


def unfolded(data: bytes) -> list[str]:
    """Content lines as RFC 5545, 3.1 says: a line end and one blank are taken out."""
    return re.sub(r"\r\n[ \t]", "", data.decode("utf-8")).split("\r\n")


def by_dateutil(data: bytes) -> list[Seen]:
    """A reading by hand of each line, with zones only from the file's own blocks, worked out by dateutil."""
    lines = unfolded(data)
    zones = dateutil_zones(data)
    events, current = [], None
    for line in lines:
        if line == "BEGIN:VEVENT":
            current = {}
        elif line == "END:VEVENT":
            events.append(current)
            current = None
        elif current is not None and line:
            head, _, value = line.partition(":")
            name, *params = head.split(";")
            current[name] = (dict(p.split("=", 1) for p in params), value)
    return [
        Seen(
            event["UID"][1],
            _point(*event["DTSTART"], zones),
            _point(*event["DTEND"], zones),
            _text(event["SUMMARY"][1]),
            _text(event["DESCRIPTION"][1]),
            _text(event.get("LOCATION", ({}, ""))[1]),
        )
        for event in events
    ]


def dateutil_zones(data: bytes) -> dict[str, object]:
    """The zones of the file's own blocks, by name."""
    lines = unfolded(data)
    if "BEGIN:VTIMEZONE" not in lines:
        return {}
    start, end = lines.index("BEGIN:VTIMEZONE"), max(i for i, line in enumerate(lines) if line == "END:VTIMEZONE")
    block = tzical(io.StringIO("\n".join(lines[start : end + 1]) + "\n"))
    names = block.keys()
    return {name: block.get(name) for name in names}


def _point(params: dict[str, str], value: str, zones: dict[str, object]) -> datetime | date:
    if params.get("VALUE") == "DATE":
        return datetime.strptime(value, "%Y%m%d").date()
    if value.endswith("Z"):
        return datetime.strptime(value, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    return datetime.strptime(value, "%Y%m%dT%H%M%S").replace(tzinfo=zones[params["TZID"]]).astimezone(UTC)


def _text(value: str) -> str:
    """TEXT, RFC 5545, 3.3.11."""
    return re.sub(r"\\(.)", lambda m: "\n" if m[1] in "nN" else m[1], value)


def by_ical_js(paths: Sequence[Path]) -> list[list[Seen]]:
    """ical.js in node, one list a file; zones only from the file's own blocks."""
    return [
        [
            Seen(
                e["uid"],
                date.fromisoformat(e["date"][0]) if e["date"] else datetime.fromtimestamp(e["starts"], UTC),
                date.fromisoformat(e["date"][1]) if e["date"] else datetime.fromtimestamp(e["ends"], UTC),
                e["summary"],
                e["description"],
                e["location"] or "",
            )
            for e in events
        ]
        for events in raw_ical_js(paths)
    ]


def raw_ical_js(paths: Sequence[Path]) -> list[list[dict[str, object]]]:
    """What ical.js says of each event of each file, all of it."""
    node = shutil.which("node") or shutil.which("node", path=str(Path(sys.executable).parent))
    assert node, "these tests need node 18 or later on the path"
    assert (NODE / "node_modules" / "ical.js").is_dir(), f"these tests need ical.js: run `npm ci` in {NODE}"
    run = subprocess.run(
        [node, str(NODE / "read.js"), *map(str, paths)], capture_output=True, text=True, check=False, timeout=60
    )
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def everybody(data: bytes, folder: Path) -> dict[str, list[Seen]]:
    """What each reader sees of one calendar, ordered by UID."""
    path = folder / "calendar.ics"
    path.write_bytes(data)
    found = {
        "icalendar": by_icalendar(data),
        "recurring-ical-events": by_recurring_ical_events(data),
        "dateutil": by_dateutil(data),
        "ical.js": by_ical_js([path])[0],
    }
    return {name: sorted(events, key=lambda e: e.uid) for name, events in found.items()}
