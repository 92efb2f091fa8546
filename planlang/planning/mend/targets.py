"""What makes a target hold: a later date, an earlier step, more weeks; or what asks more of the person."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from typing import Any

from attrs import evolve

from planlang.model.dose import Dose
from planlang.model.plan import Plan, Target, When
from planlang.model.quantity import number_text
from planlang.model.reading import read_plan
from planlang.model.show import dose_text
from planlang.planning.ladder import pace_weeks
from planlang.planning.leeway.data import Standing, Verdict
from planlang.planning.leeway.verdicts import Verdicts
from planlang.planning.mend.edits import Edit, Edits, applied, replaced
from planlang.planning.mend.grain import AMOUNT, larger
from planlang.planning.reach import aim
from planlang.planning.weeks import LONGEST_PLAN
from planlang.planning.wording import counted
from planlang.text.data import frozen
from planlang.text.source import Source

MORE_WEEKS = 52  # how much longer a plan is tried; what a year more doesn't settle, length doesn't
DATE = r"^\S+\s+(\S.*?)\s*$"
DOSE = r"^\S+\s+(\S.*?)\s+in\s+\S+\s*$"
LASTS = r"(\d+)\s+weeks?\b"
EVERY = r"every\s+(\d+\s+weeks?|week)\b"


@frozen
class Candidate:
    """A change that makes a target always met, as far as the ladders say; the lint has still to agree."""

    kind: str
    harder: bool
    edits: Edits


@frozen
class Search:
    """One target of a plan, by its place among the targets."""

    plan: Plan
    place: int

    @property
    def target(self) -> Target:
        """The target as it is written."""
        return self.plan.targets[self.place]

    def always(self, plan: Plan) -> bool:
        """True where the target of a changed plan is always met."""
        return self.standing(plan).verdict is Verdict.ALWAYS

    def standing(self, plan: Plan) -> Standing:
        """The verdict on it in a changed plan."""
        return Verdicts(plan).of(plan.targets[self.place])

    def read(self, edits: Edits) -> Plan | None:
        """The changed plan; None where the change made another plan of it."""
        source = self.plan.source
        plan, _ = read_plan(Source(source.name, applied(source.text, edits)), self.plan.catalogue)
        return plan if plan is not None and len(plan.targets) == len(self.plan.targets) else None

    def holds(self, edits: Edits) -> bool:
        """True where the changed text says a plan in which the target is always met."""
        plan = self.read(edits)
        return plan is not None and self.always(plan)

    def first(self, changes: Iterator[Edit | None]) -> Edits | None:
        """The first change that makes it hold, smallest first."""
        for edit in changes:
            if edit is not None and self.holds((edit,)):
                return (edit,)
        return None


def candidates(plan: Plan, place: int, harder: bool) -> Iterator[Candidate]:
    """The smallest change of each kind, in the order in which they are shown."""
    search = Search(plan, place)
    kinds: list[tuple[str, bool, Callable[[Search], Edits | None]]] = [
        ("later date", False, later_date),
        ("earlier step", False, earlier_step),
        ("more weeks", False, more_weeks),
    ]
    if harder:
        kinds += [
            ("quicker progression", True, quicker),
            ("less easing", True, less_easing),
            ("less room", True, less_room),
        ]
    for kind, asks_more, find in kinds:
        edits = find(search)
        if edits is not None and search.holds(edits):
            yield Candidate(kind, asks_more, edits)


def later_date(search: Search) -> Edits | None:
    """The first date by which every placement has met it, with as many more weeks as that needs."""
    plan = search.plan
    if plan.weeks is None or plan.starts is None:
        return None
    for weeks in _longer(plan, lambda n: _latest(search, n) is not None):
        latest = _latest(search, weeks)
        if latest is None:
            continue
        by = search.target.by
        in_weeks = by is not None and by.week is not None
        words = f"week {(latest - plan.starts).days // 7 + 1}" if in_weeks else latest.isoformat()
        dated = replaced(plan.source, search.target.places.get("by_when"), DATE, words)
        return _all([dated] if weeks == plan.weeks else [_lasting(plan, weeks), dated])
    return None


def _latest(search: Search, weeks: int) -> date | None:
    """The latest date of any placement in a plan of so many weeks; None where some placement has none."""
    plan = search.plan
    longer = evolve(plan, weeks=weeks, targets=_with(plan, search.place, by=When(week=weeks)))
    return search.standing(longer).latest if search.always(longer) else None


def earlier_step(search: Search) -> Edits | None:
    """The highest step below the target's that is always reached by its date."""
    plan, target = search.plan, search.target
    exercise = plan.exercise(target.reach_in or "")
    if exercise is None or target.reach is None:
        return None
    at = aim(exercise, target.reach, plan.today).step
    for step in range((len(exercise.steps) if at is None else at) - 1, -1, -1):
        for dose in _reachable(exercise.steps[step].dose):
            if aim(exercise, dose, plan.today).step != step:
                continue
            if search.always(evolve(plan, targets=_with(plan, search.place, reach=dose))):
                words = dose_text(dose) + (f' "{dose.variant}"' if dose.variant else "")
                return _all([replaced(plan.source, target.places.get("reach"), DOSE, words)])
            break
    return None


