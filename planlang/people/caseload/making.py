"""From plans and diaries to one line a person."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta

from planlang.checking.diary_check import judge_past, plan_for
from planlang.checking.rulebook import Rulebook
from planlang.model.diary import Diary, What
from planlang.model.plan import Plan
from planlang.people.caseload.data import Person, Reason, Why
from planlang.planning.leeway.data import Verdict
from planlang.planning.leeway.standing_at import origin_at, origin_of
from planlang.planning.leeway.verdicts import Verdicts
from planlang.planning.looking_back import can_look_back, past_of
from planlang.planning.past import Past
from planlang.planning.review.news import last_told
from planlang.planning.weeks import DAY, Calendar, review_days
from planlang.text.data import frozen
from planlang.text.finding import Finding

SCREENED = timedelta(days=365)
SEEN_BEFORE = 3
"""Days before a review on which what a staff member wrote counts as the review."""

OF_RULES: Mapping[str, Why] = {
    "red-flag-not-acted-on": Why.OPEN_FLAG,
    "flare-not-easing": Why.FLARE,
    "fall-or-giving-way": Why.FALL,
    "over-the-limit-twice": Why.OVER_THE_LIMIT,
    "no-news": Why.NO_NEWS,
}
"""The rules about diaries whose findings put somebody on the list; a clinic that turns one off takes the reason off."""


@frozen
class Kept:
    """What is kept of one person: their plans, their diary (several put together), the files that can't be read."""

    code: str
    plans: tuple[Plan, ...] = ()
    diary: Diary | None = None
    unread: tuple[str, ...] = ()
    files: tuple[str, ...] = ()


def person(kept: Kept, book: Rulebook, as_of: date | None) -> Person:
    """One person's line, looked back from `as_of`, else from the last day of their diary."""
    reasons = [
        Reason(Why.CANNOT_BE_READ, f"{name} can't be read in full: planlang lint says where") for name in kept.unread
    ]
    diary = kept.diary or _no_diary(kept)
    day = as_of or (kept.diary.last if kept.diary else None)
    if diary is None:
        return Person(kept.code, tuple(reasons), files=kept.files)
    plan = _running(kept.plans, day) or plan_for(diary, kept.plans)
    if plan is None:
        reasons.append(Reason(Why.CANNOT_BE_READ, "no plan that can be read lies beside the diary"))
        return Person(kept.code, tuple(reasons), diary.last, files=kept.files)
    reasons += _two_plans(kept.plans, day)
    if not can_look_back(plan):
        reasons.append(Reason(Why.CANNOT_BE_READ, "the plan can't be reckoned: planlang lint says why"))
        return Person(kept.code, _sorted(reasons), diary.last, files=kept.files)
    past = past_of(plan, diary, day or plan.starts)
    found, _ = judge_past(past, book)
    reasons += _of_findings(past, found, kept.diary is not None)
    reasons += _past_its_dates(past, kept)
    reasons += _targets(past, kept.diary is not None)
    return Person(kept.code, _sorted(reasons), last_told(past), next_date(past), kept.files)


def _sorted(reasons: Iterable[Reason]) -> tuple[Reason, ...]:
    return tuple(sorted(reasons, key=lambda r: (r.why, r.day or date.max, r.text)))


def _no_diary(kept: Kept) -> Diary | None:
    """A diary of nothing, so that a plan without one is looked at by its dates."""
    if not kept.plans:
        return None
    plan = kept.plans[0]
    return Diary(kept.code, plan.source, span=plan.span, catalogue=plan.catalogue)


def _running(plans: Iterable[Plan], day: date | None) -> Plan | None:
    """The plan that runs on a day, the one that began last where several do."""
    running = [plan for plan in plans if day is not None and _runs(plan, day)]
    return max(running, key=lambda p: (p.starts or date.min, p.revision or 0), default=None)


def _runs(plan: Plan, day: date) -> bool:
    return bool(plan.starts and plan.weeks and not plan.draft and plan.starts <= day <= _end(plan))


