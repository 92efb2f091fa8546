"""What comes first in a review: signs, falls, what is new; the goal and the confidence in it."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from planlang.model.diary import Entry, What
from planlang.planning.open_flags import FLAGS, open_flags
from planlang.planning.past import Past
from planlang.planning.review.data import Confidence, News
from planlang.planning.review.news import last_told
from planlang.planning.weeks import review_days


def last_time(past: Past) -> date | None:
    """The last review before the day of this one; before the first the day on which the plan was written, or starts."""
    before = [day for day in review_days(past.plan) if day < past.as_of]
    return before[-1] if before else past.plan.written or past.plan.starts


def news(past: Past) -> News:
    """What came since the last time, and signs that are still open."""
    diary, since = past.diary, last_time(past)

    def came(*kinds: What) -> tuple[Entry, ...]:
        """A line of the day of the last review, or written down since, is of this time."""
        found = (e for e in diary.of(*kinds) if e.day <= past.as_of)
        return tuple(e for e in found if since is None or e.known_on >= since)

    still_open = open_flags(diary, past.as_of)
    return News(
        still_open,
        tuple(e for e in came(*FLAGS) if e not in still_open),
        came(What.FELL),
        came(What.GAVE_WAY),
        came(What.NEW),
        came(What.WORRY),
        since,
        last_told(past),
    )


def confidence(past: Past) -> Confidence:
    """Out of 10: as the plan says, and as last told."""
    goal = past.plan.goal
    told = [e for e in past.diary.of(What.CONFIDENCE) if e.day <= past.as_of and e.value and e.scale in (None, 10)]
    last = told[-1] if told else None
    then = goal.confidence if goal else None
    return Confidence(
        None if then is None else Fraction(then),
        last.value.value if last and last.value else None,
        last.day if last else None,
    )
