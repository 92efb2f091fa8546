"""A leeway as text for the clinician."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from textwrap import wrap

from planlang.cli.console import many
from planlang.cli.wrapping import wrapped
from planlang.planning.leeway.data import Chance, Leeway, RestNeeded, Standing
from planlang.planning.leeway.words import NOT_A_PROGNOSIS, assumed_in_words, in_words, listed, margin_in_words

INDENT = "  "
WORTH_SHOWING = 0.005  # of the distribution of easier weeks, what would be printed as 0 %


def text(leeway: Leeway, width: int) -> str:
    """Target by target, then the chances of rest with what they assume, in at most `width` columns."""
    lines = [*wrapped(leeway.plan.title, width), *wrapped(_room(leeway), width)]
    if not leeway.standings:
        lines += ["", "The plan names no target."]
    for standing, chance in zip(leeway.standings, leeway.chances, strict=True):
        lines += ["", *_target(standing, chance, leeway, width)]
    lines += ["", *_chances(leeway, width), ""]
    lines += wrap(
        "No rule ran: planlang lint checks. No verdict says that a plan is safe. Free text is not understood.", width
    )
    return "\n".join(lines) + "\n"


def _room(leeway: Leeway) -> str:
    room = f"room for {many(leeway.allowance, 'easier week')}" if leeway.allowance else "no room for an easier week"
    weeks = many(leeway.plan.weeks or 0, "week")
    if leeway.as_of is None:
        return f"{weeks}, {room}."
    taken = f"{leeway.rest_used} of {many(leeway.allowance, 'easier week')} taken"
    return f"{weeks}, {room}. By the diary, up to {day(leeway.as_of)}: {taken}, room for {leeway.rest_left} more."


def _target(standing: Standing, chance: Chance | None, leeway: Leeway, width: int) -> Iterator[str]:
    by = f", by {day(standing.by)}" if standing.by else ""
    yield from wrapped(f"{standing.target.title}{by}", width)
    if leeway.as_of and standing.earliest and standing.earliest <= leeway.as_of:
        yield from wrapped(f"Reached on {day(standing.earliest)}, by the diary.", width, INDENT)
        return
    room = leeway.allowance if leeway.as_of is None else leeway.rest_left
    said = [in_words(standing, room), _dates(standing)]
    if standing.worst_rest:
        weeks = standing.worst_rest
        said.append(f"Hardest {'week' if len(weeks) == 1 else 'weeks'} for it: {listed(weeks)}.")
    said.append(margin_in_words(standing, room))
    for sentence in said:
        yield from wrapped(sentence, width, INDENT) if sentence else ()
    if chance:
        yield from wrapped(_likely(chance), width, INDENT)


def _dates(standing: Standing) -> str:
    if standing.earliest is None:
        return ""
    if standing.latest is None:
        return f"First on {day(standing.earliest)}; with the hardest weeks not within the plan."
    if standing.latest == standing.earliest:
        return f"On {day(standing.earliest)}."
    return f"First on {day(standing.earliest)}, at the latest on {day(standing.latest)}."


def _likely(chance: Chance) -> str:
    dates = [f"{share} % by {day(when)}" for share, when in chance.met_by if when]
    missing = [f"{share} %" for share, when in chance.met_by if not when]
    if missing:
        dates.append(f"{' and '.join(missing)} not within the plan")
    return f"Chance by its date {percent(chance.by_its_date)}; {', '.join(dates)}."


def _chances(leeway: Leeway, width: int) -> Iterator[str]:
    if leeway.rest is None or leeway.assumption is None:
        yield from wrapped(f"No chances, verdicts only. {leeway.no_chances or ''}", width)
        return
    yield from wrapped(_enough(leeway.rest, leeway.allowance), width)
    shown = [f"{n}: {percent(p)}" for n, p in enumerate(leeway.rest.weeks) if p >= WORTH_SHOWING]
    yield from wrapped(f"Easier weeks and how likely they are: {', '.join(shown)}.", width)
    yield from wrapped(f"Assumed: {assumed_in_words(leeway.assumption)}", width)
    yield from wrapped(f"{NOT_A_PROGNOSIS} Not for the person's own papers.", width)


def _enough(rest: RestNeeded, room: int) -> str:
    needed = ", ".join(f"{share} % need room for {weeks}" for share, weeks in rest.needed)
    return f"Chance that room for {room} is enough: {percent(rest.enough)}; {needed}."


def day(when: date) -> str:
    """`4 Jul 2027`."""
    return f"{when.day} {when:%b %Y}"


def percent(chance: float) -> str:
    """Whole per cent; never 0 or 100 for what is neither."""
    if 0 < chance < 0.005:
        return "under 1 %"
    if 0.995 <= chance < 1 - 1e-7:
        return "over 99 %"
    return f"{chance * 100:.0f} %"
