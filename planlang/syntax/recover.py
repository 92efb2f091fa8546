"""Parsing line by line: a line that can't be read is set aside, and the next one is read as usual."""

from __future__ import annotations

from typing import Any

from attrs import frozen
from lark import Token, Tree
from lark.exceptions import UnexpectedInput, UnexpectedToken

from planlang.syntax.parser import parser


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


def parse(text: str) -> tuple[list[Tree[Token]], list[Line | Fault]]:
    """The statements' trees in order, and each line that has words in it.

    `text` is normalised and ends with a line feed. The trees belong to the `Line`s, one each, in order.
    """
    interactive: Any = parser().parse_interactive(text)
    state, thread = interactive.parser_state, interactive.lexer_thread
    feed, states, values = state.feed_token, state.state_stack, state.value_stack
    lines: list[Line | Fault] = []
    tokens: list[Token] = []
    depth = 1
    while True:
        try:
            for token in thread.lex(state):
                feed(token)
                if token.type == "_NL":
                    if tokens:
                        lines.append(Line(tuple(tokens)))
                        tokens = []
                else:
                    if not tokens:
                        depth = len(states) - 1  # shifting the first word has closed the line before
                    tokens.append(token)
            break
        except UnexpectedInput as error:
            found = error.token if isinstance(error, UnexpectedToken) else None
            stop = error.pos_in_stream if found is None else found.start_pos
            start = (tokens[0].start_pos if tokens else stop) or 0
            end = text.index("\n", start)
            lines.append(Fault(start, stop or 0, end, tuple(tokens), found, frozenset(interactive.accepts())))
            if tokens:
                del states[depth:]
                del values[depth - 1 :]
                tokens = []
            counter = thread.state.line_ctr
            if found is None or found.type != "_NL":
                counter.feed(Token("REST", text[counter.char_pos : text.index("\n", counter.char_pos)]))
    tree = feed(Token("$END", "", 0, 1, 1), True)
    return [part for part in tree.children if isinstance(part, Tree)], lines


def accepted_after(beginning: str) -> frozenset[str]:
    """The terminals that may follow the beginning of a line that can be read."""
    interactive: Any = parser().parse_interactive(beginning)
    try:
        for _ in interactive.iter_parse():
            pass
    except UnexpectedInput:
        return frozenset()
    return frozenset(interactive.accepts())
