"""Writes the calendars that the golden tests compare with: `python -m tests.calendar.golden`; then read the change."""

from __future__ import annotations

from tests.calendar.made import GOLDEN, beds, made_of, stairs

CALENDARS = {
    "two-raised-beds.ics": lambda: made_of(beds()).data,
    "two-raised-beds-rest-in-week-9.ics": lambda: made_of(beds(), rest=[9]).data,
    "two-raised-beds-discreet.ics": lambda: made_of(beds(("calendar full", "calendar discreet"))).data,
    "stairs-rest-in-weeks-8-and-9.ics": lambda: made_of(stairs(), rest=[8, 9]).data,
}

if __name__ == "__main__":
    GOLDEN.mkdir(exist_ok=True)
    for name, make in CALENDARS.items():
        (GOLDEN / name).write_bytes(make())
