"""The product's recovery on lark's own lexer and parser: slower, and what the tables' driver is held to."""

from __future__ import annotations

from typing import Any

from lark import Token, Tree
from lark.exceptions import UnexpectedInput, UnexpectedToken

from planlang.syntax.parser import parser
from planlang.syntax.recover import Fault, Line


def parse(text: str) -> tuple[list[Tree[Token]], list[Line | Fault]]:
    """Trees and lines, by the interactive parser with both stacks cut back after a fault."""
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
                        depth = len(states) - 1
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
    """The terminals that lark's parser accepts after the beginning of a line; none where it can't be read."""
    interactive: Any = parser().parse_interactive(beginning)
    try:
        for _ in interactive.iter_parse():
            pass
    except UnexpectedInput:
        return frozenset()
    return frozenset(interactive.accepts())
