"""Types and units of an expression, checked when a rule is loaded; out comes code, nested lists fit for JSON.

Code is resolved: facts by owner and name, numbers in base units, variables by slot. `closures.py` runs it.
"""

from __future__ import annotations

from planlang.checking.expression.conditions import Conditions
from planlang.checking.expression.lists import Lists
from planlang.checking.expression.sums import Sums


class Typer(Conditions, Lists, Sums):
    """Turns trees into typed code, within a scope."""
