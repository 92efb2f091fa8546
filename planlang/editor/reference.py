"""What each statement says, in one line: from the tables of the language's reference."""

from __future__ import annotations

import re
from functools import cache

from planlang.syntax.nodes import Statement
from planlang.syntax.read import read
from planlang.syntax.statements import FORMS, HEADERS
from planlang.text.resources import folder
from planlang.text.source import Source

_ROW = re.compile(r"^\|(?P<lines>.*`.*?)\|(?P<says>[^|`].*)\|\s*$")
_CODE = re.compile(r"`([^`]+)`")


@cache
def _table() -> dict[str, str]:
    """Statement to what it says; the first row that shows it counts."""
    found: dict[str, str] = {}
    text = (folder("grammar") / "README.md").read_text("utf-8")
    for row in text.splitlines():
        match = _ROW.match(row)
        if match is None:
            continue
        for line in _CODE.findall(match["lines"]):
            said = read(Source("", line)).lines
            if len(said) == 1 and isinstance(said[0], Statement):
                found.setdefault(said[0].name, match["says"].strip().replace("\\|", "|"))
    return found


def says(statement: str) -> str:
    """What a statement says, in the reference's words; empty for one that has no row."""
    return _table().get(statement, "")


def about(statement: str) -> str:
    """The same with its example, as Markdown."""
    form = FORMS.get(statement)
    if form is None:
        return ""
    where = "starts a block" if statement in HEADERS else ""
    text = says(statement) or where
    return f"{text}\n\n```plan\n{form.example}\n```" if text else f"```plan\n{form.example}\n```"
