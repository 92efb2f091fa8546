"""The tables of the plan grammar: lark's, made plain, so that a start reads them and need not build a parser."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from planlang.syntax.parser import GRAMMAR, grammar_hash, parser
from planlang.text.data import frozen
from planlang.text.resources import folder

FORMAT = 2
"""Raised whenever tables are kept in another way."""

Words = dict[str, list[Any]]


@frozen
class Tables:
    """A parser as plain data.

    `actions`: for each state what each word of the grammar does, [next state] or [rule]; `rules`: (size, name
    of what it reduces to, the node's name, which children it keeps as (place, spread out), whether a single
    child stands for it); `terminals`: (name, expression); `order`: for each state the terminals that can
    follow, in the order in which they are tried; `anywhere`: all of them in that order.
    """

    first: int
    last: int
    actions: list[Words]
    rules: list[list[Any]]
    terminals: list[list[str]]
    order: list[list[int]]
    anywhere: list[int]
    ignored: list[str]


def made_plain(lark: Any) -> Tables:
    """The tables of a parser that lark has built."""
    interactive = lark.parse_interactive("\n")
    conf, lexer = interactive.parser_state.parse_conf, interactive.lexer_thread.lexer
    terminals = lexer.root_lexer.terminals
    place = {terminal.name: n for n, terminal in enumerate(terminals)}
    rules: dict[Any, int] = {}
    actions: list[Words] = []
    for state in range(len(conf.states)):
        words: Words = {}
        for word, (action, to) in conf.states[state].items():
            if action.name == "Shift":
                words[word] = [to]
            else:
                words[word] = [rules.setdefault(to, len(rules)), "rule"]
        actions.append(words)
    return Tables(
        conf.start_state,
        conf.end_state,
        actions,
        [_rule(rule) for rule in rules],
        [[t.name, t.pattern.to_regexp()] for t in terminals],
        [[place[t.name] for t in lexer.lexers[state].terminals] for state in range(len(conf.states))],
        [place[t.name] for t in terminals],
        sorted(lexer.root_lexer.ignore_types),
    )


def _rule(rule: Any) -> list[Any]:
    kept = [
        [n, not symbol.is_term and symbol.name.startswith("_")]
        for n, symbol in enumerate(rule.expansion)
        if not (symbol.is_term and symbol.filter_out)
    ]
    whole = len(kept) == len(rule.expansion) and not any(spread for _, spread in kept)
    single = rule.options.expand1 and not rule.alias
    name = str(rule.origin.name)
    return [len(rule.expansion), name, str(rule.alias or name), None if whole else kept, single]


def write_table(path: Path) -> None:
    """Writes the ready table of the plan grammar, whole or not at all. Plain JSON: reading it runs nothing."""
    text = (folder("grammar") / GRAMMAR).read_text(encoding="utf-8")
    made = made_plain(parser())
    held = {"digest": _digest(text), "tables": [getattr(made, name) for name in Tables.__annotations__]}
    beside = path.with_name(path.name + ".new")
    beside.write_text(json.dumps(held, separators=(",", ":")), encoding="utf-8")
    beside.replace(path)


def read_table(path: Path, text: str) -> Tables | None:
    """The table beside a grammar, if it was made from this very text; else None."""
    try:
        held = json.loads(path.read_text(encoding="utf-8"))
        return Tables(*held["tables"]) if held["digest"] == _digest(text) else None
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _digest(text: str) -> str:
    return f"{FORMAT}-{grammar_hash(text)}"


@cache
def tables() -> Tables:
    """The tables of the plan language: ready ones, or made now."""
    home = folder("grammar")
    text = (home / GRAMMAR).read_text(encoding="utf-8")
    return read_table((home / GRAMMAR).with_suffix(".table"), text) or made_plain(parser())
