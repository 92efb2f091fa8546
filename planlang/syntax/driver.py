"""The grammar's tables, driven word by word: what lark's contextual lexer and LALR parser do, without counting lines.

lark makes one large expression for each state of its parser; most of the start went into compiling them.
Here words that are spelled are looked up, each other terminal is compiled by itself, and at a place only
those are tried, in lark's own order, that can begin with the character there. A test holds both to the
same tokens, trees and faults.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from typing import Any

from attrs import field

from planlang.syntax.patterns import CHUNK, first_character, spelled
from planlang.syntax.tables import Tables, tables
from planlang.syntax.words import Token, Tree, token
from planlang.text.data import define

Match = Callable[[str, int], "re.Match[str] | None"]
Make = Callable[[list[Any]], Any]
Action = tuple[int, Make | None, str]
"""(next state, None, "") to shift; (length of the rule, what makes its node, its name) to reduce."""
Word = tuple[str, frozenset[str] | None, Match]
"""A terminal: its name, the words that it spells or None, and the expression that matches it otherwise."""


def node_maker(name: str, kept: list[list[Any]] | None, single: bool) -> Make:
    """What makes a rule's node of its children: which of them it keeps, and which it spreads out, as lark does."""

    if kept is None:
        if single:
            return lambda children: children[0] if len(children) == 1 else Tree(name, children)
        return lambda children: Tree(name, children)
    if not single and not any(spread for _, spread in kept):
        places = [place for place, _ in kept]
        return lambda children: Tree(name, [children[place] for place in places])

    def make(children: list[Any]) -> Any:
        parts: list[Any] = []
        for place, spread in kept:
            if not spread:
                parts.append(children[place])
            elif parts:
                parts += children[place].children
            else:
                parts = children[place].children  # the list so far goes on: linear in a rule's length
        return parts[0] if single and len(parts) == 1 else Tree(name, parts)

    return make


class States(dict[int, dict[str, Action]]):
    """What each word does in a state, made when the state is first met."""

    def __init__(self, make: Callable[[int], dict[str, Action]]) -> None:
        super().__init__()
        self.make = make

    def __missing__(self, state: int) -> dict[str, Action]:
        made = self[state] = self.make(state)
        return made


@define(eq=False)
class Driver:
    """The tables of one parser, made ready state by state as they are met."""

    tables: Tables
    makers: list[Make]
    ignored: frozenset[str]
    actions: States = field(init=False)
    words: dict[int | None, dict[str, list[Word]]] = field(factory=dict)
    compiled: dict[int, Match] = field(factory=dict)
    lines: dict[str, Any] = field(factory=dict)
    """Lines that were read lately, by their text (see `recover`)."""

    def __attrs_post_init__(self) -> None:
        self.actions = States(self.actions_in)

    def actions_in(self, state: int) -> dict[str, Action]:
        """What each word of the grammar does in a state."""
        made: dict[str, Action] = {}
        for word, to in self.tables.actions[state].items():
            if len(to) == 1:
                made[word] = (to[0], None, "")
            else:
                size, name, *_ = self.tables.rules[to[0]]
                made[word] = (size, self.makers[to[0]], name)
        return made

    def words_in(self, state: int | None, char: str) -> list[Word]:
        """The terminals that may stand in a state and can begin with a character, in lark's order.

        Where no state is given, all of the language's.
        """
        made: list[Word] = []
        for place in self.tables.anywhere if state is None else self.tables.order[state]:
            name, pattern = self.tables.terminals[place]
            if not first_character(pattern)(char):
                continue
            words = spelled(pattern)
            match = self.compiled.get(place) or (_never if words else re.compile(pattern).match)
            self.compiled[place] = match
            made.append((name, words, match))
        self.words.setdefault(state, {})[char] = made
        return made

    def accepted(self, states: list[int]) -> frozenset[str]:
        """The terminals that could stand next."""
        last = states[-1]
        named = [word for word in self.actions[last] if word.isupper()]
        return frozenset(word for word in named if self.shift(word, list(states)))

    def shift(self, word: str, states: list[int]) -> bool:
        """Takes a word into a stack of states, and says whether it can stand there."""
        while True:
            action = self.actions[states[-1]].get(word)
            if action is None:
                return False
            size, makes, name = action
            if makes is None:
                states.append(size)
                return True
            if size:
                del states[-size:]
            states.append(self.actions[states[-1]][name][0])
            if word == "$END" and states[-1] == self.tables.last:
                return True

    def finished(self, states: list[int], values: list[Any]) -> list[Any]:
        """What the whole text says, once its last word has been taken in: the trees of its statements."""
        while states[-1] != self.tables.last:
            size, make, name = self.actions[states[-1]]["$END"]
            assert make is not None, "the end of a text is never shifted"
            made = make(values[-size:] if size else [])
            if size:
                del states[-size:]
                del values[-size:]
            states.append(self.actions[states[-1]][name][0])
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
            listed, chunk = words.get(char), ""
            for kind, spelling, match in self.words_in(state, char) if listed is None else listed:
                if spelling is not None:
                    if not chunk:
                        run = CHUNK.match(text, start)
                        chunk = run.group() if run else " "
                    if chunk in spelling:
                        return token(kind, chunk, start, start + len(chunk))
                    continue
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


def _never(text: str, start: int) -> None:
    """The match of a terminal whose words are looked up."""


@cache
def driver() -> Driver:
    """The driver of the plan language's tables."""
    made = tables()
    makers = [node_maker(name, kept, single) for _, _, name, kept, single in made.rules]
    return Driver(made, makers, frozenset(made.ignored))
