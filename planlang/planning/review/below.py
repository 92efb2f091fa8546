"""What stands below the first screen of a review: everything in full, part by part."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.planning.leeway.words import NOT_A_PROGNOSIS, assumed_in_words
from planlang.planning.review import wording as words
from planlang.planning.review.data import ExerciseStands, Review
from planlang.planning.wording import counted

WEEKS = 4
Part = tuple[str, tuple[str, ...]]
"""A heading, and its lines."""


def parts(review: Review) -> tuple[Part, ...]:
    """Every part that has something to say."""
    found = (
        (f"Sessions done ({words.REPORTED})", tuple(session_lines(review))),
        ("Easier weeks and flares", tuple(rest_lines(review))),
        ("Exercises, step by step", tuple(exercise_lines(review))),
        ("Measures against the start", tuple(f"{one.title}: {words.change_text(one)}" for one in review.changes)),
        ("Targets from here on", tuple(target_lines(review))),
        ("Goals on their own scale", tuple(score_lines(review))),
        (f"What the last {WEEKS} weeks asked", tuple(load_lines(review))),
    )
    return tuple((title, lines) for title, lines in found if lines)


def session_lines(review: Review) -> Iterator[str]:
    """By session, then from one review to the next: never one number for all."""
    for name, tally in review.sessions:
        yield f'"{name}": {words.tally_text(tally)}'
    for block in review.blocks:
        yield words.block_text(block)
    if review.tally.blank:
        yield "No entry is not the same as not done. In easier weeks nothing is due."


def rest_lines(review: Review) -> Iterator[str]:
    """Easier weeks taken and the room left; flares as told, and by the diary's own pain lines."""
    yield words.rest_text(review)
    for one in review.pain.told:
        end = "over" if one.over else "not over yet"
        yield f"{one.title}, told: from {words.day_text(one.first)}, {counted(one.days, 'day')}, {end}"
    if review.pain.days:
        yield words.counted_text(review)


def exercise_lines(review: Review) -> Iterator[str]:
    """Where each stands, and what is next as the plan is reckoned."""
    for one in review.exercises:
        said = f"{one.next.name}: {words.exercise_text(one)}; {ahead_text(one)}"
        if one.next.ask:
            said += f'. Its own condition, to be asked: "{one.next.ask}"'
        yield said


def ahead_text(one: ExerciseStands) -> str:
    """`next week step 5, 3x10 at 2 kg`."""
    if one.next.ahead is None:
        return "nothing more of it in this plan"
    dose = f", {one.ahead}" if one.ahead else ""
    return f"as the plan goes, next {words.step_text(one.next.ahead)}{dose}"


def target_lines(review: Review) -> Iterator[str]:
    """Each target, then what chances rest on."""
    for one in review.targets:
        target, by = one.standing.target, one.standing.by
        when = f", by {words.day_text(by, year=True)}" if by else ""
        said = f"{target.title}{when}: {words.target_text(one, review.rest_left)}"
        yield f"{said} {words.chance_text(one)}".rstrip()
    yield from assumed_lines(review)


def assumed_lines(review: Review) -> Iterator[str]:
    """What chances rest on, wherever one is shown; or why there are none."""
    if any(words.chance_text(one) for one in review.targets) and review.leeway.assumption:
        assumed = assumed_in_words(review.leeway.assumption)
        yield f"Assumed: {assumed} {NOT_A_PROGNOSIS} Not for the person's own papers."
    elif review.leeway.no_chances and any(one.met is None for one in review.targets):
        yield f"No chances, verdicts only: {review.leeway.no_chances}"


def score_lines(review: Review) -> Iterator[str]:
    """The levels reached, and the T score of those that are known."""
    for one in review.attained:
        if one.level is None or one.value is None:
            yield f"{one.title}: nothing measured yet"
        else:
            on = f" on {words.day_text(one.on)}" if one.on else ""
            yield f"{one.title}: {words.number(one.value)}{on}, level {one.level:+d}"
    if review.t_score is not None:
        known = sum(one.level is not None for one in review.attained)
        yield (
            f"Goal attainment T {review.t_score:.1f}, from {known} of {len(review.attained)}; 50 is all as expected "
            "(Kiresuk and Sherman 1968). For the clinician only."
        )


def load_lines(review: Review) -> Iterator[str]:
    """Minutes of the sessions done, as planned, and the load where an effort is told."""
    for week in review.weeks[-WEEKS:]:
        said = f"week {week.number}: {week.minutes} min in sessions done"
        if week.load is not None:
            said += f", load {words.number(week.load)} (effort x minutes, of {week.rated} with an effort told)"
        yield said
