"""The whole way of a text, for property tests: whatever it says, findings or a plan and never an exception."""

from __future__ import annotations

from planlang.calendar.making import Made, make
from planlang.checking.check import Checked, check
from planlang.checking.rulebook import built_in
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.planning.telling.standing import Contacts
from planlang.planning.week import Weeks
from planlang.syntax.nodes import Script, Unread
from planlang.syntax.read import read
from planlang.text.finding import Finding
from planlang.text.source import Source

CONTACTS = Contacts("112", "03 5550 0101", "03 5550 0100")


def reading(text: str) -> tuple[Plan | None, tuple[Finding, ...]]:
    """The plan of a text, its findings looked at; one that holds no plan says so."""
    source = Source("any.plan", text)
    plan, findings = read_plan(source)
    looked_at(findings, source)
    assert plan is not None or findings, "no plan, and nothing said about it"
    return plan, findings


def reckoning(text: str) -> Weeks | None:
    """Reading, then the weeks of what was read."""
    plan, _ = reading(text)
    if plan is None:
        return None
    weeks = reckon(plan)
    looked_at(weeks.findings, plan.source)
    if weeks.weeks:
        assert len(weeks.weeks) == plan.weeks
    return weeks


def checking(text: str) -> Checked:
    """The whole lint, and a calendar or what stands against one."""
    source = Source("any.plan", text)
    checked = check(source, built_in())
    looked_at(checked.findings, source)
    if checked.weeks is not None:
        made = make(checked.weeks, CONTACTS)
        if not isinstance(made, Made):
            assert made, "no calendar, and nothing said about it"
            looked_at(made, source)
    return checked


def looked_at(findings: tuple[Finding, ...], source: Source) -> None:
    """Every finding says something, at a place that is in the text, and its help can be shown."""
    for one in findings:
        assert one.message.strip(), one
        assert isinstance(one.advice, str), one
        file = one.source or source
        assert len(file.line_starts) == len(source.line_starts), one
        for span, there in ((one.span, file), *((r.span, r.source or file) for r in one.related)):
            if span is None:
                continue
            assert 0 <= span.start <= span.end <= len(there.text) + 1, (one, span)
            place = there.place(span)
            assert 1 <= place.line <= place.end_line <= len(there.line_starts), (one, place)


def every_line_is_there(text: str) -> Script:
    """The script of a text: each line stands in it once, as a statement or as unread with a finding."""
    script = read(Source("any.plan", text))
    starts = [line.span.start for line in script.lines]
    assert starts == sorted(set(starts))
    on = [script.source.line_of(start) for start in starts]
    assert len(on) == len(set(on)), "two statements of one line"
    assert len(script.findings) == sum(isinstance(line, Unread) for line in script.lines)
    return script
