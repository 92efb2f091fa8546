"""Where the data files are: beside the package in a wheel, at the top level in a checkout."""

from __future__ import annotations

from functools import cache
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent


@cache
def folder(name: str) -> Path:
    """The folder `grammar` or `rules`. Raises FileNotFoundError where neither layout holds it."""
    for place in (PACKAGE / "data" / name, PACKAGE.parent / name):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"planlang was installed without its {name} folder; install it again")
