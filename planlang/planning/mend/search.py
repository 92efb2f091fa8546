"""All proposals for a plan: targets first, then findings with a number."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from planlang.model.plan import Plan
from planlang.planning.leeway.data import Verdict
from planlang.planning.leeway.verdicts import verdict
from planlang.planning.mend.numbers import has_number, knobs, smallest
from planlang.planning.mend.proposal import Proposal, proposal
from planlang.planning.mend.proving import Lints, NoMoreProofs, Prove, block_line
from planlang.planning.mend.targets import candidates
from planlang.text.finding import Finding

TARGET_RULES = {
    Verdict.NEVER: "target-out-of-reach",
    Verdict.DEPENDS: "target-hangs-on-where-rest-falls",
}


def proposals(plan: Plan, findings: Iterable[Finding], prove: Prove, harder: bool = False) -> tuple[Proposal, ...]:
    """The proposals, those that ask more of the person last.

    `findings`: the whole lint of the plan as it is; `prove`: the whole lint of a changed text. At most
    200 lints are taken; what they don't reach is left out.
    """
    lints = Lints(plan, tuple(findings), prove)
    found: list[Proposal] = []
    try:
        for one in chain(_of_targets(plan, lints, harder), _of_findings(plan, lints, harder)):
            if all(one.edits != other.edits for other in found):
                found.append(one)
    except NoMoreProofs:
        pass
    return tuple(sorted(found, key=lambda one: one.harder))


def _of_targets(plan: Plan, lints: Lints, harder: bool) -> Iterator[Proposal]:
    for place, target in enumerate(plan.targets):
        word = verdict(plan, target).verdict
        if word not in TARGET_RULES:
            continue
        rule = TARGET_RULES[word]
        flagged = [f for f in lints.findings if f.rule == rule and f.span and _in_block(plan, f, target.span.start)]
        for candidate in candidates(plan, place, harder):
            gone = all(lints.gone(candidate.edits, finding) for finding in flagged)
            accepted = not candidate.harder or lints.accepts(candidate.edits)
            if gone and accepted and lints.brings_nothing_new(candidate.edits):
                yield proposal(
                    plan.source,
                    candidate.kind,
                    candidate.edits,
                    candidate.harder,
                    target.title,
                    rule if flagged else None,
                )


def _in_block(plan: Plan, finding: Finding, offset: int) -> bool:
    assert finding.span is not None
    return block_line(plan.source, finding.span.start) == block_line(plan.source, offset)


def _of_findings(plan: Plan, lints: Lints, harder: bool) -> Iterator[Proposal]:
    for finding in lints.findings:
        if finding.rule in TARGET_RULES.values() or not has_number(finding):
            continue
        for knob in knobs(plan, finding):
            if knob.harder and not harder:
                continue
            edits = smallest(lints, knob, finding)
            if edits is not None and (not knob.harder or lints.accepts(edits)):
                yield proposal(plan.source, knob.kind, edits, knob.harder, rule=finding.rule)
