"""A plan and its diary from disk, made into a review under the rules of their clinic."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from planlang.cli.console import plan_at, with_findings
from planlang.cli.diary_option import diary_at
from planlang.cli.watched import watched

if TYPE_CHECKING:
    from planlang.model.plan import Plan
    from planlang.planning.past import Past
    from planlang.planning.review.data import Ran, Review
    from planlang.planning.review.next_block import Reached
    from planlang.report.result import Result
    from planlang.text.finding import Finding

LONG = 104
"""From so many weeks on a terminal sees how far it is."""


def reviewed(path: str, diary: str, today: date | None) -> tuple[Review | None, tuple[Result, ...]]:
    """The review, and what was found in the plan and in the diary; None where the two can't be reckoned.

    Raises UsageError where the diary is another person's, or the clinic's rules are wrong.
    """
    from planlang.planning.looking_back import can_look_back, past_of
    from planlang.planning.reckon import reckon
    from planlang.planning.review.making import review_of

    plan, own = plan_at(path)
    if plan is None:
        return None, (own,)
    own = with_findings(own, reckon(plan).findings)
    told, beside = diary_at(diary, plan, today, "DIARY")
    if told is None or not can_look_back(plan):
        return None, (own, beside)
    past = past_of(plan, told, today)
    judged, ran = _judged(path, past, beside.findings)
    drafted = _drafted(plan)
    with watched("reckoning", len(plan.targets), (plan.weeks or 0) > LONG) as one_done:
        review = review_of(past, judged, ran, drafted, one_done)
    from planlang.report.result import Result

    return review, (own, Result(beside.name, beside.source, judged, beside.person))


def _judged(path: str, past: Past, findings: tuple[Finding, ...]) -> tuple[tuple[Finding, ...], Ran]:
    """What the rules about diaries find beside what the reading has; and which of them ran."""
    from planlang.checking.beside import InFolder
    from planlang.checking.diary_check import KIND, judge_past
    from planlang.cli.refusing import clinic_of
    from planlang.planning.review.data import Ran

    book, clinic = clinic_of(path)
    root = clinic.root if clinic else Path(path).parent
    contacts = dict(clinic.contacts) if clinic else {}
    found, unjudged = judge_past(past, book, InFolder(Path(path), root), contacts, findings)
    rules = [rule.name for rule in book.in_force() if KIND in rule.applies.files]
    return found, Ran(len(rules), unjudged, tuple(sorted(book.off())))


def _drafted(plan: Plan) -> Callable[[Reached], str | None]:
    """Who writes the next block, tidy: of a plan that is put together from several files from the whole text of it."""
    from planlang.model.composing.composed import Composed
    from planlang.model.reading import read_plan
    from planlang.planning.review.next_block import next_block
    from planlang.syntax.tidy import tidy
    from planlang.text.source import Source

    source = plan.source

    def drafted(reached: Reached) -> str | None:
        whole = read_plan(source.alone, plan.catalogue)[0] if isinstance(source, Composed) else plan
        text = next_block(whole, reached) if whole is not None else None
        return tidy(Source("next.plan", text)).text if text is not None else None

    return drafted
