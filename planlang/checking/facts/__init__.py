"""Everything that a rule may ask about a plan, one file a subject; `every()` is the whole of it."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from planlang.checking.facts.registry import REGISTRY, Registry


@cache
def every() -> Registry:
    """All facts, with every module of this folder read in."""
    for module in iter_modules(__path__):
        import_module(f"{__name__}.{module.name}")
    return REGISTRY
