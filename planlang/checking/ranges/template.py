"""A template checked for everybody to whom it may be given: every rule for every value of every blank."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from attrs import evolve, field

from planlang.checking.check import Checked, in_place, judge
from planlang.checking.facts.registry import Facts
from planlang.checking.own import OWN
from planlang.checking.private import private
from planlang.checking.ranges.cover import Cover, cover
from planlang.checking.ranges.grid import Box, corner, volume
from planlang.checking.ranges.run import Outcome, Template, Where, where
from planlang.checking.ranges.together import is_every, merged
from planlang.checking.ranges.trace import Axis
from planlang.checking.ranges.words import Words, days, how
from planlang.checking.rulebook import Rulebook
from planlang.model.composing.blanks import BlankLine
from planlang.model.composing.composed import Composed
from planlang.model.composing.files import Files
from planlang.model.composing.instance import blanks_of, instance
from planlang.model.composing.placed import placed
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.planning.week import Weeks
from planlang.text.data import define, frozen
from planlang.text.finding import Finding, Level, Related
from planlang.text.source import Source

MOST_NAMED = 3
"""Of more blanks not every one's value is named."""
MOST_RUNS = 1000
"""Runs of the whole check that a template may take before the rest is searched."""
TRIES = 100
"""Fillings that are tried of what is left then."""


_DATE = re.compile(r"\b[12]\d{3}-\d{2}-\d{2}\b")


@frozen
class Ranged:
    """A finding with the fillings for which it holds.

    `boxes`: over each of them it holds for certain, beginning on any of `starts` (0 for Monday). `everywhere`: for all
    that may be filled in, whenever it starts. `proved`: these are all fillings for which it holds.
    """

    where: Where
    finding: Finding
    boxes: tuple[Box, ...]
    starts: frozenset[int]
    everywhere: bool
    proved: bool


@frozen
class CheckedTemplate(Checked):
    """A template with everything found. `ranged`: its findings with their ranges; `cover`: how these were gone through.

    `blanks`: those that were gone through, in the order of the boxes' parts. `plan` and `weeks` are those of the
    smallest of all that may be filled in.
    """

    blanks: tuple[BlankLine, ...] = ()
    ranged: tuple[Ranged, ...] = ()
    cover: Cover[Outcome] | None = None


def check_template(
    source: Source,
    book: Rulebook,
    files: Files | None = None,
    contacts: Mapping[str, str] | None = None,
    most: int = MOST_RUNS,
    tries: int = TRIES,
) -> CheckedTemplate:
    """Runs the whole check often enough to know what it finds for every value of every blank, and says for which.

    `most`: runs after which what is left is searched, with `tries` fillings more. Never raises for what was written.
    """
    declared = blanks_of(source)
    blanks = tuple(blank for blank in declared if not blank.text)
    axes = tuple(_axis(blank) for blank in blanks)
    texts = {blank.name: blank.name for blank in declared if blank.text}
    template = Template(source, book, files, contacts, _any_day(source, files), texts)
    found = cover(axes, template.run, most, tries)
    checking = _Checking(template, blanks, Words(blanks, axes), found)
    ranged = checking.ranged()
    first = checking.lowest
    findings = [*(one.finding for one in ranged), *checking.searched()]
    findings += private(source, book, contacts or {}, first.plan, first.source)
    rules = tuple(rule.name for rule in book.in_force()) if first.plan is not None else ()
    return CheckedTemplate(
        first.source,
        first.plan,
        first.weeks,
        in_place(findings, first.source),
        rules,
        tuple(sorted(frozenset(rules) & first.unjudged)),
        blanks,
        ranged,
        found,
    )


def _axis(blank: BlankLine) -> Axis:
    return Axis(blank.name, blank.low, blank.grain, int((blank.high - blank.low) / blank.grain) + 1)


def _any_day(source: Source, files: Files | None) -> bool:
    """Whether the template leaves it to the plan when to start."""
    lows: dict[str, Fraction | str] = {b.name: b.name if b.text else b.low for b in blanks_of(source)}
    plan, _ = read_plan(instance(source, files, lows))
    return plan is None or not {"starts", "starts_after"} & plan.places.keys()


@frozen
class Told:
    """One filling checked in full, with words."""

    source: Composed
    plan: Plan | None
    weeks: Weeks | None
    findings: tuple[Finding, ...]
    unjudged: frozenset[str] = frozenset()


