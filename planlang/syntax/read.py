"""A source read into statements; every line that can't be read is one finding."""

from __future__ import annotations

import re

from planlang.syntax.nodes import Script, Statement, Unread
from planlang.syntax.normalise import normalise
from planlang.syntax.recover import Fault, parse
from planlang.syntax.statements import FIRST_WORDS, HEADERS, forms_of
from planlang.text.finding import Finding
from planlang.text.source import Source, Span

_WORD = re.compile(r"[^\s,;:\"]+")


def read(source: Source) -> Script:
    """All that a text says, line by line, and a finding for each line that can't be read."""
    text = normalise(source.text)
    trees, read_lines = parse(text)
    remaining = iter(trees)
    lines: list[Statement | Unread] = []
    findings: list[Finding] = []
    header: str | None = None
    for line in read_lines:
        if isinstance(line, Fault):
            unread = unread_line(line, text)
            lines.append(unread)
            from planlang.syntax.unreadable import explain  # only where something can't be read

            findings.append(explain(line, unread, header, text, source))
            header = unread.opens or header
            continue
        tree = next(remaining)
        tokens = line.tokens
        span = Span(tokens[0].start_pos or 0, tokens[-1].end_pos or 0)
        statement = Statement(str(tree.data), tuple(tree.children), span, tokens)
        lines.append(statement)
        if statement.name in HEADERS:
            header = statement.name
    return Script(source, tuple(lines), tuple(findings), text)


def unread_line(fault: Fault, text: str) -> Unread:
    """The line with its first word, and the block word that it is most like, if it is like one."""
    match = _WORD.match(text, fault.start)
    word = match.group() if match else text[fault.start : fault.start + 1]
    span = Span(fault.start, fault.start + len(text[fault.start : fault.end].rstrip()))
    like = word if forms_of(word) else _like(word)
    opens = next((form.name for form in forms_of(like) if form.name in HEADERS), None) if like else None
    # `rest` and `pain` may be measures, `today` an action: only alone on their line do they open a block
    if opens in ("rest", "pain", "today") and fault.tokens and text[fault.start : fault.end].split() != [word]:
        opens = None if opens == "today" else opens
    return Unread(word, span, opens, like)


def _like(word: str) -> str | None:
    from planlang.text.meant import meant

    return meant(word, FIRST_WORDS)
