"""Time zones by their IANA names, always from the tzdata package, so that two machines reckon alike."""

from __future__ import annotations

import zoneinfo

# zoneinfo prefers the system's files, which differ from machine to machine: the package's own win.
zoneinfo.reset_tzpath(to=())
zoneinfo.ZoneInfo.clear_cache()


def zone(name: str) -> zoneinfo.ZoneInfo | None:
    """The zone with this IANA name (`Europe/London`), or None where there is none."""
    try:
        return zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        return None
