"""Runs the rules of a rulebook over the facts of one plan. It knows no rule."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from planlang.checking.expression.closures import Code, Frame, Run, Values, build, build_true
from planlang.checking.expression.printing import message, spoken
from planlang.checking.facts.registry import Facts, Registry
from planlang.checking.rule import Applies, Case, Rule
from planlang.checking.rulebook import Rulebook
from planlang.model.known import Catalogue
from planlang.model.plan import Plan
from planlang.text.data import define, frozen
from planlang.text.finding import Finding, Level, Related
from planlang.text.source import NOWHERE, Span


@frozen
class Flagged:
    """One finding of a rule, with what it was about."""

    rule: Rule
    case: Case
    thing: Any
    finding: Finding


@define(slots=False, eq=False)
class Runner:
    """One case of a rule, ready to run; what only a finding needs is built when there is one."""

    rule: Rule
    case: Case
    values: Values
    level: Level

    def __attrs_post_init__(self) -> None:
        kind, code, condition_code = self.case.subject
        self.kind: str = kind
        self.subject = build(code, self.values)
        self.condition = None if condition_code is None else build_true(condition_code, self.values)
        self.flags = build_true(self.case.flags, self.values)
        self.empty: Frame = [None] * (self.case.slots - 2)

    def run(self, facts: Facts) -> list[Flagged]:
        """The findings of this case."""
        condition, flags, empty, first = self.condition, self.flags, self.empty, self.kind == "first"
        found = self.subject([facts, None, *empty])
        flagged: list[Flagged] = []
        for thing in (found,) if self.kind == "one" else found or ():
            if thing is None:
                continue
            frame: Frame = [facts, thing, *empty]
            if condition is not None and condition(frame) is not True:
                continue
            if flags(frame) is True:
                flagged.append(Flagged(self.rule, self.case, thing, self._finding(facts, thing, frame)))
            if first:
                break
        return flagged

    @cached_property
    def message(self) -> list[str | Run]:
        """The message's pieces."""
        return message(self.case.message, self.values)

    @cached_property
    def help(self) -> list[str | Run]:
        """The pieces of what to do."""
        return message(self.case.help, self.values)

    @cached_property
    def places(self) -> list[Run]:
        """What may be underlined, the best first."""
        return [place(code, self.values) for code in self.case.underline]

    @cached_property
    def related(self) -> list[tuple[Run, list[str | Run]]]:
        """Further places with their messages."""
        return [(place(code, self.values), message(said, self.values)) for code, said in self.case.related]

    def _finding(self, facts: Facts, thing: Any, frame: Frame) -> Finding:
        source = facts.source
        whole = facts.past.diary.span if facts.past is not None else facts.plan.span
        span = next((s for p in self.places if (s := p(frame))), None) or own_span(thing) or whole
        if not facts.told:
            which = str(id(self.case))  # in place of words: what two cases find at one place stays apart
            return Finding(self.rule.name, self.level, which, span if span != NOWHERE else None, source)
        related = tuple(
            Related(spoken(said, frame), at, source) for where, said in self.related if (at := where(frame))
        )
        return Finding(
            self.rule.name,
            self.level,
            spoken(self.message, frame),
            span if span != NOWHERE else None,
            source,
            lambda: spoken(self.help, frame),
            related,
            self.rule.source_lines(),
        )


def own_span(thing: Any) -> Span | None:
    """Where a thing itself stands, if that is known."""
    span = getattr(thing, "span", None)
    return span if isinstance(span, Span) and span != NOWHERE else None


def place(code: Code, values: Values) -> Run:
    """A closure that gives where something stands, or None."""
    registry = values.registry
    if code[0] == "thing":
        inner = build(code[2], values)
        return lambda frame: own_span(inner(frame))
    fact, inner = registry.facts[code[1], code[2]], build(code[3], values)

    def run(frame: Frame) -> Span | None:
        thing = inner(frame)
        if thing is None:
            return None
        span = fact.at(frame[0], thing) if fact.at else None
        return span if span and span != NOWHERE else own_span(thing) if fact.at is None else None

    return run