def _reachable(dose: Dose) -> Iterator[Dose]:
    """A step's dose as a target may name it: without its words, else with them."""
    if dose.to_be_set:
        return
    plain = evolve(
        dose, effort=None, heart_rate=None, easy=None, easy_heart_rate=None, reserve=None, tempo=None, rest=None
    )
    yield evolve(plain, variant=None)
    if plain.variant:
        yield plain


def more_weeks(search: Search) -> Edits | None:
    """The fewest more weeks with which it is met by the date that it has."""
    plan = search.plan
    if plan.weeks is None:
        return None
    for weeks in _longer(plan, lambda n: search.always(evolve(plan, weeks=n))):
        if weeks > plan.weeks and search.always(evolve(plan, weeks=weeks)):
            return _all([_lasting(plan, weeks)])
    return None


def quicker(search: Search) -> Edits | None:
    """The slowest pace, or the smallest rise, above the plan's own that makes it hold."""
    plan = search.plan
    exercise = plan.exercise(search.target.reach_in or "")
    if exercise is None:
        return None
    place = next((exercise.places[n] for n in ("progress", "progress_deed", "rise") if n in exercise.places), None)
    paces = range((pace_weeks(exercise) or 1) - 1, 0, -1)
    texts = (counted(weeks, "week") if weeks > 1 else "week" for weeks in paces)
    found = search.first(replaced(plan.source, place, EVERY, text) for text in texts)
    if found is None and exercise.rise is not None:
        amounts = larger(exercise.rise.amount)
        found = search.first(replaced(plan.source, place, AMOUNT, number_text(value)) for value in amounts)
    return found


def less_easing(search: Search) -> Edits | None:
    """The return line that eases least less than the plan's own."""
    plan = search.plan
    for line in plan.rest.returns if plan.rest else ():
        smaller = sorted(
            ((b, e) for b in range(line.lower + 1) for e in range(line.weeks + 1) if (b, e) < (line.lower, line.weeks)),
            key=lambda other: (line.lower - other[0] + line.weeks - other[1], -other[0]),
        )
        changes = (
            replaced(plan.source, line.span, r"return\s+(\d+\s+steps?\s+lower\s+for\s+\d+\s+weeks?)", _return(b, e))
            for b, e in smaller
            if (b and e) or (not b and not e)
        )
        found = search.first(changes)
        if found:
            return found
    return None


def _return(lower: int, weeks: int) -> str:
    return f"{counted(lower, 'step')} lower for {counted(weeks, 'week')}" if weeks else "at the same step"


def less_room(search: Search) -> Edits | None:
    """The largest room, below the plan's own, with which it is always met."""
    plan = search.plan
    place = plan.rest.places.get("room") if plan.rest else None
    return search.first(
        replaced(plan.source, place, r"for\s+(\d+\s+weeks?)", counted(room, "week"))
        for room in range(plan.room - 1, -1, -1)
    )


def _longer(plan: Plan, settles: Callable[[int], bool]) -> range:
    """The lengths to try, the plan's own first; none where the longest doesn't settle it either."""
    weeks = plan.weeks or 0
    longest = min(weeks + MORE_WEEKS, LONGEST_PLAN)
    return range(weeks, longest + 1) if settles(longest) else range(0)


def _lasting(plan: Plan, weeks: int) -> Edit | None:
    return replaced(plan.source, plan.places.get("lasts"), LASTS, str(weeks))


def _all(edits: list[Edit | None]) -> Edits | None:
    """All of the changes; None where one can't be written."""
    kept = tuple(edit for edit in edits if edit is not None)
    return kept if len(kept) == len(edits) else None


def _with(plan: Plan, place: int, **parts: Any) -> tuple[Target, ...]:
    return tuple(evolve(t, **parts) if i == place else t for i, t in enumerate(plan.targets))
