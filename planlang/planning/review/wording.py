"""A review in words, for the clinician: each line such that the person may read it too."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from planlang.model.quantity import number_text
from planlang.planning.leeway.data import Verdict
from planlang.planning.leeway.words import in_words
from planlang.planning.review.data import Block, Change, ExerciseStands, Review, Tally, TargetStands, WeekHeld
from planlang.planning.review.next_step import Next
from planlang.planning.week import WeekKind
from planlang.planning.wording import counted

UNWATCHED = "Nobody watches this diary. Notes are shown, not understood."
REPORTED = "reported, not measured"
NOT_TOLD = "no entry"
NEXT = {Next.ON: "on", Next.STAY: "stay", Next.LOWER: "one lower"}
DEFINITION = (
    "2 points above usual for 2 days in a row, over after 5 days at usual "
    "(Parry et al 2019, Osteoarthritis Cartilage 27); used for this count only"
)


def number(value: Fraction) -> str:
    """A number as people write it."""
    return number_text(value)


def day_text(day: date, year: bool = False) -> str:
    """`4 Jul`, with the year `4 Jul 2027`."""
    return f"{day.day} {day:%b}" + (f" {day.year}" if year else "")


def through_text(review: Review) -> str:
    """`week 10 of 18, diary up to 9 May 2027`."""
    plan, week = review.past.plan, review.past.week
    where = f"week {week} of {plan.weeks}" if week <= (plan.weeks or 0) else f"after its {plan.weeks} weeks"
    return f"{where}, diary up to {day_text(review.as_of, year=True)}"


def step_text(step: int | None) -> str:
    """`step 4`; the one below the first is the easier one."""
    if step is None:
        return "not begun"
    return "the easier step" if step < 0 else f"step {step + 1}"


def tally_text(tally: Tally) -> str:
    """`2 of 3 done, 1 of them in part, 1 not done, 2 with no entry`: what is not there is not said."""
    if not tally.due:
        return f"{counted(tally.ahead, 'session')} ahead" if tally.ahead else "nothing due"
    if tally.blank == tally.due:
        return f"{tally.due} due, {NOT_TOLD}" + (f", {tally.ahead} ahead" if tally.ahead else "")
    said = [f"{tally.done} of {tally.due} done"]
    if tally.part:
        said.append(f"{tally.part} of them in part")
    if tally.not_done:
        said.append(f"{tally.not_done} not done")
    if tally.blank:
        said.append(f"{tally.blank} with {NOT_TOLD}")
    if tally.ahead:
        said.append(f"{tally.ahead} ahead")
    return ", ".join(said)


def week_text(week: WeekHeld) -> str:
    """What became of a week's sessions."""
    if week.kind is WeekKind.REST:
        return "easier week, part of the plan" + _extra(week)
    words = {WeekKind.AWAY: "away: ", WeekKind.SPARE: "keep-going week: "}.get(week.kind, "")
    said = tally_text(week.tally)
    if week.tally.not_done and week.reasons:
        said = said.replace(" not done", f" not done ({', '.join(week.reasons)})")
    return words + said + _extra(week)


def _extra(week: WeekHeld) -> str:
    return f", {week.extra} extra" if week.extra else ""


def block_text(block: Block) -> str:
    """`weeks 1 to 4: 8 of 9 sessions done, 1 easier week`."""
    weeks = f"week {block.first}" if block.first == block.last else f"weeks {block.first} to {block.last}"
    easier = f"; {counted(block.easier, 'easier week')}, part of the plan" if block.easier else ""
    return f"{weeks}: {tally_text(block.tally)}{easier}"


def rest_text(review: Review) -> str:
    """`2 of 3 easier weeks taken, room for 1 more`."""
    taken, room = review.rest_taken, review.past.plan.room
    if taken > room:
        there = f"there was room for {room}" if room else "the plan had no room for one"
        return f"{counted(taken, 'easier week')} taken, {there}: the plan needs new dates."
    if not room:
        return "No easier week taken; the plan has no room for one."
    left = review.rest_left
    return f"{taken} of {counted(room, 'easier week')} taken, " + (f"room for {left} more." if left else "all of them.")


