"""Parsing line by line: a line that can't be read is set aside, and the next one is read as usual."""

from __future__ import annotations

from typing import Any

from planlang.syntax.driver import driver
from planlang.syntax.words import Token, Tree, token
from planlang.text.data import frozen


@frozen
class Fault:
    """A line that can't be read: offsets of its first word, of where reading stopped and of its end.

    `tokens` were read before the stop; `found` is the word at the stop (None where it is no word at
    all); `expected` are the terminals that could have stood there.
    """

    start: int
    stop: int
    end: int
    tokens: tuple[Token, ...]
    found: Token | None
    expected: frozenset[str]


@frozen
class Line:
    """The words of a line that was read."""

    tokens: tuple[Token, ...]


def parse(text: str) -> tuple[list[Tree], list[Line | Fault]]:
    """The statements' trees in order, and each line that has words in it.

    `text` is normalised and ends with a line feed. The trees belong to the `Line`s, one each, in order. What a line
    says hangs on no other line, so one that was read lately, in this text or another, is made again from that.
    """
    tables = driver()
    known = tables.lines
    actions, word_at = tables.actions, tables.word_at
    states: list[int] = [tables.tables.first]
    values: list[Any] = []
    lines: list[Line | Fault] = []
    tokens: list[Token] = []
    again: list[Tree | None] = []  # of each line its tree, None where the parser makes it
    depth, at, length = 1, 0, len(text)
    while at < length:
        if not tokens:
            while text[at] == " ":
                at += 1
            end = text.find("\n", at)
            saved = known.get(text[at:end])
            if saved is not None:
                line, tree = saved.at(at)
                lines.append(line)
                again.append(tree)
                at = end + 1
                continue
        state = states[-1]
        word = word_at(state, text, at)
        if word is not None:
            kind = word.type
            action = actions[state].get(kind)
            while action is not None and (make := action[1]):
                size, _, name = action  # reduce until the word can be shifted
                if size == 1:
                    made = make([values.pop()])
                    states.pop()
                else:
                    made = make(values[-size:] if size else [])
                    if size:
                        del states[-size:]
                        del values[-size:]
                state = actions[states[-1]][name][0]
                states.append(state)
                values.append(made)
                action = actions[state].get(kind)
            if action is not None:
                states.append(action[0])
                values.append(word)
                at = word.end_pos
                if kind != "_NL":
                    if not tokens:
                        depth = len(states) - 1  # shifting the first word has closed the line before
                    tokens.append(word)
                elif tokens:
                    lines.append(Line(tuple(tokens)))
                    again.append(None)
                    tokens = []
                continue
        at = _stop(text, at)
        found = word or tables.word_at(None, text, at)
        stop = at if found is None else found.start_pos
        start = (tokens[0].start_pos) if tokens else stop
        lines.append(Fault(start, stop, text.index("\n", start), tuple(tokens), found, tables.accepted(states)))
        if tokens:
            del states[depth:]
            del values[depth - 1 :]
            tokens = []
        after = at if found is None else found.end_pos
        at = after if found is not None and found.type == "_NL" else text.index("\n", after)
    made_now = iter(tables.finished(states, values) if None in again else ())
    read = (line for line in lines if isinstance(line, Line))
    return [
        _kept(known, text, line, next(made_now)) if t is None else t for line, t in zip(read, again, strict=True)
    ], lines


MOST_KEPT = 4000
"""So many lines are kept; then the keeping begins anew."""
LONGEST_KEPT = 200
Recipe = tuple[str, tuple[Any, ...]]
"""A tree's name and its parts: a word by its place in the line, or another recipe."""


@frozen
class Known:
    """A line that was read, its places counted from its first word."""

    words: tuple[tuple[str, str, int, int], ...]
    recipe: Recipe

    def at(self, start: int) -> tuple[Line, Tree]:
        """The same line at another offset."""
        tokens = tuple([token(kind, said, start + first, start + end) for kind, said, first, end in self.words])
        return Line(tokens), _made(self.recipe, tokens)


def _made(recipe: Recipe, tokens: tuple[Token, ...]) -> Tree:
    name, parts = recipe
    return Tree(name, [tokens[part] if type(part) is int else _made(part, tokens) for part in parts])


def _kept(known: dict[str, Known], text: str, line: Line, tree: Tree) -> Tree:
    """The tree of a line that was read, which is kept for when it comes again."""
    start = line.tokens[0].start_pos
    end = text.find("\n", start)
    if end - start <= LONGEST_KEPT and line.tokens[-1].end_pos <= end:
        places = {id(word): place for place, word in enumerate(line.tokens)}
        words = tuple([(w.type, str(w), w.start_pos - start, w.end_pos - start) for w in line.tokens])
        if len(known) >= MOST_KEPT:
            known.clear()
        known[text[start:end]] = Known(words, _recipe(tree, places))
    return tree


def _recipe(tree: Tree, places: dict[int, int]) -> Recipe:
    parts = tree.children
    return tree.data, tuple([_recipe(p, places) if isinstance(p, Tree) else places[id(p)] for p in parts])


def _stop(text: str, at: int) -> int:
    """Where reading stopped: at the next character that isn't a space."""
    while text[at] == " ":
        at += 1
    return at


def accepted_after(beginning: str) -> frozenset[str]:
    """The terminals that may follow the beginning of a line; none where it can't be read."""
    tables, text = driver(), beginning.rstrip() + "\n"
    states, at = [tables.tables.first], 0
    while text[at:].strip():
        word = tables.word_at(states[-1], text, at)
        if word is None or not tables.shift(word.type, states):
            return frozenset()
        at = word.end_pos
    return tables.accepted(states)
