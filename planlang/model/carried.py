"""Which signs that stop the day a plan carries, without their being written."""

from __future__ import annotations

from datetime import date, timedelta

from planlang.model.catalogue import conditions as built_in
from planlang.model.catalogue import signs
from planlang.model.known import OTHER, Catalogue, as_written
from planlang.model.plan import Plan
from planlang.model.records import ConditionData, Sign


def carried(plan: Plan, on: date | None = None) -> tuple[Sign, ...]:
    """The signs of the plan's conditions, operations, medicine classes and bone state, the most urgent first.

    `on` (unsaid: the plan's start) decides which signs of an operation are still carried; an operation
    whose date or plan start isn't known carries its signs. What `leave out red-flag` names is gone where the
    sign may be removed and a reason and a name stand there.
    """
    day = on or plan.starts
    left_out = {s.name for s in plan.signs_left_out if s.because and s.by}
    return tuple(s for s in signs().values() if _concerns(s, plan, day) and not (s.removable and s.name in left_out))


def replaced_joint(plan: Plan) -> bool:
    """True where an operation or condition of the plan is a replacement."""
    return bool(_operations(plan))


def new_replacement(plan: Plan, day: date, weeks: int = 26) -> ConditionData | None:
    """The replacement that is younger than so many weeks on a day, or None. One without a date is taken for new."""
    for name, since in _operations(plan):
        if since is None or since <= day < since + timedelta(weeks=weeks):
            return plan.catalogue.conditions[name]
    return None


def _concerns(sign: Sign, plan: Plan, day: date | None) -> bool:
    whom = sign.carried_for
    if whom.everyone:
        return True
    known = plan.catalogue
    named = [known.condition(c.name) or known.other for c in plan.about]
    if not named and not plan.operations:
        named = [known.other]
    if any((whom.lower_limb and c.lower_limb) or _names(sign, whom.conditions, c) for c in named):
        return True
    screening = plan.screening
    if screening and (set(screening.takes) & set(whom.takes) or (screening.bones or "") in whom.bones):
        return True
    if whom.any_operation and any(_lately(one.day, day, whom.weeks) for one in plan.operations):
        return True
    return any(
        (whom.any_operation or _names(sign, whom.operations, known.conditions[name]))
        and _lately(since, day, whom.weeks)
        for name, since in _operations(plan)
    )


def _lately(since: date | None, day: date | None, weeks: int | None) -> bool:
    """Whether an operation is no longer ago than so many weeks; one without a date is."""
    return weeks is None or not day or not since or day < since + timedelta(weeks=weeks)


def _names(sign: Sign, named: tuple[str, ...], condition: ConditionData) -> bool:
    """Whether a sign names a condition, or the condition the sign.

    A clinic's own that names none carries those of other long-standing joint pain: too many rather than too few.
    """
    if condition.name in named or (condition.signs and sign.name in condition.signs):
        return True
    return condition.signs is None and condition.name not in built_in() and OTHER in named


def _operations(plan: Plan) -> list[tuple[str, date | None]]:
    """The replacements of a plan, each with its date; one that only `about` names has none."""
    found: list[tuple[str, date | None]] = []
    for operation in plan.operations:
        known = replaced(operation.text, plan.catalogue)
        if known:
            found.append((known.name, operation.day))
    dated = {name for name, _ in found}
    for about in plan.about:
        known = plan.catalogue.condition(about.name)
        if known and known.operation and known.name not in dated:
            found.append((known.name, None))
    return found


def replaced(text: str, catalogue: Catalogue) -> ConditionData | None:
    """The replacement that an operation's words name, among other words too; None where they name none."""
    known = catalogue.condition(text)
    if known:
        return known if known.operation else None
    words = as_written(text)
    operations = (c for c in catalogue.conditions.values() if c.operation)
    return next((c for c in operations if any(as_written(w) in words for w in (c.name, *c.aliases))), None)
