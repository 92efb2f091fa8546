"""What may stand at a place: words of the language, names, and measures, each with a line of explanation."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from planlang.editor import names
from planlang.editor.document import Document
from planlang.editor.names import Named
from planlang.editor.reference import says
from planlang.syntax.normalise import normalise
from planlang.syntax.recover import accepted_after
from planlang.syntax.statements import ANYWHERE, FORMS, HEADERS, forms_of
from planlang.text.data import frozen
from planlang.text.source import Span
from planlang.text.words import WORDS

_WORD = re.compile(r"[^\s\",;<>#]*$")
_BLANK = re.compile(r"<[^<>]*$")
LONGEST = 1000
"""Lines that are longer are none that anybody types."""


@frozen
class Offer:
    """One completion: what it is called, what kind of thing, a line about it, and the span that it replaces."""

    label: str
    kind: str
    about: str
    span: Span


def offers(document: Document, offset: int) -> list[Offer]:
    """What may stand at an offset, each once; nothing in a remark or in free text."""
    source = document.source
    first = source.line_starts[source.line_of(offset) - 1]
    line = source.text[first:offset]
    if len(line) > LONGEST:
        return []
    plain = normalise(line)[: len(line)]
    if _in_remark(plain):
        return []
    found = list(_offers(document, plain, first, offset))
    return list({one.label: one for one in reversed(found)}.values())[::-1]


def _in_remark(line: str) -> bool:
    return "#" in re.sub(r'"[^"]*("|$)', "", line)


def _offers(document: Document, line: str, first: int, offset: int) -> Iterator[Offer]:
    if line.count('"') % 2:
        start = line.rindex('"') + 1
        yield from _made(_quoted(document, line[: start - 1]), Span(first + start, offset))
        return
    if (match := _BLANK.search(line)) is not None:
        word = _WORD.search(line)
        start = word.start() if word else match.start() + 1
        yield from _made(names.blanks(document), Span(first + start, offset))
        return
    match = _WORD.search(line)
    start = match.start() if match else len(line)
    span, before = Span(first + start, offset), line[:start]
    if not before.strip():
        yield from _made(_first_words(document, first), span)
        return
    tokens = accepted_after(before)
    yield from _made(_names(document, before, tokens, first), span)
    for token in sorted(tokens):
        word_of = WORDS.get(token)
        if word_of and word_of.one and word_of.one.strip():
            yield Offer(_spelt(before, word_of.one, word_of.many), "word", f"after: {before.strip()}", span)


def _spelt(before: str, one: str, many: str) -> str:
    """The word, in the plural behind a number other than one."""
    number = re.search(r"(\d[\d.]*)\s*$", before)
    return many or one if number and number.group(1) != "1" else one


def _made(found: Iterable[Named], span: Span) -> Iterator[Offer]:
    return (Offer(one.name, one.kind, one.about, span) for one in found)


def _first_words(document: Document, first: int) -> Iterator[Named]:
    """The words that a line of this block may start with, then the headers; under `today` the measures too."""
    section = document.block_at(first - 1) if first else None
    kind = section.kind if section else None
    if kind == "today":
        yield from names.measures(document)
    for form in FORMS.values():
        at_home = kind in form.blocks or (ANYWHERE in form.blocks and kind not in ("library", "diary"))
        if form.word and at_home and form.name not in HEADERS:
            yield Named(form.word, "word", says(form.name) or form.example)
    for name in HEADERS:
        yield Named(FORMS[name].word, "header", says(name) or FORMS[name].example)


def _quoted(document: Document, before: str) -> Iterator[Named]:
    """Names that stand in quotes: sessions, where the line speaks of one."""
    words = before.split()
    if not words:
        return
    spoken = words[-1] in ("session", "with") and words[0] != "session"
    if spoken or words[-1] in ("done", "part", "moved", "extra"):
        yield from names.sessions(document)


def _names(document: Document, before: str, tokens: frozenset[str], first: int) -> Iterator[Named]:
    """The names that the statement asks for at this place."""
    words = before.split()
    forms = {form.name for form in forms_of(words[0])}
    if "NAME" not in tokens:
        if words[0] == "joint" or "joints" in forms:
            return
        return
    match words[0]:
        case "waive":
            yield from names.rules(document)
        case "kind" | "base":
            yield from names.kinds()
        case "works":
            yield from names.muscles()
        case "tags":
            yield from names.tags()
        case "measured":
            yield from names.measures(document)
        case "about" | "operation":
            yield from names.conditions(document)
        case "fill":
            yield from names.blanks(document)
        case "start" | "starts":
            yield from names.kinds()
            yield from names.exercises(document)
        case "leave" if "red-flag" in words:
            yield from names.signs()
        case _ if words[0][:1].isdigit() and words[-1] in ("measured", "sign"):
            yield from names.measures(document) if words[-1] == "measured" else names.signs()
        case _ if forms & names.EXERCISES or words[0][:1].isdigit():
            yield from names.exercises(document)
