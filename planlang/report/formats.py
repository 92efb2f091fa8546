"""The report formats by name; each is one module of this package with a `render`."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module

from planlang.report.result import Options, Result

FORMATS = ("text", "json", "sarif", "junit", "github")


def render(name: str, results: Sequence[Result], options: Options) -> str:
    """The report of a run in the format called `name`. Raises KeyError for a name that isn't in FORMATS."""
    if name not in FORMATS:
        raise KeyError(name)
    report: str = import_module(f"planlang.report.{name}").render(results, options)
    return report