def applies(to: Applies, plan: Plan, kind: str) -> bool:
    """Whether a rule is for such a plan. Who is not said to be of an age is not judged by it."""
    if kind not in to.files:
        return False
    if to.from_age is not None and (plan.aged is None or plan.aged < to.from_age):
        return False
    if to.below_age is not None and (plan.aged is None or plan.aged >= to.below_age):
        return False
    if not (to.conditions or to.operations):
        return True
    known = plan.catalogue
    about = {c.name for a in plan.about if (c := known.condition(a.name))}
    operated = {c.name for o in plan.operations if (c := known.condition(o.text))}
    return bool(about & _named(to.conditions, known) or (about | operated) & _named(to.operations, known))


def _named(names: tuple[str, ...], known: Catalogue) -> set[str]:
    return {c.name for name in names if (c := known.condition(name))}


def not_judged(rule: Rule, plan: Plan) -> bool:
    """Whether an unreadable line could have said what the rule asks for."""
    return bool(rule.asks) and ("?" in plan.unread or not rule.asks.isdisjoint(plan.unread))


def runners(book: Rulebook) -> list[tuple[Rule, list[Runner]]]:
    """The rules in force, each with its cases; kept with the rulebook, so that a second plan finds them built."""
    kept: list[tuple[Rule, list[Runner]]] | None = book.__dict__.get("runners")
    if kept is None:
        kept = [(rule, _cases(rule, book, book.registry)) for rule in book.in_force()]
        book.__dict__["runners"] = kept
    return kept


def _cases(rule: Rule, book: Rulebook, registry: Registry) -> list[Runner]:
    settings = {s.name: book.value(rule, s) for s in rule.settings}
    phrases = {name: dict(by_language) for name, by_language in rule.words}
    values = Values(registry, settings, phrases)
    return [Runner(rule, case, values, book.level(rule)) for case in rule.cases]


def _of_kind(book: Rulebook, kind: str) -> list[tuple[Rule, list[Runner], bool]]:
    """The rules for a kind of file, and whether each is for some plans of it only; kept with the rulebook."""
    kept: dict[str, list[tuple[Rule, list[Runner], bool]]] = book.__dict__.setdefault("of kinds", {})
    if kind not in kept:
        kept[kind] = [
            (rule, cases, rule.applies != Applies(files=rule.applies.files))
            for rule, cases in runners(book)
            if kind in rule.applies.files
        ]
    return kept[kind]


def run(book: Rulebook, facts: Facts, kind: str = "plan") -> tuple[list[Flagged], list[str]]:
    """What the rules find, and the rules that could not be judged."""
    found: list[Flagged] = []
    unjudged: list[str] = []
    plan, unknown = facts.plan, facts.unknown
    whole = not plan.unread and not unknown
    for rule, cases, narrowed in _of_kind(book, kind):
        if narrowed and not applies(rule.applies, plan, kind):
            continue
        if not whole and (not_judged(rule, plan) or not rule.asks.isdisjoint(unknown)):
            unjudged.append(rule.name)
            continue
        for case in cases:
            flagged = case.run(facts)
            if flagged:
                found += flagged
    if not found:
        return found, unjudged
    return [one for one in found if not _needless(one, found)], unjudged


def _needless(one: Flagged, found: list[Flagged]) -> bool:
    """Whether a rule that this one gives way to has found something about the same thing, or about the whole."""
    return any(other.rule.name in one.rule.gives_way_to and _overlap(one, other) for other in found)


def _overlap(one: Flagged, other: Flagged) -> bool:
    """About one thing, or about things that can't be told apart: two kinds of thing, or the plan as a whole."""
    whole = "one" in (one.case.subject[0], other.case.subject[0])
    return whole or one.thing is other.thing or type(one.thing) is not type(other.thing)
