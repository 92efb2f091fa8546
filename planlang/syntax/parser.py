"""The one lark parser of plans, built once a process or taken from the ready table in the wheel."""

from __future__ import annotations

import hashlib
import pickle
from functools import cache
from pathlib import Path
from typing import IO, Any

import lark
import lark.lexer
from lark import Lark

from planlang.text.resources import folder

GRAMMAR = "plan.lark"
TABLE = "plan.table"


def grammar_hash(text: str) -> str:
    """What a ready table must have been made from: this grammar, this lark."""
    return hashlib.sha256(f"{lark.__version__}\n{text}".encode()).hexdigest()


def build(text: str, strict: bool = False, start: str = "start") -> Lark:
    """The parser from the grammar's text. `strict` refuses any conflict or collision of terminals (slow)."""
    # lark compares every pair of terminals wherever that optional package is installed: a test's work.
    had, lark.lexer.has_interegular = lark.lexer.has_interegular, strict and lark.lexer.has_interegular
    try:
        return Lark(text, parser="lalr", lexer="contextual", strict=strict, maybe_placeholders=False, start=start)
    finally:
        lark.lexer.has_interegular = had


def write_table(path: Path, grammar: Path | None = None) -> None:
    """Writes the ready table of a grammar file (the plan language's own unless said)."""
    text = (grammar or folder("grammar") / GRAMMAR).read_text(encoding="utf-8")
    beside = path.with_name(path.name + ".new")
    with beside.open("wb") as out:
        pickle.dump(grammar_hash(text), out)
        build(text).save(out)
    beside.replace(path)


def _ready(path: Path, wanted: str) -> Lark | None:
    """The table beside the grammar, if it was made from this very grammar by this very lark."""
    try:
        with path.open("rb") as file:
            if pickle.load(file) != wanted:
                return None
            stream: IO[Any] = file
            return Lark.load(stream)
    except (OSError, EOFError, pickle.UnpicklingError, AttributeError, KeyError, TypeError, ValueError):
        return None


@cache
def parser(name: str = GRAMMAR) -> Lark:
    """The parser of a grammar file in `grammar/`."""
    home = folder("grammar")
    text = (home / name).read_text(encoding="utf-8")
    return _ready((home / name).with_suffix(".table"), grammar_hash(text)) or build(text)
