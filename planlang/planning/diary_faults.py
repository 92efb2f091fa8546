"""Lines of a diary that do not go with the plan: names it doesn't have, days it doesn't hold, two things at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from planlang.model.catalogue import muscles, signs
from planlang.model.diary import SESSIONS, Diary, Entry, What
from planlang.model.joints import rests
from planlang.model.plan import Plan
from planlang.planning.diary_days import day_faults
from planlang.text.finding import Finding, Level, Related, unreckonable
from planlang.text.meant import did_you_mean, listed
from planlang.text.source import Span


def diary_faults(plan: Plan, diary: Diary, today: date | None = None) -> tuple[Finding, ...]:
    """What is wrong with a diary beside its plan, by place. `today`: the caller's, for what lies ahead of it."""
    found = [*_names(plan, diary), *_joints(plan, diary), *day_faults(plan, diary, today)]
    return tuple(sorted(found, key=lambda f: (f.span or Span(0, 0), f.message)))


def _fault(diary: Diary, entry: Entry, message: str, help: str) -> Finding:
    return unreckonable(message, entry.span, diary.source, help)


def _names(plan: Plan, diary: Diary) -> Iterator[Finding]:
    sessions = [s.name for s in plan.sessions]
    exercises = [e.name for e in plan.exercises]
    habits = [t.keep for t in plan.targets if t.keep]
    once = [t.do for t in plan.targets if t.do] + [p.text for p in plan.prepares]
    for entry in diary.entries:
        if entry.what in SESSIONS:
            yield from _no_such(diary, entry, "session", entry.name, sessions)
            yield from _not_in_it(plan, diary, entry)
        elif entry.what is What.EXTRA and entry.name not in (*sessions, *exercises):
            yield from _no_such(diary, entry, "session or exercise", entry.name, (*sessions, *exercises))
        elif entry.what is What.DID_EXERCISE:
            yield from _no_such(diary, entry, "exercise", entry.name, exercises)
        elif entry.what is What.KEPT:
            yield from _no_such(diary, entry, "habit among the targets", entry.text, habits)
        elif entry.what is What.DID:
            yield from _no_such(diary, entry, "one-off among the targets and tasks", entry.text, once)
        elif entry.what is What.SIGN:
            yield from _no_such(diary, entry, "sign", entry.name, tuple(signs()))
        elif entry.what is What.MEASURED:
            yield from _measured(plan, diary, entry)


def _measured(plan: Plan, diary: Diary, entry: Entry) -> Iterator[Finding]:
    """A measure that isn't known, or whose unit is another one than the plan's, or than its own."""
    name, value = entry.name or "", entry.value
    known, baseline = plan.catalogue.measure(name), plan.today.measure(name)
    if known is None and baseline is None:
        help = did_you_mean(name, plan.catalogue.measures) or "Nothing is reckoned with it."
        message = f'"{name}" is no measure that is known.'
        yield Finding("unknown-word", Level.ADVICE, message, entry.span, diary.source, help)
    elif value is not None and baseline is not None:
        wanted = baseline.value
        plain = "" in (wanted.unit, value.unit) and None in (baseline.rating_of, entry.scale)
        if (wanted.dimension != value.dimension and not plain) or baseline.rating_of != entry.scale:
            message = f'"{name}" is in another unit in the plan, so the two can\'t be compared.'
            related = (Related("the plan's is here", baseline.span, plan.source),)
            help = "Write it in the unit of the plan."
            yield Finding("unreckonable", Level.INCOMPLETE, message, entry.span, diary.source, help, related)


def _joints(plan: Plan, diary: Diary) -> Iterator[Finding]:
    """Joints that nothing knows, and rest for one that nothing in the plan loads."""
    known = {j for c in plan.catalogue.conditions.values() for j in c.joints} | {
        joint for m in muscles().values() for joint in m.joints
    }
    known |= {joint.name for e in plan.exercises for joint in e.joints}
    for entry in diary.of(What.REST, What.FLARE):
        if entry.joint is None:
            continue
        name = entry.joint.name
        if name not in known:
            message = f'"{name}" is no joint that is known.'
            help = did_you_mean(name, known) or "Write a joint as the plan does: knee, hip, hand."
            yield Finding("unknown-word", Level.ADVICE, message, entry.span, diary.source, help)
        elif entry.what is What.REST and not any(rests(e, name, entry.joint.side) for e in plan.exercises):
            message = f"Nothing in this plan is known to load the {name}, so nothing rests here."
            help = "Say it in the exercises that do: `joints hand, left`; or write `rest` for the whole week."
            yield _fault(diary, entry, message, help)


def _no_such(diary: Diary, entry: Entry, what: str, name: str | None, known: Iterable[str]) -> Iterator[Finding]:
    names = list(known)
    if name is not None and name not in names:
        some = f"The plan has {listed(names[:4])}." if names else f"The plan has no {what}."
        help = did_you_mean(name, names) or some
        yield _fault(diary, entry, f'The plan has no {what} "{name}"; the line counts nowhere.', help)


def _not_in_it(plan: Plan, diary: Diary, entry: Entry) -> Iterator[Finding]:
    session = plan.session(entry.name or "")
    for name in entry.names if session else ():
        if session is not None and name not in session.do:
            help = did_you_mean(name, session.do) or f"It holds {listed(list(session.do))}."
            yield _fault(diary, entry, f'`{name}` is not part of the session "{session.name}".', help)
