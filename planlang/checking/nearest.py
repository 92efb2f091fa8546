"""The nearest `clinic.yaml`, and the conditions and measures that it adds, without reading any rule."""

from __future__ import annotations

import os
from pathlib import Path

from planlang.model.known import BUILT_IN, Catalogue
from planlang.text.finding import Finding
from planlang.text.load import load_data

NAME = "clinic.yaml"
ADDING = ("conditions", "measures")
"""Keys of the file that add to the built-in data."""


def find_clinic(start: Path) -> Path | None:
    """The nearest `clinic.yaml` in a folder or above it; one that can't be read is one too."""
    folder = start.absolute()
    for here in (folder, *folder.parents):
        if os.path.lexists(here / NAME):
            return here / NAME
    return None


def library_of(path: Path, given: Path | None = None) -> Path:
    """The library that a file lies in: the folder of the nearest `clinic.yaml`, else the one given, else its own."""
    found = find_clinic(path.parent)
    if found is not None:
        return found.parent
    if given is not None and path.absolute().is_relative_to(given.absolute()):
        return given
    return path.parent


def catalogue_for(folder: Path) -> Catalogue:
    """The conditions and measures that plans in a folder may name. Raises RuleFault where the clinic's file is wrong.

    A file without either word adds none, and isn't read any further.
    """
    path = find_clinic(folder)
    if path is None:
        return BUILT_IN
    source = load_data(path)
    if not isinstance(source, Finding) and not any(key in source.text for key in ADDING):
        return BUILT_IN
    from planlang.checking.clinic_file import Reader

    return Reader(path).catalogue()
