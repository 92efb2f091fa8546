"""The report formats by name; each is one module of this package with a `pieces`.

A report is made piece by piece and goes over its results more than once, so that those of a large library may lie
on disk.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from importlib import import_module

from planlang.report.result import Options, Result

FORMATS = ("text", "json", "sarif", "junit", "github")


def pieces(name: str, results: Collection[Result], options: Options) -> Iterator[str]:
    """The report of a run in the format called `name`, in order. Raises KeyError for a name that isn't in FORMATS."""
    if name not in FORMATS:
        raise KeyError(name)
    made: Iterator[str] = import_module(f"planlang.report.{name}").pieces(results, options)
    return made


def render(name: str, results: Collection[Result], options: Options) -> str:
    """The same in one text."""
    return "".join(pieces(name, results, options))
