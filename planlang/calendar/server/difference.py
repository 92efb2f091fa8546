"""What a server has to be told so that it holds a plan's calendar: reckoned from what stands there, before any writing.

Nothing that a person changed is overwritten, nothing that is over is touched, and nothing that says the same is
written again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, date, datetime
from enum import StrEnum

from planlang.calendar.entry import Entry
from planlang.calendar.server.resource import Kept, Wanted
from planlang.text.data import frozen


class Doing(StrEnum):
    """What is done about one entry."""

    WRITE = "write"
    CHANGE = "change"
    CANCEL = "cancel"
    REMOVE = "remove"


@frozen
class Step:
    """One writing: `wanted` is None where something is removed, `kept` where nothing stands there yet."""

    doing: Doing
    wanted: Wanted | None
    kept: Kept | None

    @property
    def entry(self) -> Entry | None:
        """What it is about."""
        return self.wanted.entry if self.wanted else self.kept.entry if self.kept else None


@frozen
class Touched:
    """An entry that somebody else has changed and that is left so. `news`: the plan now says something else."""

    kept: Kept
    news: bool


@frozen
class Difference:
    """What to do, by date; what is left alone and why.

    `same`: entries that say what they should; `past`: those that are over. `clashes`: events with this plan's
    sequence number, or a higher one, that say something else: the plan was changed and its revision was not.
    `others`: how many entries of another plan of the same person stand in this one's weeks.
    """

    steps: tuple[Step, ...]
    touched: tuple[Touched, ...]
    same: int
    past: int
    clashes: tuple[Kept, ...]
    others: int = 0


def difference(
    wanted: Sequence[Wanted],
    there: Iterable[Kept],
    calendar: str,
    cancelling: Callable[[Entry, int], Wanted],
    today: date | None,
) -> Difference:
    """The difference between a calendar and what stands on the server.

    `calendar` is the plan's mark; `cancelling` calls an entry of a sequence number off, ready to be sent; what
    ended before `today` is over, and without it nothing is.
    """
    ours = {one.entry.uid: one for one in wanted}
    steps: list[Step] = []
    touched: list[Touched] = []
    clashes: list[Kept] = []
    same = past = 0
    found: set[str] = set()
    others = 0
    first = min((one.entry.first_day for one in wanted), default=date.max)
    last = max((one.entry.last_day for one in wanted), default=date.min)
    for kept in there:
        others += kept.calendar not in (None, calendar) and _beside(kept.entry, first, last)
        new = ours.get(kept.uid)
        if kept.uid in found or (new is None and kept.calendar != calendar):
            continue
        found.add(kept.uid)
        if new is not None and kept.digest == new.digest:
            same += 1
        elif _over(kept.entry, today) and (new is None or _over(new.entry, today)):
            past += 1
        elif kept.touched or kept.entry is None:
            touched.append(Touched(kept, news=new is None or new.digest != kept.written))
        elif new is not None:
            if kept.sequence >= new.sequence:
                clashes.append(kept)
            steps.append(Step(Doing.CHANGE, new, kept))
        elif kept.entry.cancelled and not _replaced(kept.entry, wanted):
            same += 1
        else:
            gone = cancelling(kept.entry, kept.sequence)
            if kept.sequence >= gone.sequence and not kept.entry.cancelled:
                clashes.append(kept)
            steps.append(
                Step(Doing.REMOVE, None, kept) if _replaced(kept.entry, wanted) else Step(Doing.CANCEL, gone, kept)
            )
    steps += [Step(Doing.WRITE, one, None) for one in wanted if one.entry.uid not in found]
    return Difference(tuple(sorted(steps, key=_by_date)), tuple(touched), same, past, tuple(clashes), others)


def _beside(entry: Entry | None, first: date, last: date) -> bool:
    """True where an entry stands in the weeks of a plan that is not its own."""
    return entry is not None and not entry.cancelled and first <= entry.last_day and entry.first_day <= last


def _over(entry: Entry | None, today: date | None) -> bool:
    return today is not None and entry is not None and entry.last_day < today


def _replaced(entry: Entry, wanted: Iterable[Wanted]) -> bool:
    """True where another entry of the plan now stands at the same time: to call the old one off there would mislead."""
    return any(_instead(one.entry, entry) for one in wanted)


def _instead(new: Entry, old: Entry) -> bool:
    if new.cancelled or new.all_day is not old.all_day:
        return False
    if new.all_day:  # other days of the same week are not its place
        return (new.starts, new.ends) == (old.starts, old.ends)
    return _point(new.starts) < _point(old.ends) and _point(old.starts) < _point(new.ends)


def _point(when: date) -> date:
    return when.astimezone(UTC) if isinstance(when, datetime) else when


def _by_date(step: Step) -> tuple[date, str]:
    entry = step.entry
    return (entry.first_day, entry.uid) if entry else (date.min, step.kept.uid if step.kept else "")
