"""The grammar's tables, driven word by word: what lark's contextual lexer and LALR parser do, without counting lines.

lark makes one large expression for each state of its parser; most of the start went into compiling them.
Here each terminal is compiled by itself when it is first needed, and at a place only those are tried, in
lark's own order, that can begin with the character there. A test holds both to the same tokens and trees.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from typing import Any

from attrs import define, field
from lark import Token, Tree

from planlang.syntax.parser import parser

Match = Callable[[str, int], "re.Match[str] | None"]
Action = tuple[int, Callable[[list[Any]], Any] | None, str]
"""(next state, None, "") to shift; (length of the rule, what makes its node, its name) to reduce."""

_new = str.__new__


def token(kind: str, text: str, start: int, end: int) -> Token:
    """A token with its offsets; lines and columns are reckoned only for what is shown."""
    made = _new(Token, text)
    made.type, made.value = kind, text
    made.start_pos, made.end_pos = start, end
    made.line = made.column = made.end_line = made.end_column = None
    return made


@define(eq=False)
class Driver:
    """The tables of one parser, made ready state by state as they are met."""

    tables: Any  # lark's: state -> word of the grammar -> (Shift or Reduce, state or rule)
    callbacks: Any
    lexers: Any  # lark's: state -> lexer; None -> the one for every word of the language
    first_state: int
    last_state: int
    ignored: frozenset[str]
    actions: dict[int, dict[str, Action]] = field(factory=dict)
    words: dict[int | None, dict[str, list[tuple[str, Match]]]] = field(factory=dict)

    def actions_in(self, state: int) -> dict[str, Action]:
        """What each word of the grammar does in a state."""
        made: dict[str, Action] = {}
        for word, (action, to) in self.tables[state].items():
            if action.name == "Shift":
                made[word] = (to, None, "")
            else:
                made[word] = (len(to.expansion), self.callbacks[to], to.origin.name)
        self.actions[state] = made
        return made

    def words_in(self, state: int | None, char: str) -> list[tuple[str, Match]]:
        """The terminals that may stand in a state and can begin with a character, in lark's order.

        Where no state is given, all of the language's.
        """
        made: list[tuple[str, Match]] = []
        for terminal in self.lexers[state].terminals:
            pattern = terminal.pattern.to_regexp()
            if first_character(pattern)(char):
                made.append((terminal.name, re.compile(pattern).match))
        self.words.setdefault(state, {})[char] = made
        return made

    def accepted(self, states: list[int]) -> frozenset[str]:
        """The terminals that could stand next."""
        last = states[-1]
        named = [word for word in self.actions.get(last) or self.actions_in(last) if word.isupper()]
        return frozenset(word for word in named if self._goes_on(word, list(states)))

    def _goes_on(self, word: str, states: list[int]) -> bool:
        while True:
            action = (self.actions.get(states[-1]) or self.actions_in(states[-1])).get(word)
            if action is None:
                return False
            size, makes, name = action
            if makes is None:
                return True
            if size:
                del states[-size:]
            states.append((self.actions.get(states[-1]) or self.actions_in(states[-1]))[name][0])
            if word == "$END" and states[-1] == self.last_state:
                return True

    def finished(self, states: list[int], values: list[Any]) -> list[Any]:
        """What the whole text says, once its last word has been taken in: the trees of its statements."""
        while states[-1] != self.last_state:
            size, make, name = (self.actions.get(states[-1]) or self.actions_in(states[-1]))["$END"]
            assert make is not None, "the end of a text is never shifted"
            made = make(values[-size:] if size else [])
            if size:
                del states[-size:]
                del values[-size:]
            states.append((self.actions.get(states[-1]) or self.actions_in(states[-1]))[name][0])
            values.append(made)
        return [part for part in values[-1].children if isinstance(part, Tree)]

    def word_at(self, state: int | None, text: str, start: int) -> Token | None:
        """The next word from an offset on, of those that a state (without one: the language) knows; None if none is.

        Spaces and comments are passed over. The text ends with a line feed.
        """
        words = self.words.get(state)
        if words is None:
            words = self.words[state] = {}
        while True:
            char = text[start]
            if char == " ":
                start += 1
                continue
            listed = words.get(char)
            for kind, match in self.words_in(state, char) if listed is None else listed:
                found = match(text, start)
                if found is None:
                    continue
                end = found.end()
                if kind not in self.ignored:
                    return token(kind, found.group(), start, end)
                start = end
                break
            else:
                return None


@cache
def driver() -> Driver:
    """The tables of the plan language's parser."""
    interactive: Any = parser().parse_interactive("\n")
    conf, lexer = interactive.parser_state.parse_conf, interactive.lexer_thread.lexer
    lexers = {**lexer.lexers, None: lexer.root_lexer}
    return Driver(conf.states, conf.callbacks, lexers, conf.start_state, conf.end_state, lexer.root_lexer.ignore_types)


_PIECE = re.compile(r"\\.|\[\^?\]?(?:\\.|[^\]\\])*\]|[^\\\[\](){}|?*+.^$]")
_MAY_BE_ABSENT = re.compile(r"[?*{]")


@cache
def first_character(pattern: str) -> Callable[[str], bool]:
    """A test: can an expression match what begins with a character? True where that can't be told."""
    pieces = _beginnings(pattern)
    if pieces is None:
        return lambda char: True
    if all(len(piece) == 1 for piece in pieces):
        letters = frozenset(pieces)
        return letters.__contains__
    return lambda char: any(re.match(piece, char) for piece in pieces)


def _beginnings(pattern: str) -> list[str] | None:
    """The one-character expressions that a pattern begins with; None where there is no saying."""
    if pattern.startswith("(?:"):
        alternatives, after = _alternatives(pattern[3:])
        if _MAY_BE_ABSENT.match(after):
            return None
        found = [_beginnings(part) for part in alternatives]
        return None if None in found else [piece for pieces in found if pieces for piece in pieces]
    piece = _PIECE.match(pattern)
    if piece is None or _MAY_BE_ABSENT.match(pattern, piece.end()):
        return None
    depth, at = 0, 0
    while at < len(pattern):  # an alternative without brackets around it
        inner = _PIECE.match(pattern, at)
        if inner:
            at = inner.end()
            continue
        depth += {"(": 1, ")": -1}.get(pattern[at], 0)
        if pattern[at] == "|" and depth == 0:
            return None
        at += 1
    return [piece.group()]


def _alternatives(pattern: str) -> tuple[list[str], str]:
    """What stands between `|` up to the closing bracket, and what follows it."""
    parts, depth, at, begun = [], 0, 0, 0
    while True:
        inner = _PIECE.match(pattern, at)
        if inner:
            at = inner.end()
            continue
        char = pattern[at]
        if depth == 0 and char in "|)":
            parts.append(pattern[begun:at])
            begun = at + 1
            if char == ")":
                return parts, pattern[begun:]
        depth += {"(": 1, ")": -1}.get(char, 0)
        at += 1
