"""Frozen data kept as JSON beside the file that it was read from, so that a start needs no YAML.

Plain JSON, never a pickle: reading one can run nothing. A table made from anything but the very text
and classes at hand isn't used.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from fractions import Fraction
from hashlib import blake2b
from pathlib import Path
from typing import Any

from attrs import fields

FRACTION, TUPLE = "/", "()"


def digest(text: str, classes: Iterable[type]) -> str:
    """What a table must have been made from: the text, and the classes with their fields."""
    shape = [f"{c.__name__}({','.join(f'{name}:{said}' for name, said in c.__annotations__.items())})" for c in classes]
    return blake2b("\0".join((text, *shape)).encode(), digest_size=16).hexdigest()


def encoded(value: Any) -> Any:
    """Attrs data as JSON has it: a class as its name and fields, a tuple and a fraction marked as such."""
    if isinstance(value, Fraction):
        return [FRACTION, str(value)]
    if isinstance(value, tuple):
        return [TUPLE, *map(encoded, value)]
    if hasattr(type(value), "__attrs_attrs__"):
        return [type(value).__name__, *(encoded(getattr(value, a.name)) for a in fields(type(value)))]
    if value is None or isinstance(value, (str, int, bool)):
        return value
    raise TypeError(f"{type(value).__name__} can't be kept in a table")


def decoded(data: Any, classes: Mapping[str, type]) -> Any:
    """The data back again. Raises KeyError, TypeError or ValueError where it isn't what `encoded` makes."""
    if not isinstance(data, list):
        return data
    mark = data[0]
    if mark == TUPLE:
        return tuple([decoded(item, classes) for item in data[1:]])
    if mark == FRACTION:
        return Fraction(data[1])
    return classes[mark](*[decoded(item, classes) for item in data[1:]])


def read_table(path: Path, wanted: str, classes: Mapping[str, type]) -> Any:
    """What a table holds, or None where there is none or it was made from something else."""
    try:
        held = json.loads(path.read_text("utf-8"))
        return decoded(held["data"], classes) if held["digest"] == wanted else None
    except (OSError, ValueError, KeyError, TypeError, IndexError):
        return None


def write_table(path: Path, made_from: str, value: Any) -> None:
    """Writes a table, whole or not at all."""
    text = json.dumps({"digest": made_from, "data": encoded(value)}, ensure_ascii=False, separators=(",", ":"))
    beside = path.with_name(path.name + ".new")
    beside.write_text(text, "utf-8")
    beside.replace(path)
