"""A file that is named is opened only where it lies inside its library: links are followed before that is asked."""

from __future__ import annotations

from pathlib import Path

from planlang.checking.nearest import find_clinic
from planlang.text.finding import Finding, unreadable
from planlang.text.load import load
from planlang.text.source import Source


def read_inside(path: str) -> Source | Finding:
    """The text of a file that a command was given, or why it can't be had.

    A link out of the library of the nearest clinic.yaml is not followed; without one nothing is refused.
    """
    clinic = find_clinic(Path(path).parent)
    message = led(Path(path), clinic.parent) if clinic is not None else ""
    return not_inside(message, Path(path)) if message else load(path)


def led(path: Path, root: Path) -> str:
    """Why a file or folder below a library's folder doesn't lie in it; empty where it does, or is not below it."""
    if not path.absolute().is_relative_to(root.absolute()):
        return ""
    try:
        if path.resolve().is_relative_to(root.resolve()):
            return ""
    except (OSError, RuntimeError):
        return "this is a link that leads in a circle"
    return "this is a link that leads out of the library"


def not_inside(message: str, path: Path) -> Finding:
    """The finding for such a link: whoever may write in a library could have anything read and quoted."""
    help = "Nothing outside the library is opened: put the file itself here, or name it under `ignore` in clinic.yaml."
    return unreadable(message, None, Source(str(path), ""), help)
