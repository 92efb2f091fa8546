"""A source read into statements; every line that can't be read is one finding."""

from __future__ import annotations

import re

from planlang.syntax.blocks import opens
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
            unread = unread_line(line, header, text)
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
            header = opens(statement)
    return Script(source, tuple(lines), tuple(findings), text)


def unread_line(fault: Fault, header: str | None, text: str) -> Unread:
    """The line, in the block `header`, with its first word, and the block word that it is most like, if any."""
    match = _WORD.match(text, fault.start)
    word = match.group() if match else text[fault.start : fault.start + 1]
    span = Span(fault.start, fault.start + len(text[fault.start : fault.end].rstrip()))
    like = _meant(word, fault)
    opens = next((form.name for form in forms_of(like) if form.name in HEADERS), None) if like else None
    # `rest` and `pain` may be measures, and a word most like one of these three most other things
    if opens in _ALONE and (like != word or header == "today"):
        alone = text[fault.start : fault.end].split("#")[0].split() == [word]
        opens = opens if alone else None
    return Unread(word, span, opens, like)


_ALONE = ("rest", "pain", "today")
_LONGEST = 40


def _meant(word: str, fault: Fault) -> str | None:
    """The first word that was most likely meant; the word itself where it is one and was read as one."""
    if fault.tokens and fault.tokens[0].type != "NAME":
        return str(fault.tokens[0])  # what stands right behind it, without a space, may be no letter
    if len(word) > _LONGEST:
        return None
    from planlang.text.meant import meant

    return meant(word, FIRST_WORDS)
