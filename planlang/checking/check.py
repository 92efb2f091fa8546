"""The whole way from a text to its findings, in one function."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import TYPE_CHECKING

from planlang.checking.beside import Beside
from planlang.checking.engine import Flagged, run
from planlang.checking.facts.registry import Facts
from planlang.checking.private import private
from planlang.checking.rulebook import Rulebook
from planlang.checking.standing import Keeping, standing
from planlang.checking.waivers import waive
from planlang.model.composing.compose import compose
from planlang.model.composing.placed import in_order, placed
from planlang.model.plan import Plan
from planlang.model.reading import kind_of, read_plan
from planlang.planning.reckon import reckon
from planlang.planning.week import Weeks
from planlang.text.data import frozen
from planlang.text.finding import ORDER, Finding, Level
from planlang.text.source import Source

if TYPE_CHECKING:
    from planlang.model.composing.files import Files


@frozen
class Checked:
    """A text with its plan, its weeks and everything found, sorted by place.

    `rules`: names of the rules that ran, none where there is no plan; `not_judged`: those that an unreadable
    line kept from being judged.
    """

    source: Source
    plan: Plan | None
    weeks: Weeks | None
    findings: tuple[Finding, ...]
    rules: tuple[str, ...] = ()
    not_judged: tuple[str, ...] = ()


def check(
    source: Source,
    book: Rulebook,
    today: date | None = None,
    keeping: Keeping | None = None,
    kind: str = "plan",
    beside: Beside | None = None,
    contacts: Mapping[str, str] | None = None,
    files: Files | None = None,
) -> Checked:
    """Puts together, reads, reckons, judges, waives, sorts. Never raises for what was written.

    `today` is the caller's or None.
    `beside`: where the block before this one and other plans of the person are found; None: nowhere.
    `contacts`: those of the clinic's file, empty where there is none; None: nobody asks.
    `files`: opens the template and libraries that the plan names; None: nothing is opened.
    """
    own = source
    match kind_of(source):
        case "library":
            return _library(source, book)
        case "diary":
            return _diary(source, book, today, beside, contacts, files)
        case "template":
            from planlang.checking.ranges.template import check_template

            return check_template(source, book, files, contacts)
    source, put_together = compose(source, files)
    plan, findings = read_plan(source, book.catalogue)
    findings = (*put_together, *findings)
    if source is not own:
        findings += private(own, book, contacts or {}, plan, source)
    if plan is None:
        return Checked(source, None, None, in_place(findings, source))
    weeks = reckon(plan)
    facts = Facts(plan, weeks, today, beside, contacts)
    if plan.continues:
        from planlang.checking.continued import continued  # most plans continue none

        findings = (*findings, *continued(facts))
    found, unjudged = judge(book, facts, findings, keeping, kind)
    rules = tuple(rule.name for rule in book.in_force())
    return Checked(source, plan, weeks, in_place(found, source), rules, unjudged)


def judge(
    book: Rulebook, facts: Facts, findings: Iterable[Finding], keeping: Keeping | None = None, kind: str = "plan"
) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """What is found of a plan that is read and reckoned, waivers applied, and the rules that weren't judged.

    `findings`: those of reading it.
    """
    plan, weeks, today = facts.plan, facts.weeks, facts.today
    flagged, unjudged = run(book, facts, kind)
    found = [*findings, *(weeks.findings if weeks else ()), *standing(plan, today, keeping)]
    found += [one.finding for one in flagged]
    judged = frozenset(rule.name for rule in book.in_force() if kind in rule.applies.files) - frozenset(unjudged)
    waived = waive(plan, _each_once(found), book, today, judged, _never_waived(flagged))
    return waived, tuple(unjudged)


def _diary(
    source: Source,
    book: Rulebook,
    today: date | None,
    beside: Beside | None,
    contacts: Mapping[str, str] | None,
    files: Files | None,
) -> Checked:
    from planlang.checking.diary_check import check_diary

    made = check_diary(source, book, today, beside, contacts, files)
    return Checked(source, made.plan, made.weeks, in_place(made.findings, source), made.rules, made.not_judged)


def _library(source: Source, book: Rulebook) -> Checked:
    from planlang.checking.library import library_findings

    plan, findings, rules = library_findings(source, book)
    return Checked(source, plan, None, in_place(findings, source), rules)


def _each_once(found: list[Finding]) -> list[Finding]:
    kept: dict[tuple[object, ...], Finding] = {}
    for one in found:
        kept.setdefault((one.rule, one.span, one.message), one)
    return list(kept.values())


def _never_waived(flagged: list[Flagged]) -> frozenset[int]:
    return frozenset(id(one.finding) for one in flagged if one.case.never_waived)


def in_place(findings: Iterable[Finding], source: Source) -> tuple[Finding, ...]:
    """The findings by place in the plan's own file, each with the place that its text truly comes from."""

    def by_place(finding: Finding) -> tuple[int, int, int, str]:
        if finding.span is None:
            return -1, 0, 0, finding.rule
        span = in_order(source, finding.span) if finding.source is source else finding.span
        return span.start, span.end, ORDER[finding.level], finding.rule

    return tuple(sorted(placed(findings, source), key=by_place))


def blocks(checked: Checked, today: date | None = None) -> tuple[Finding, ...]:
    """The findings for which nothing may go to the person: unreadable, unwaived unsafe, draft, pause, contradiction.

    `today` is the caller's; with it, dates that have not come and doses that should have been set count too.
    """
    found = list(checked.findings)
    if checked.plan is not None and today is not None:
        found += [f for f in standing(checked.plan, today) if f not in found]
    return tuple(
        f for f in found if f.waived is None and (f.blocks or f.level is Level.UNSAFE or f.rule == "unreadable")
    )
