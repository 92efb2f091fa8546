"""One run of the whole check for one filling of a template, with everything that it rested on written down."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import timedelta
from fractions import Fraction

from attrs import evolve, field

from planlang.checking.check import judge
from planlang.checking.facts.registry import Facts
from planlang.checking.ranges.trace import Trace
from planlang.checking.ranges.tracing import Traced, blank_value
from planlang.checking.rulebook import Rulebook
from planlang.model.composing.composed import Composed
from planlang.model.composing.expression import value
from planlang.model.composing.files import Files
from planlang.model.composing.instance import FIRST_DAY, instance
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.text.data import define, frozen
from planlang.text.finding import Finding
from planlang.text.source import Source, Span

WEEK = range(7)


@frozen
class Where:
    """What is found: a rule, its place in the template's own file (None: nowhere), and whether it is waived."""

    rule: str
    span: Span | None
    waived: bool = False


Outcome = Mapping[Where, frozenset[int]]
"""What a run found, with the weekdays of the plan's start, 0 for Monday, on which it finds it."""


@define(eq=False)
class Numbers:
    """The numbers of a composed text that come from blanks, each with what it comes from.

    Of a number that nobody reads through this the value itself is written down at the end: it may have been
    read as a text.
    """

    composed: Composed
    blanks: Mapping[str, Fraction]
    read: dict[int, Fraction] = field(factory=dict)

    def __call__(self, at: int, text: str) -> Fraction:
        """The number whose digits begin at an offset."""
        plain = Fraction(text)
        if at not in self.composed.symbols:
            return plain
        if at not in self.read:
            number = value(self.composed.symbols[at], self.blanks)
            if isinstance(number, Traced) and number.exact != plain:  # cut down, and said so
                number.write_down("cut down")
                number = plain
            self.read[at] = number if isinstance(number, Traced) else plain
        return self.read[at]

    def close(self, texts: list[Traced]) -> None:
        """Writes down each number of which something saw the text, and that no one read as a number."""
        seen = Counter(_key(number) for number in texts)
        seen.subtract(_key(number) for number in self.read.values() if isinstance(number, Traced))
        for number in texts:
            if seen[_key(number)] > 0:
                seen[_key(number)] -= 1
                number.write_down("text")


def _key(number: Traced) -> object:
    return tuple(sorted(number.top.items()))


@frozen
class Template:
    """A template that is checked for all that may be filled in. `days`: whether it may begin on any day of a week."""

    source: Source
    book: Rulebook
    files: Files | None = None
    contacts: Mapping[str, str] | None = None
    days: bool = True
    texts: Mapping[str, str] = field(factory=dict)

    def composed(self, fills: Mapping[str, Fraction]) -> Composed:
        """The plan for a filling."""
        return instance(self.source, self.files, {**self.texts, **fills}, FIRST_DAY if self.days else None)

    def run(self, trace: Trace) -> Outcome:
        """Reads, reckons and judges the plan for the filling of a trace, for each day on which it may begin.

        Where something can't be done with traced numbers, it is done with plain ones, and holds for these only.
        """
        try:
            return self._run(trace, {axis.name: blank_value(trace, index) for index, axis in enumerate(trace.axes)})
        except (TypeError, ValueError, AttributeError, ArithmeticError):
            trace.texts = None
            for index in range(len(trace.axes)):
                blank_value(trace, index).write_down("not followed")
            return self._run(trace, {axis.name: axis.at(k) for axis, k in zip(trace.axes, trace.at, strict=True)})

    def _run(self, trace: Trace, blanks: Mapping[str, Fraction]) -> Outcome:
        trace.texts = []
        composed = self.composed(blanks)
        texts, trace.texts = trace.texts, None
        numbers = Numbers(composed, blanks)
        plan, found = read_plan(composed, self.book.catalogue, numbers)
        numbers.close(texts)
        findings = (*composed.findings, *found)
        if plan is None or plan.starts is None:
            same = findings if plan is None else self._judged(plan, findings)
            return _outcome(composed, [(day, same) for day in self.starts])
        return _outcome(composed, [(day, self._judged(self.begun(plan, day), findings)) for day in self.starts])

    @property
    def starts(self) -> range:
        """The days on which a plan from the template may begin, as days after the first one."""
        return WEEK if self.days else range(1)

    def begun(self, plan: Plan, day: int) -> Plan:
        """The plan, begun so many days later."""
        if not day or plan.starts is None:
            return plan
        return evolve(plan, starts=plan.starts + timedelta(days=day))

    def _judged(self, plan: Plan, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
        facts = Facts(plan, reckon(plan), None, None, self.contacts, told=False)
        return judge(self.book, facts, findings, kind="template")[0]


def _outcome(composed: Composed, by_day: list[tuple[int, tuple[Finding, ...]]]) -> Outcome:
    days: dict[Where, set[int]] = {}
    for day, findings in by_day:
        for finding in findings:
            days.setdefault(where(composed, finding), set()).add(day)
    return {one: frozenset(on) for one, on in days.items()}


def where(composed: Composed, finding: Finding) -> Where:
    """A finding without its words."""
    span = finding.span
    if span is not None and finding.source is composed:
        span = composed.shown(span)
    return Where(finding.rule, span, finding.waived is not None)
