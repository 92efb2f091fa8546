"""Personal details in texts that no rule of a plan sees: libraries, diaries, settings, remarks left out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from attrs import evolve

from planlang.checking.engine import run
from planlang.checking.facts.registry import Facts
from planlang.checking.rulebook import Rulebook
from planlang.model.plan import Plan
from planlang.model.writing import Writing
from planlang.syntax.normalise import normalise
from planlang.text.finding import Finding
from planlang.text.source import Source, Span

RULES = ("personal-details", "name-suspected")
"""The rules that look for them; what they look for is said there and nowhere else."""
CONTACTS = "contacts"
_PIECE = re.compile(r'"[^"\n]*"|#[^\n]*')


def private(
    source: Source, book: Rulebook, contacts: Mapping[str, str], plan: Plan | None = None, seen: Source | None = None
) -> tuple[Finding, ...]:
    """What those rules find in the quoted texts and remarks of a file that is no plan by itself.

    `plan`: what is known of the person, where the file is theirs. `seen`: the text put together from the file, whose
    own rules have looked at all that it holds.
    """
    said: Iterable[Writing] = _writings(source)
    if seen is not None:
        said = [one for one in said if not _holds(seen, one.span)]
    return _found(tuple(said), source, book, contacts, plan)


def private_settings(source: Source, book: Rulebook, contacts: Mapping[str, str]) -> tuple[Finding, ...]:
    """The same of a clinic's YAML, every line of it; what stands under `contacts` is there to be called."""
    return _found(tuple(_lines(source)), source, book, contacts, None)


def _found(
    said: tuple[Writing, ...], source: Source, book: Rulebook, contacts: Mapping[str, str], plan: Plan | None
) -> tuple[Finding, ...]:
    if not said:
        return ()
    told = Plan("", source, writings=said) if plan is None else evolve(plan, source=source, writings=said)
    flagged, _ = run(_few(book), Facts(evolve(told, unread=frozenset()), None, contacts=contacts))
    return tuple(one.finding for one in flagged)


def _few(book: Rulebook) -> Rulebook:
    """A rulebook with these rules only, made once."""
    kept: Rulebook | None = book.__dict__.get("private")
    if kept is None:
        kept = evolve(book, rules=tuple(rule for rule in book.rules if rule.name in RULES))
        book.__dict__["private"] = kept
    return kept


def _writings(source: Source) -> Iterator[Writing]:
    """The quoted texts and remarks of a text, without reading it: of a line only whether it says who is there."""
    text = normalise(source.text)
    for piece in _PIECE.finditer(text):
        start, end = piece.span()
        if text[start] == "#":
            yield Writing(text[start + 1 : end].strip(), "comment", "", Span(start, end))
        else:
            line = text.rfind("\n", 0, start) + 1
            who = text[line:start].split(None, 1)[:1] == ["with"]
            yield Writing(text[start + 1 : end - 1], "with_whom" if who else "", "", Span(start, end))


def _holds(seen: Source, span: Span) -> bool:
    from planlang.model.composing.composed import Composed

    return isinstance(seen, Composed) and seen.own_span(seen.at(span)) == span


def _lines(source: Source) -> Iterator[Writing]:
    exempt = _contacts(source)
    at = 0
    for line in source.text.splitlines(keepends=True):
        words = line.strip()
        start = at + (len(line) - len(line.lstrip()))
        at += len(line)
        if words and not (exempt and exempt.start <= start < exempt.end):
            yield Writing(words, "", "", Span(start, start + len(words)))


def _contacts(source: Source) -> Span | None:
    """Where the value of `contacts` stands."""
    from planlang.text.strict_yaml import read_yaml

    document = read_yaml(source)
    if isinstance(document, Finding) or not isinstance(document.value, dict):
        return None
    key = document.keys.get((CONTACTS,))
    if key is None:
        return None
    inside = [span.end for path, span in document.values.items() if path[:1] == (CONTACTS,) and len(path) > 1]
    return Span(key.start, max(inside, default=key.end))
