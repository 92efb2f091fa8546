"""Build hook: the ready parse tables travel in the wheel, so that no start has to build them."""

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class Tables(BuildHookInterface):
    """Writes `NAME.table` beside every `NAME.lark`; git ignores them, and a table of another grammar isn't used."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called before a wheel, or an editable install, is put together."""
        sys.path.insert(0, self.root)
        try:
            from planlang.syntax.parser import write_table
        finally:
            sys.path.remove(self.root)
        for grammar in sorted(Path(self.root, "grammar").glob("*.lark")):
            write_table(grammar.with_suffix(".table"), grammar)
