"""What a review is: what came of the plan so far, where each exercise, measure and target stands, what is next."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from attrs import field

from planlang.model.diary import Entry
from planlang.planning.leeway.data import Chance, Leeway, Standing
from planlang.planning.past import Outcome, Past
from planlang.planning.review.news import FlareTime
from planlang.planning.review.next_step import ExerciseNext
from planlang.planning.review.pain import Limit
from planlang.planning.week import WeekKind
from planlang.text.data import frozen
from planlang.text.finding import Finding


@frozen
class Tally:
    """Sessions counted by what became of them. Those in part are counted among those done; `ahead` are not due yet."""

    done: int = 0
    part: int = 0
    not_done: int = 0
    blank: int = 0
    ahead: int = 0

    @property
    def due(self) -> int:
        """How many were due: in easier weeks none are."""
        return self.done + self.not_done + self.blank


@frozen
class WeekHeld:
    """One calendar week that has begun. reasons: those written beside what was not done. extra: beside the plan.

    outcomes: of its sessions, in order. minutes: of the sessions done, as planned; load: effort out of 10 x minutes,
    summed over the sessions whose effort is told, `rated` of them; None where it is told of none.
    """

    number: int
    starts: date
    kind: WeekKind
    tally: Tally
    outcomes: tuple[Outcome, ...] = ()
    reasons: tuple[str, ...] = ()
    extra: int = 0
    minutes: int = 0
    load: Fraction | None = None
    rated: int = 0


@frozen
class Block:
    """Weeks from one review to the next, as far as they have begun, with their sessions and easier weeks."""

    first: int
    last: int
    tally: Tally
    easier: int


@frozen
class News:
    """What comes before everything else: signs nobody has answered, falls, giving way, new medicines and operations.

    since: the last review, or the day the plan was written; the lists hold what came after it. open: whenever it came.
    answered: signs that somebody wrote an answer to. last_entry: the last day of which something is told.
    """

    open: tuple[Entry, ...]
    answered: tuple[Entry, ...]
    falls: tuple[Entry, ...]
    gave_way: tuple[Entry, ...]
    new: tuple[Entry, ...]
    worries: tuple[Entry, ...]
    since: date | None
    last_entry: date | None

    @property
    def any(self) -> bool:
        """Whether there is anything to be said first."""
        return bool(self.open or self.answered or self.falls or self.gave_way or self.new)


@frozen
class Confidence:
    """Out of 10: as the plan says, and as last told, with its day."""

    then: Fraction | None
    now: Fraction | None
    on: date | None


@frozen
class Pain:
    """Next-morning pain of the last two weeks (the morning, out of 10), and pain of all days told, against the limit.

    days: every morning and day of the plan so far, for the picture. told: the flares as the diary has them. counted:
    those that its own pain lines come to, by a published definition.
    """

    limit: Limit
    mornings: tuple[tuple[date, Fraction], ...]
    days: tuple[tuple[date, Fraction], ...]
    told: tuple[FlareTime, ...]
    counted: tuple[tuple[date, date | None], ...]

    @property
    def flare(self) -> FlareTime | None:
        """The flare that goes on; None where none does."""
        return next((one for one in reversed(self.told) if not one.over), None)


@frozen
class ExerciseStands:
    """Where an exercise stands. steps: how many it has. dose: of its step now; ahead: of its next week's.

    weeks: by calendar week the step (an index; -1 the easier step), None where it is not done or only gently.
    """

    next: ExerciseNext
    steps: int
    dose: str | None
    ahead: str | None
    weeks: tuple[int | None, ...]


@frozen
class Change:
    """A measure against its baseline. start, to: as written, None where it was not measured (again).

    error: the smallest change of one person beyond measuring error, with its source; None where none is known.
    beyond: whether the change is; None where that can't be told. course: every value from the baseline on.
    """

    name: str
    title: str
    unit: str
    start: Fraction | None
    to: Fraction | None
    on: date | None
    error: Fraction | None = None
    source: str | None = None
    better: str = "neither"
    beyond: bool | None = None
    private: bool = False
    course: tuple[tuple[date, Fraction], ...] = ()


@frozen
class TargetStands:
    """A target from the day of the review on. met: the day on which the diary says that it was.

    best: of a habit, (the week that held most days so far, how many).
    """

    standing: Standing
    chance: Chance | None
    met: date | None = None
    best: tuple[int, int] | None = None


@frozen
class Attained:
    """A goal or target with levels of its own: which one is reached (-2 to 2), None where nothing is measured yet."""

    title: str
    level: int | None
    value: Fraction | None = None
    on: date | None = None


@frozen
class Ran:
    """The rules about diaries: how many ran, which were not judged and why none of them can, which are off."""

    rules: int = 0
    not_judged: tuple[str, ...] = ()
    off: tuple[str, ...] = ()


@frozen
class Review:
    """All of it, at the end of day `as_of`.

    weeks: those that have begun. sessions: by name, in the order of the file. t_score: of the goals whose level is
    known; None where none is. ask: two questions. decide: the one decision that is due. next_date: what is next, and
    when; None where nothing is. proposal: the next block as plan text; None where the plan has no start or length.
    """

    past: Past = field(repr=False)
    news: News
    confidence: Confidence
    weeks: tuple[WeekHeld, ...]
    sessions: tuple[tuple[str, Tally], ...]
    blocks: tuple[Block, ...]
    tally: Tally
    pain: Pain
    exercises: tuple[ExerciseStands, ...]
    changes: tuple[Change, ...]
    targets: tuple[TargetStands, ...]
    attained: tuple[Attained, ...]
    t_score: float | None
    leeway: Leeway = field(repr=False)
    ask: tuple[str, ...]
    decide: str
    next_date: tuple[date, str] | None
    findings: tuple[Finding, ...] = ()
    ran: Ran = Ran()
    proposal: str | None = field(default=None, repr=False)

    @property
    def as_of(self) -> date:
        """The day through which the diary was read."""
        return self.past.as_of

    @property
    def rest_taken(self) -> int:
        """Easier weeks taken so far."""
        return len(self.past.rest)

    @property
    def rest_left(self) -> int:
        """The room that is left for them, never below 0."""
        return max(self.past.plan.room - self.rest_taken, 0)
