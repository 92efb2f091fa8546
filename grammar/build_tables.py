"""Build hook: ready parse tables and rules travel in the wheel, so that no start has to make them."""

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class Tables(BuildHookInterface):
    """Writes `NAME.table` beside every grammar, and one beside the rules.

    Git ignores them; a table that was made from anything but the very files beside it isn't used.
    """

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called before a wheel, or an editable install, is put together."""
        sys.path.insert(0, self.root)
        try:
            from planlang.checking.table import write
            from planlang.syntax.tables import write_table
        finally:
            sys.path.remove(self.root)
        write_table(Path(self.root, "grammar", "plan.table"))
        write(Path(self.root, "rules"))
