"""A diary checked: its lines, its plan beside it, and the rules that are about what happened."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from planlang.checking.beside import Beside
from planlang.checking.diary_file import read_beside
from planlang.checking.engine import run
from planlang.checking.facts.registry import Facts
from planlang.checking.own import OWN
from planlang.checking.rulebook import Rulebook
from planlang.checking.waivers import waive
from planlang.model.composing.files import Files
from planlang.model.diary import Diary
from planlang.model.plan import Plan
from planlang.model.reading import read_diary
from planlang.planning.diary_days import past_faults
from planlang.planning.looking_back import can_look_back, past_of
from planlang.planning.past import Past
from planlang.planning.week import Weeks
from planlang.planning.weeks import DAY, Calendar
from planlang.text.data import frozen
from planlang.text.finding import Finding, unreckonable
from planlang.text.source import Source

KIND = "diary"


@frozen
class CheckedDiary:
    """A diary with the plan that it belongs to, what it says of its weeks, and everything found."""

    source: Source
    plan: Plan | None
    past: Past | None
    findings: tuple[Finding, ...]
    rules: tuple[str, ...] = ()
    not_judged: tuple[str, ...] = ()

    @property
    def weeks(self) -> Weeks | None:
        """The plan's weeks as they were, and as they are to come."""
        return self.past.weeks if self.past else None


def check_diary(
    source: Source,
    book: Rulebook,
    today: date | None = None,
    beside: Beside | None = None,
    contacts: Mapping[str, str] | None = None,
    files: Files | None = None,
) -> CheckedDiary:
    """Reads a diary, finds its plan beside it, looks back, judges, waives. Never raises for what was written.

    `today`: the day to look back from; unsaid, the diary's last. `files` opens the tables of steps that it names.
    """
    diary, findings = read_diary(source, book.catalogue)
    if diary is None:
        return CheckedDiary(source, None, None, findings)
    plan = plan_for(diary, beside.plans(diary.code, book.catalogue) if beside else ())
    if plan is None:
        return CheckedDiary(source, None, None, (*findings, _no_plan(diary)))
    read, findings = read_beside(source, plan, files, today)
    if read is None or not can_look_back(plan):
        return CheckedDiary(source, plan, None, findings)
    past = past_of(plan, read, today)
    found, unjudged = judge_past(past, book, beside, contacts, (*findings, *past_faults(past)))
    return CheckedDiary(source, plan, past, found, tuple(r.name for r in book.in_force()), unjudged)


def judge_past(
    past: Past,
    book: Rulebook,
    beside: Beside | None = None,
    contacts: Mapping[str, str] | None = None,
    findings: tuple[Finding, ...] = (),
) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """What the rules about diaries find, waived by the plan's own lines; and those that can't be judged."""
    facts = Facts(past.plan, past.weeks, past.as_of, beside, contacts, past=past)
    flagged, unjudged = run(book, facts, KIND)
    if past.diary.unread:
        # a line that can't be read may be what a rule asks for; what was found stands all the same
        said = {one.rule.name for one in flagged}
        unjudged = [*unjudged, *(r.name for r in book.in_force() if r.applies.files == (KIND,) and r.name not in said)]
    found = [*findings, *(one.finding for one in flagged)]
    never = frozenset(id(one.finding) for one in flagged if one.case.never_waived)
    waived = waive(past.plan, found, book, past.as_of, frozenset(), never)
    own = tuple(one for one in waived if not (one.rule in OWN and one.source is past.plan.source))
    return own, tuple(dict.fromkeys(unjudged))


def plan_for(diary: Diary, plans: tuple[Plan, ...]) -> Plan | None:
    """The plan of the diary's code that covers its days; of several the latest of those that cover its last one."""
    own = [plan for plan in plans if plan.code == diary.code and plan.starts is not None and plan.weeks]
    if not own:
        return None
    last = diary.last
    covering = [p for p in own if last is not None and p.starts and p.starts <= last <= _end(p)]
    before = [p for p in own if last is not None and p.starts and p.starts <= last]
    candidates = covering or before or own
    return max(candidates, key=lambda p: (p.starts or date.min, p.revision or 0))


def _end(plan: Plan) -> date:
    calendar = Calendar(plan)
    return calendar.start_of(calendar.length + 1) - DAY


def _no_plan(diary: Diary) -> Finding:
    message = f"There is no plan for {diary.code} beside this diary, so its lines can't be looked at."
    help = "Keep a person's plan and diary in one folder; the plan says whose it is: for P-014"
    return unreckonable(message, diary.span, diary.source, help)