def flare_text(review: Review) -> str:
    """Whether there is a flare now, and when the last one was."""
    now, told = review.pain.flare, review.pain.told
    if now is not None:
        return f"now: {now.title}, since {day_text(now.first)}, {counted(now.days, 'day')}"
    if not told:
        return "none now, none told"
    last = told[-1]
    return f"none now; the last from {day_text(last.first)}, {counted(last.days, 'day')}"


def counted_text(review: Review) -> str:
    """The flares that the diary's pain lines come to."""
    found = [f"from {day_text(a)}" + (f" to {day_text(b)}" if b else "") for a, b in review.pain.counted]
    many = counted(len(found), "flare") if found else "no flare"
    when = f" ({', '.join(found)})" if found else ""
    return f"By its own pain lines: {many}{when}: {DEFINITION}."


def limit_text(review: Review) -> str:
    """`usual 3/10, limit 5/10 during`."""
    known = review.pain.limit
    usual = "usual not known" if known.usual is None else f"usual {number(known.usual)}/10"
    return f"{usual}, limit {number(known.during)}/10 during"


def mornings_text(review: Review) -> str:
    """Next-morning pain of the last two weeks, oldest first."""
    told = review.pain.mornings
    if not told:
        return "no morning told in the last 2 weeks"
    values = " ".join(number(value) for _, value in told)
    return f"last 2 weeks {values}, highest {number(max(v for _, v in told))}/10"


def exercise_text(one: ExerciseStands) -> str:
    """`step 4 of 5, 3x10`."""
    if one.next.step is None:
        return "not begun"
    where = "the easier step" if one.next.step < 0 else f"step {one.next.step + 1} of {one.steps}"
    return f"{where}, {one.dose}" if one.dose else where


def change_text(one: Change) -> str:
    """`11 from 9 reps: within the measure's own error of 2.5`."""
    unit = one.unit if one.unit.startswith("/") or not one.unit else f" {one.unit}"
    if one.to is None:
        start = "" if one.start is None else f"; at the start {number(one.start)}{unit}"
        return f"not measured again{start}"
    on = f" on {day_text(one.on)}" if one.on else ""
    if one.start is None:
        return f"{number(one.to)}{unit}{on}, no value at the start"
    said = f"{number(one.to)} from {number(one.start)}{unit}{on}"
    if one.to == one.start:
        return f"{said}: no change"
    if one.error is None:
        return f"{said}: no error of this measure is known"
    error = number(one.error)
    if one.beyond:
        return f"{said}: beyond the measure's own error of {error}{_way(one)}"
    return f"{said}: within the measure's own error of {error}"


def _way(one: Change) -> str:
    if one.better == "neither" or one.start is None or one.to is None:
        return ""
    better = (one.to > one.start) == (one.better == "up")
    return ", the way that is hoped for" if better else ", the other way"


def target_text(one: TargetStands, room: int) -> str:
    """What becomes of a target, or when it was met."""
    standing = one.standing
    if one.met is not None:
        after = ", after its date" if standing.by and one.met > standing.by else ""
        return f"Met on {day_text(one.met, year=True)}{after}, by the diary."
    if standing.verdict is Verdict.ALWAYS and not room:
        return "Holds as long as no further easier week is needed: there is no room left for one."
    if standing.verdict is not Verdict.OPEN:
        return in_words(standing, room)
    said = "Not yet, as far as the diary tells."
    if one.best and standing.target.keep_days:
        week, days = one.best
        said += f" Most in a week so far: {days} of {standing.target.keep_days} days, in week {week}."
    return said


def chance_text(one: TargetStands) -> str:
    """The chance by its date and the dates by which it is met; empty where there is none, or it is met."""
    if one.chance is None or one.met is not None:
        return ""
    dates = [f"{share} % by {day_text(when)}" for share, when in one.chance.met_by if when]
    missing = [f"{share} %" for share, when in one.chance.met_by if not when]
    if missing:
        dates.append(f"{' and '.join(missing)} not within the plan")
    return f"Chance by its date {percent(one.chance.by_its_date)}; {', '.join(dates)}."


def percent(chance: float) -> str:
    """Whole per cent; never 0 or 100 for what is neither."""
    if 0 < chance < 0.005:
        return "under 1 %"
    if 0.995 <= chance < 1 - 1e-7:
        return "over 99 %"
    return f"{chance * 100:.0f} %"
