"""Each target from the day of the review on: its verdict and chance, and whether the diary says that it is met."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from planlang.model.diary import What
from planlang.model.plan import Measuring, Plan
from planlang.planning.leeway.data import Chance, Leeway, Standing
from planlang.planning.leeway.origin import Origin
from planlang.planning.leeway.verdicts import Verdicts
from planlang.planning.past import Past
from planlang.planning.review.attainment import level_of
from planlang.planning.review.changes import converted
from planlang.planning.review.data import Attained, Change, TargetStands


def targets_stand(past: Past, leeway: Leeway, origin: Origin) -> tuple[TargetStands, ...]:
    """Every target, in the order of the file. origin: where the plan stands by its diary."""
    known = Verdicts(past.plan, origin)
    pairs = zip(leeway.standings, leeway.chances, strict=True)
    return tuple(_stands(past, known, standing, chance) for standing, chance in pairs)


def _stands(past: Past, known: Verdicts, standing: Standing, chance: Chance | None) -> TargetStands:
    target = standing.target
    if target.keep is not None:
        return _habit(past, standing, chance)
    if target.do is not None:
        days = [e.day for e in past.diary.of(What.DID) if e.text == target.do and e.day <= past.as_of]
        return TargetStands(standing, chance, min(days, default=None))
    met = known.reached(target) if target.reach is not None else None
    if met is None and target.measured is not None:
        met = _measured(past, target.measured)
    return TargetStands(standing, chance, met)


def _habit(past: Past, standing: Standing, chance: Chance | None) -> TargetStands:
    """A habit is met in the first calendar week that holds its days: on the last day that it was told for."""
    target = standing.target
    needed, kept = target.keep_days or 1, _kept(past, target.keep or "")
    met = next((day for _, (days, day) in sorted(kept.items()) if days >= needed), None)
    best = max(kept.items(), key=lambda item: (item[1][0], -item[0]), default=None)
    return TargetStands(standing, chance, met, (best[0], best[1][0]) if best else None)


def _kept(past: Past, habit: str) -> Mapping[int, tuple[int, date]]:
    """By calendar week of the plan, the days on which a habit was kept, and the last day told. A line without a number
    of days tells of one.
    """
    first, found = past.weeks.weeks[0].starts, dict[int, tuple[int, date]]()
    for entry in past.diary.of(What.KEPT):
        week = (entry.day - first).days // 7 + 1
        if entry.text != habit or entry.day > past.as_of or not 1 <= week <= len(past.weeks.weeks):
            continue
        days = found.get(week, (0, entry.day))[0] + (1 if entry.days is None else entry.days)
        found[week] = min(days, 7), entry.day
    return found


def _measured(past: Past, aim: Measuring) -> date | None:
    """The first day on which a measure was where the target has it."""
    up = aim.to.value >= aim.start.value
    for entry in past.diary.of(What.MEASURED):
        if entry.name != aim.measure or entry.value is None or entry.day > past.as_of:
            continue
        value = converted(entry.value, aim.to.unit) if aim.to.unit else entry.value.value
        if value is not None and (value >= aim.to.value if up else value <= aim.to.value):
            return entry.day
    return None


def attained(plan: Plan, changes: tuple[Change, ...]) -> tuple[Attained, ...]:
    """The goal and the targets that have levels of their own, with the level of what was measured last."""
    known = {change.name: change for change in changes}
    found = []
    for one in (plan.goal, *plan.targets):
        if one is None or not one.score:
            continue
        change = known.get(one.measured.measure) if one.measured else None
        value = change.to if change else None
        level = None if value is None else level_of(one.score, Fraction(value))
        found.append(Attained(one.title, level, value, change.on if change else None))
    return tuple(found)