def _end(plan: Plan) -> date:
    calendar = Calendar(plan)
    return calendar.start_of(calendar.length + 1) - DAY


def _two_plans(plans: tuple[Plan, ...], day: date | None) -> Iterator[Reason]:
    running = [plan for plan in plans if day is not None and _runs(plan, day)]
    titles = {(plan.title, plan.revision) for plan in running}
    if len(titles) > 1:
        yield Reason(Why.TWO_PLANS, f"{len(titles)} plans run at once: which one holds?")


def _of_findings(past: Past, found: Iterable[Finding], told: bool) -> Iterator[Reason]:
    """The reasons that the rules give; what is said alike of several exercises is one reason."""
    alike: dict[tuple[Why, str], tuple[list[str], date | None]] = {}
    for finding in found:
        why = OF_RULES.get(finding.rule)
        if why is None or finding.waived is not None or (why is Why.NO_NEWS and not told and not _asked(past.plan)):
            continue
        name, mark, rest = finding.message.rstrip(".").partition(": ")
        key = (why, rest if mark and why is Why.OVER_THE_LIMIT else finding.message.rstrip("."))
        names, day = alike.setdefault(key, ([], _day(past, finding)))
        if why is Why.OVER_THE_LIMIT:
            names.append(name)
    for (why, said), (names, day) in alike.items():
        yield Reason(why, f"{', '.join(names)}: {said}" if names else said, day)


def _asked(plan: Plan) -> bool:
    """Whether the person agreed to keep a diary, so that nothing told means something."""
    return bool(plan.agreed and plan.agreed.diary == "yes")


def _day(past: Past, finding: Finding) -> date | None:
    return next((e.day for e in past.diary.entries if e.span == finding.span), None)


def _past_its_dates(past: Past, kept: Kept) -> Iterator[Reason]:
    plan, day = past.plan, past.as_of
    end = _end(plan)
    if day > end:
        yield Reason(Why.PAST_ITS_DATES, f"the plan ended on {end}, and no block follows it", end)
    due = [d for d in review_days(plan) if d <= day]
    if due and kept.diary is not None and not _seen(past, due[-1]) and day > due[-1] + SEEN_BEFORE * DAY:
        yield Reason(Why.PAST_ITS_DATES, f"the review of {due[-1]} has nothing written of it", due[-1])
    screening = plan.screening
    until = (screening.good_until or screening.day + SCREENED) if screening else None
    if until is not None and until < day:
        yield Reason(Why.PAST_ITS_DATES, f"the screening was good until {until}", until)


def _seen(past: Past, review: date) -> bool:
    """Whether a measure, confidence or a line of the staff's was written at a review or since."""
    since = review - SEEN_BEFORE * DAY
    return any(
        e.day >= since and (e.what in (What.MEASURED, What.CONFIDENCE) or (e.by or "").startswith("T-"))
        for e in past.diary.entries
        if e.day <= past.as_of
    )


def _targets(past: Past, told: bool) -> Iterator[Reason]:
    """Targets still to come that are not reached wherever the rest falls; without a diary all went as planned."""
    origin = origin_of(past) if told else origin_at(past.plan, past.week, ())
    known = Verdicts(past.plan, origin)
    for one in map(known.of, past.plan.targets):
        if one.by is None or one.by < past.as_of or one.verdict in (Verdict.ALWAYS, Verdict.OPEN):
            continue
        if one.verdict is Verdict.NEVER:
            yield Reason(Why.TARGET_NOT_ALWAYS, f'"{one.target.title}" needs a new date, or an earlier step', one.by)
        else:
            yield Reason(Why.TARGET_NOT_ALWAYS, f'"{one.target.title}" hangs on where the easier weeks fall', one.by)


def next_date(past: Past) -> date | None:
    """The next review after the day, else the day after the plan's last where that is to come."""
    ahead = [d for d in review_days(past.plan) if d > past.as_of]
    if ahead:
        return ahead[0]
    following = _end(past.plan) + DAY
    return following if following > past.as_of else None
