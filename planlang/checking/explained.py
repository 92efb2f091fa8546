"""What a rule looks for, in words, with the facts that it asks and what it says of its own examples."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.checking.compile import subject_of
from planlang.checking.examples import findings_of
from planlang.checking.expression.parse import parse
from planlang.checking.expression.saying import Noting, Sayer
from planlang.checking.expression.scope import Bound, Scope
from planlang.checking.expression.types import Type
from planlang.checking.expression.units import quantity_text, unit
from planlang.checking.rule import Rule, Setting, Spoken
from planlang.checking.rulebook import Rulebook
from planlang.text.data import frozen


@frozen
class InWords:
    """One case of a rule. `joined`: whether `all` or `any` of the parts must hold; empty where there is one.

    `where`: names that the parts use, with what each is. Long ones are taken apart, in lines set in by two spaces more.
    `facts`: what the rule asks of a plan, with its meaning.
    `says`, `does`: message and help as they come out on one of the rule's own examples; None where none shows it.
    """

    looks_at: str
    joined: str
    parts: tuple[str, ...]
    where: tuple[tuple[str, tuple[str, ...]], ...]
    facts: tuple[tuple[str, str], ...]
    says: str | None
    does: str | None


def in_words(rule: Rule, book: Rulebook) -> tuple[InWords, ...]:
    """Each case of a rule, with the settings that are in force."""
    said = _said(rule, book)
    return tuple(_case(spoken, rule, book, said.get(i)) for i, spoken in enumerate(rule.spoken))


def _case(spoken: Spoken, rule: Rule, book: Rulebook, said: tuple[str, str] | None) -> InWords:
    scope = Scope(book.registry, phrases=frozenset(name for name, _ in rule.words), catalogue=book.catalogue)
    for setting in rule.settings:
        scope.names[setting.name] = Bound(_type(setting), ["setting", setting.name])
    typer = Noting(scope)
    values = {s.name: quantity_text(book.value(rule, s), s.unit) for s in rule.settings}
    names = [name.replace(" ", "-") for name, _ in spoken.reckons]
    sayer = Sayer(typer, values, frozenset(names))
    subject = parse(spoken.looks_at, "subject")
    subject_of(subject, typer)
    looks_at = sayer.subject(subject)
    where: dict[str, tuple[str, tuple[str, ...]]] = {}
    uses: dict[str, set[str]] = {}
    for name, (shown, text) in zip(names, spoken.reckons, strict=True):
        node = parse(text)
        typed = typer.typed(node)
        where[name] = (shown.replace("-", " "), tuple(sayer.outline(node)))
        uses[name], sayer.used = sayer.used, set()
        scope.names[name] = Bound(typed.type, ["reckoned", scope.slot(), typed.code])
    flags = parse(spoken.flags_when)
    typer.typed(flags)
    joined, parts = sayer.parts(flags)
    says, does = said or (None, None)
    needed = _needed(sayer.used, uses)
    named = tuple(words for name, words in where.items() if name in needed)
    return InWords(looks_at, joined, tuple(parts), named, tuple(_facts(typer)), says, does)


def _needed(used: set[str], uses: dict[str, set[str]]) -> set[str]:
    """The names that are used, and those that these use. What only a message fills in isn't needed to understand."""
    needed: set[str] = set()
    todo = list(used)
    while todo:
        name = todo.pop()
        if name not in needed:
            needed.add(name)
            todo += uses.get(name, ())
    return needed


def _type(setting: Setting) -> Type:
    found = unit(setting.unit)
    assert found is not None
    return Type("number", found.dimension, found.word)


def _facts(typer: Noting) -> Iterator[tuple[str, str]]:
    """What is asked, but for what is said by its meaning, and for the plan's own parts."""
    for fact in typer.asked.values():
        if fact.type.name == "truth" or (not fact.owner and fact.type.name == "thing"):
            continue
        name = fact.name.replace("-", " ")
        owner = fact.owner.replace("-", " ")
        yield (f"{owner}'s {name}" if owner else name), fact.meaning


def _said(rule: Rule, book: Rulebook) -> dict[int, tuple[str, str]]:
    """Message and help of each case, by its number, on the first of the examples that shows it."""
    found: dict[int, tuple[str, str]] = {}
    for text in rule.flagged:
        for one in findings_of(rule, text, book.registry, book.catalogue):
            number = next(i for i, case in enumerate(rule.cases) if case is one.case)
            found.setdefault(number, (one.finding.message, one.finding.advice))
    return found
