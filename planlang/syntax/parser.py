"""The lark parser of plans, from which the tables that read them are made."""

from __future__ import annotations

import hashlib
from functools import cache
from typing import TYPE_CHECKING

from planlang.text.resources import folder

if TYPE_CHECKING:
    from lark import Lark

GRAMMAR = "plan.lark"


def grammar_hash(text: str) -> str:
    """What a ready table must have been made from: this grammar. Of lark nothing is left in it but plain numbers."""
    return hashlib.sha256(text.encode()).hexdigest()


def build(text: str, strict: bool = False, start: str = "start") -> Lark:
    """The parser from the grammar's text. `strict` refuses any conflict or collision of terminals (slow)."""
    import lark.lexer
    from lark import Lark

    # lark compares every pair of terminals wherever that optional package is installed: a test's work.
    had, lark.lexer.has_interegular = lark.lexer.has_interegular, strict and lark.lexer.has_interegular
    try:
        return Lark(text, parser="lalr", lexer="contextual", strict=strict, maybe_placeholders=False, start=start)
    finally:
        lark.lexer.has_interegular = had


@cache
def parser(name: str = GRAMMAR) -> Lark:
    """The parser of a grammar file in `grammar/`, built now; plans are read by its plain tables (`tables.py`)."""
    return build((folder("grammar") / name).read_text(encoding="utf-8"))