@define(eq=False)
class _Checking:
    template: Template
    blanks: tuple[BlankLine, ...]
    words: Words
    cover: Cover[Outcome]
    told: dict[tuple[tuple[int, ...], int], Told] = field(factory=dict)

    @property
    def lowest(self) -> Told:
        """The smallest of all fillings, begun on the first day."""
        return self.at(tuple(0 for _ in self.blanks), 0)

    def at(self, point: tuple[int, ...], day: int) -> Told:
        """A filling checked in full; kept, since many findings have one smallest person."""
        key = point, day
        if key not in self.told:
            self.told[key] = self._check(point, day)
        return self.told[key]

    def _check(self, point: tuple[int, ...], day: int) -> Told:
        template = self.template
        fills = {axis.name: axis.at(k) for axis, k in zip(self.cover.axes, point, strict=True)}
        composed = template.composed(fills)
        plan, found = read_plan(composed, template.book.catalogue)
        findings = (*composed.findings, *found)
        if plan is None:
            return Told(composed, None, None, findings)
        plan = template.begun(plan, day)
        weeks = reckon(plan)
        facts = Facts(plan, weeks, None, None, template.contacts)
        judged, unjudged = judge(template.book, facts, findings, kind="template")
        return Told(composed, plan, weeks, judged, frozenset(unjudged))

    def ranged(self) -> tuple[Ranged, ...]:
        """Each finding once, with its ranges."""
        found: dict[Where, list[tuple[Box, frozenset[int]]]] = {}
        for cell in self.cover.cells:
            for one, on in cell.outcome.items():
                found.setdefault(one, []).append((cell.box, on))
        return tuple(self._ranged(one, cells) for one, cells in found.items())

    def _ranged(self, one: Where, cells: list[tuple[Box, frozenset[int]]]) -> Ranged:
        point, day = min((corner(box), min(on)) for box, on in cells)
        told = self.at(point, day)
        finding = next((f for f in told.findings if where(told.source, f) == one), None)
        finding = self._at_home(finding, told.source) if finding else self._without_words(one)
        starts = frozenset(day for _, on in cells for day in on)
        boxes = merged(box for box, _ in cells)
        all_days = all(len(on) == len(self.template.starts) for _, on in cells)
        so_far = sum(volume(box) for box, _ in cells) == sum(volume(each.box) for each in self.cover.cells)
        everywhere = so_far and all_days and self.cover.proved
        if everywhere:
            finding = self._with_point(finding, point, one)
        else:
            finding = self._narrowed(finding, boxes, starts, all_days, so_far, point)
        return Ranged(one, finding, boxes, starts, everywhere, self.cover.proved)

    def _without_words(self, one: Where) -> Finding:
        """What is found, where the check of the smallest person words it as something else: never left out."""
        rule, own, book = self.template.book.rule(one.rule), OWN.get(one.rule), self.template.book
        level = book.level(rule) if rule else own.level if own else Level.UNSAFE
        return Finding(
            one.rule,
            level,
            "This is found here; a plan made from the template shows it.",
            one.span,
            self.template.source,
        )

    def _at_home(self, finding: Finding, source: Composed) -> Finding:
        """The finding with its place in the template's own file; where it truly comes from stands beside it."""
        if finding.source is not source:
            return finding
        made = placed((finding,), source)[0]
        if self.template.days and _DATE.search(made.message):
            made = evolve(made, message=f"{made.message} (Dates are those of a plan that starts in that week.)")
        return evolve(made, span=None if made.span is None else source.shown(made.span), source=self.template.source)

    def _with_point(self, finding: Finding, point: tuple[int, ...], one: Where) -> Finding:
        """A finding for everybody; whose numbers it names is said where another's are others."""
        last = self.at(tuple(axis.count - 1 for axis in self.cover.axes), 0)
        same = any(f.message == finding.message for f in last.findings if where(last.source, f) == one)
        if same or not self.blanks:
            return finding
        whom = self.words.point(point) if len(self.blanks) <= MOST_NAMED else "the lowest values that may be filled in"
        return evolve(finding, message=f"{finding.message} (Said for {whom}; so it is for everybody.)")

    def _narrowed(
        self,
        finding: Finding,
        boxes: tuple[Box, ...],
        starts: frozenset[int],
        all_days: bool,
        so_far: bool,
        point: tuple[int, ...],
    ) -> Finding:
        """A finding for some: for whom, in the smallest one's words, what passes, and how that is known."""
        narrow = [i for i, axis in enumerate(self.cover.axes) if any(not is_every(box[i], axis.count) for box in boxes)]
        for_whom = self.words.boxes(boxes) if narrow else ""
        if so_far:
            for_whom, narrow = "", []
        on = "" if all_days else days(starts)
        before = " ".join(part for part in (for_whom, on) if part)
        said = f" (Said for {self.words.point(point)}.)" if len(narrow) > 1 else ""
        message = f"{before}: {finding.message}{said}" if before else finding.message
        tail = [self.words.passing([*boxes, *self.cover.left], self.cover.proved)] if narrow and all_days else []
        tail.append(how(self.cover))
        related = tuple(
            Related(f"{blank.range} may be filled in here", blank.span, self.template.source)
            for index, blank in enumerate(self.blanks)
            if index in narrow
        )
        advice = finding.advice
        help = " ".join([advice, *tail] if advice else tail)
        return evolve(
            finding,
            message=message[:1].upper() + message[1:] if not narrow else message,
            help=help,
            related=(*finding.related, *related),
        )

    def searched(self) -> tuple[Finding, ...]:
        """Says that not every filling is spoken for, where that is so."""
        if self.cover.proved:
            return ()
        own = OWN["range-searched"]
        blank = max(self.blanks, key=lambda one: (one.high - one.low) / one.grain)
        return (
            Finding(
                own.name,
                own.level,
                f"{self.cover.fillings} fillings are too many to go through. {how(self.cover)}",
                blank.span,
                self.template.source,
                "Give a blank a narrower range or a coarser step (by 100), or take one out of a text in quotes.",
            ),
        )
